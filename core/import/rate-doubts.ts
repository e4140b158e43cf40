import { type Problem, problem } from '../outcome.ts';
import type { AxisColumn, ColumnPlan } from './columns.ts';
import type { Facts } from './facts.ts';
import type { ImportRecipe, TimeUnit } from './import-recipe.ts';
import { microseconds } from './unit-words.ts';

/** Sampling rates outside this range belong to no waveform: a unit that gives one is not taken. */
const slowestMHz = 1;
const fastestMHz = 50_000;
/**
 * A stated unit that gives a rate outside these is asked about: no waveform of this trade is sampled so, and 10 ns written under µs gives
 * the one, 0.05 µs under ns the other. Within them, slower than 1 MHz and faster than 5 GHz is mentioned.
 */
const slowestStatedMHz = 0.101;
const fastestStatedMHz = 19_900;
const fastestUsualMHz = 5000;
/** Stated and found sampling rate may differ by this share: rounded stamps and rounded statements. */
const rateAgreement = 1e-3;
/** Beyond this share the file contradicts itself, and a person must say which is right. */
const rateContradiction = 0.01;

/** What an axis is judged by. */
export interface AxisContext {
  readonly file: string;
  readonly facts: Facts;
  readonly recipe: ImportRecipe;
  readonly plan: ColumnPlan;
}

export function statedRate({ facts, recipe }: AxisContext): number | null {
  return recipe.sampleRateMHz ?? facts.sampleRateMHz;
}

export const timeUnits: readonly TimeUnit[] = ['s', 'ms', 'us', 'ns'];

export function isPlausible(rateMHz: number): boolean {
  return rateMHz >= slowestMHz && rateMHz <= fastestMHz;
}

export function agrees(stepUs: number, rateMHz: number): boolean {
  return Math.abs(stepUs * rateMHz - 1) <= rateAgreement;
}

interface RateDoubts {
  readonly asks: readonly Problem[];
  readonly warnings: readonly Problem[];
}

/**
 * A stated sampling rate that the stamps contradict, or stamps that give a rate no waveform has.
 * @param by what gives the step: a time or a distance column in the unit that the file states, or in one that a person stated, or
 *   (`null`) an increment
 */
export function rateDoubts(
  context: AxisContext,
  stepUs: number,
  by: 'time' | 'distance' | 'stated' | null,
): RateDoubts {
  const { file, plan, recipe } = context;
  const stated = statedRate(context);
  const found = 1 / stepUs;
  const where = by === null ? 'the header’s increment' : `‘${plan.axis?.name ?? ''}’`;
  const asIs = answerThatTakes(by, plan.axis);
  if (stated !== null && !agrees(stepUs, stated)) {
    const isClear = Math.abs(stepUs * stated - 1) > rateContradiction;
    const mayBeTold = by === 'stated' && recipe.sampleRateMHz === null;
    const sentence = `The stated sampling rate is ${inMegahertz(stated)}, but ${where} gives ${inMegahertz(found)}.${otherReading(context, stepUs, stated)}`;
    if (!isClear || mayBeTold) {
      const taken = `${sentence} The column was taken. Find out which is right.`;
      return { asks: [], warnings: [problem('sampling-rate-contradicts', { file }, taken)] };
    }
    const ask = `${sentence} State which is right (${asIs === null ? '--sample-rate' : `${asIs} takes the column, --sample-rate the rate`}).`;
    const code = by === null ? 'increment-contradicts' : 'sampling-rate-contradicts';
    return { asks: [problem(code, { file }, ask)], warnings: [] };
  }
  if (found >= slowestMHz && found <= fastestUsualMHz) return { asks: [], warnings: [] };
  const rate = `${where[0].toUpperCase()}${where.slice(1)} gives a sampling rate of ${inMegahertz(found)}`;
  if (isBelievable(found) || by === 'stated' || stated !== null) {
    const sentence = `${rate}, which is unusual for an ultrasonic waveform. Check its unit.`;
    return { asks: [], warnings: [problem('unusual-sampling-rate', { file }, sentence)] };
  }
  const units = plausibleUnits(context, stepUs, by);
  const sentence = `${rate}, which no waveform of this kind has.${units} State ${asIs === null ? 'the sampling rate (--sample-rate 100MHz)' : `its unit (${asIs} takes it as it stands)`}.`;
  const code = by === null ? 'implausible-increment' : 'implausible-sampling-rate';
  return { asks: [problem(code, { file }, sentence)], warnings: [] };
}

/** What a person says to have a column taken in the unit that the file states. */
function answerThatTakes(by: 'time' | 'distance' | 'stated' | null, axis: AxisColumn | null): string | null {
  if (by === 'time') return `--time-unit ${axis?.timeUnit}`;
  return by === 'distance' ? `--distance-unit ${axis?.distanceUnit}` : null;
}

/** With which other unit, or as which distances, a column would agree with the stated rate. */
function otherReading({ plan, facts }: AxisContext, stepUs: number, stated: number): string {
  const unit = plan.axis?.timeUnit ?? null;
  if (unit === null) return '';
  const other = timeUnits.find((candidate) => agrees((stepUs / microseconds[unit]) * microseconds[candidate], stated));
  if (other !== undefined) return ` Read in ${shownUnit(other)} they would agree.`;
  const velocity = facts.axisVelocityMPerS;
  const isPath = velocity !== null && agrees((stepUs / microseconds[unit]) * (2000 / velocity), stated);
  return isPath ? ` Read as distances in mm, drawn with ${velocity} m/s, they would agree.` : '';
}

function plausibleUnits({ plan }: AxisContext, stepUs: number, by: 'time' | 'distance' | 'stated' | null): string {
  const unit = plan.axis?.timeUnit ?? null;
  if (by !== 'time' || unit === null) return '';
  const rateIn = (candidate: TimeUnit) => 1 / ((stepUs / microseconds[unit]) * microseconds[candidate]);
  const others = timeUnits.filter(
    (candidate) => rateIn(candidate) >= slowestMHz && rateIn(candidate) <= fastestUsualMHz,
  );
  return others.length === 0
    ? ''
    : ` In ${others.map((candidate) => `${shownUnit(candidate)} it would be ${inMegahertz(rateIn(candidate))}`).join(', in ')}.`;
}

export function isBelievable(rateMHz: number): boolean {
  return rateMHz > slowestStatedMHz && rateMHz < fastestStatedMHz;
}

export function shownUnit(unit: TimeUnit): string {
  return unit === 'us' ? 'µs' : unit;
}

export function inMegahertz(rate: number): string {
  return `${Number(rate.toPrecision(6))} MHz`;
}
