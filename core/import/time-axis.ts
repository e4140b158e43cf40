import { type AxisVerdict, evenWithinSteps } from '../capture/uniform-axis.ts';
import { uniformStep } from '../capture/uniform-step.ts';
import { type Problem, problem } from '../outcome.ts';
import { short } from './axis-problem.ts';
import type { AxisColumn, ColumnPlan } from './columns.ts';
import type { Facts } from './facts.ts';
import type { ImportRecipe, TimeUnit } from './import-recipe.ts';
import { microseconds, millimetres } from './unit-words.ts';

/** Start and step of a capture in µs, `null` where they are not known; what a person must say first, and what is doubtful. */
export interface TimeAxis {
  readonly startUs: number | null;
  readonly stepUs: number | null;
  readonly timeUnit: TimeUnit | null;
  readonly axisVelocityMPerS: number | null;
  readonly asks: readonly Problem[];
  readonly warnings: readonly Problem[];
}

type UniformVerdict = Extract<AxisVerdict, { kind: 'uniform' }>;

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

interface Context {
  readonly file: string;
  readonly facts: Facts;
  readonly recipe: ImportRecipe;
  readonly plan: ColumnPlan;
}

/** `verdict` is `null` where the file has no axis column. */
export function timeAxisOf(context: Context, verdict: UniformVerdict | null): TimeAxis {
  const { plan, file } = context;
  if (plan.axis === null || verdict === null) return fromSamplingRate(context, 0, 1);
  const axis = axisByKind(context, plan.axis, verdict);
  if (verdict.worstSteps <= evenWithinSteps || axis.stepUs === null) return axis;
  const coarse = problem(
    'coarse-axis',
    { file },
    `‘${plan.axis.name}’ is written with few digits (values stand up to ${short(verdict.worstSteps)} steps off); the step was taken from its first and last value.`,
  );
  return { ...axis, warnings: [...axis.warnings, coarse] };
}

function axisByKind(context: Context, axis: AxisColumn, verdict: UniformVerdict): TimeAxis {
  if (axis.kind === 'sample') return fromSampleNumbers(context, verdict);
  if (axis.kind === 'distance') return fromDistance(context, axis, verdict);
  return fromTime(context, axis, verdict);
}

const nothingKnown = { startUs: null, stepUs: null, timeUnit: null, axisVelocityMPerS: null, warnings: [] };

function statedRate({ facts, recipe }: Context): number | null {
  return recipe.sampleRateMHz ?? facts.sampleRateMHz;
}

function fromSamplingRate(context: Context, firstNumber: number, numberStep: number): TimeAxis {
  const { file, facts, recipe } = context;
  const rate = statedRate(context);
  if (rate === null) {
    return {
      ...nothingKnown,
      asks: [
        problem(
          'sampling-rate-not-stated',
          { file },
          'The file has no time column and does not state its sampling rate. State it (--sample-rate 100MHz).',
        ),
      ],
    };
  }
  const warnings: Problem[] = [];
  const stepUs = numberStep / rate;
  if (recipe.sampleRateMHz === null && !isBelievable(1 / stepUs)) {
    const sentence = `The file states a sampling rate of ${inMegahertz(1 / stepUs)}, which no waveform of this kind has. State it (--sample-rate 100MHz).`;
    return { ...nothingKnown, asks: [problem('sampling-rate-implausible', { file }, sentence)] };
  }
  const start = recipe.startUs ?? facts.startUs;
  if (start === null)
    warnings.push(
      problem(
        'start-assumed',
        { file },
        'The file does not say when its first sample was taken; time 0 was taken for it.',
      ),
    );
  if (firstNumber !== 0 && firstNumber !== 1) {
    warnings.push(
      problem(
        'first-sample-number',
        { file },
        `The first row is sample ${firstNumber}; it was taken to stand at the start all the same.`,
      ),
    );
  }
  return {
    startUs: start ?? 0,
    stepUs,
    timeUnit: null,
    axisVelocityMPerS: null,
    asks: [],
    warnings,
  };
}

function fromSampleNumbers(context: Context, verdict: UniformVerdict): TimeAxis {
  const { file, plan } = context;
  const numberStep = uniformStep(verdict.first, verdict.last, verdict.count, 1);
  const header = plan.startAndIncrement;
  if (header === null) return fromSamplingRate(context, verdict.first, numberStep);
  const warnings = [
    problem(
      'increment-in-seconds',
      { file },
      `Start (${header.startS}) and increment (${header.incrementS}) of the header were taken in seconds.`,
    ),
  ];
  if (verdict.first !== 0) {
    warnings.push(
      problem(
        'first-sample-number',
        { file },
        `The first row is sample ${verdict.first}: its time was taken as start + ${verdict.first} increments. If the start is that of the first row, all times are ${inMicroseconds(verdict.first * header.incrementS * 1e6)} too late.`,
      ),
    );
  }
  const startUs = rounded((header.startS + verdict.first * header.incrementS) * 1e6);
  const stepUs = rounded(numberStep * header.incrementS * 1e6);
  const doubts = rateDoubts(context, stepUs, null);
  if (doubts.asks.length > 0) return { ...nothingKnown, asks: doubts.asks };
  return {
    startUs,
    stepUs,
    timeUnit: null,
    axisVelocityMPerS: null,
    asks: [],
    warnings: [...warnings, ...doubts.warnings],
  };
}

/** Distances are one-way: time = 2 · distance / velocity. */
function fromDistance(context: Context, axis: AxisColumn, verdict: UniformVerdict): TimeAxis {
  const { file, facts, recipe } = context;
  const velocity = recipe.axisVelocityMPerS ?? facts.axisVelocityMPerS;
  const asks: Problem[] = [];
  if (axis.distanceUnit === null) {
    asks.push(
      problem(
        'distance-unit-not-stated',
        { file },
        `The file does not say the unit of its distance column ‘${axis.name}’. State it.`,
      ),
    );
  }
  if (velocity === null) {
    asks.push(
      problem(
        'axis-velocity-not-stated',
        { file },
        `The axis ‘${axis.name}’ is a distance, and the velocity it was drawn with is not stated. State it (--axis-velocity 5920).`,
      ),
    );
  }
  if (axis.distanceUnit === null || velocity === null) return { ...nothingKnown, asks };
  const warnings: Problem[] = [];
  if (recipe.axisVelocityMPerS === null) {
    warnings.push(
      problem(
        'axis-velocity-from-file',
        { file },
        `The distance axis was turned into time with ${velocity} m/s, from the file.`,
      ),
    );
  }
  const factor = (2 * millimetres[axis.distanceUnit] * 1000) / velocity;
  const { startUs, stepUs } = scaled(verdict, factor);
  const doubts = rateDoubts(context, stepUs, recipe.distanceUnit === null ? 'distance' : 'stated');
  if (doubts.asks.length > 0) return { ...nothingKnown, asks: doubts.asks };
  const found = { startUs, stepUs, timeUnit: null, axisVelocityMPerS: velocity };
  return { ...found, asks: [], warnings: [...warnings, ...doubts.warnings] };
}

function fromStatedUnit(context: Context, unit: TimeUnit, verdict: UniformVerdict): TimeAxis {
  const { file, plan, recipe } = context;
  const { startUs, stepUs } = scaled(verdict, microseconds[unit]);
  const told = recipe.sampleRateMHz;
  if (told !== null && recipe.timeUnit === null && !agrees(stepUs, told)) {
    const sentence = `‘${plan.axis?.name}’ gives a sampling rate of ${inMegahertz(1 / stepUs)}; ${inMegahertz(told)} was taken from its first value on, as told.`;
    const warnings = [problem('sampling-rate-overridden', { file }, sentence)];
    return { startUs, stepUs: 1 / told, timeUnit: unit, axisVelocityMPerS: null, asks: [], warnings };
  }
  const doubts = rateDoubts(context, stepUs, recipe.timeUnit === null ? 'time' : 'stated');
  if (doubts.asks.length > 0) return { ...nothingKnown, asks: doubts.asks };
  return { startUs, stepUs, timeUnit: unit, axisVelocityMPerS: null, ...doubts };
}

function fromTime(context: Context, axis: AxisColumn, verdict: UniformVerdict): TimeAxis {
  const { file } = context;
  const unit = axis.timeUnit;
  if (unit !== null) return fromStatedUnit(context, unit, verdict);
  const stated = statedRate(context);
  const agreeing =
    stated === null
      ? []
      : timeUnits.filter((candidate) => agrees(scaled(verdict, microseconds[candidate]).stepUs, stated));
  if (stated !== null && agreeing.length === 1) {
    const warning = problem(
      'time-unit-from-rate',
      { file },
      `The unit of ‘${axis.name}’ is not stated; ${agreeing[0]} was taken, since it agrees with the stated sampling rate of ${stated} MHz.`,
    );
    return {
      ...scaled(verdict, microseconds[agreeing[0]]),
      timeUnit: agreeing[0],
      axisVelocityMPerS: null,
      asks: [],
      warnings: [warning],
    };
  }
  const plausible = timeUnits.filter((candidate) => isPlausible(1 / scaled(verdict, microseconds[candidate]).stepUs));
  const only = plausible.length === 1 ? plausible[0] : null;
  const taken =
    only === null
      ? ''
      : ` Of s, ms, µs and ns only ${shownUnit(only)} gives a plausible sampling rate (${inMegahertz(1 / scaled(verdict, microseconds[only]).stepUs)}), so it was taken in this description.`;
  const ask = problem(
    'time-unit-not-stated',
    { file },
    `The file does not say the unit of its axis ‘${axis.name}’.${taken} State it (--time-unit ${only ?? 'us'}, or --axis distance --axis-velocity 5920).`,
  );
  return only === null
    ? { ...nothingKnown, asks: [ask] }
    : { ...nothingKnown, ...scaled(verdict, microseconds[only]), asks: [ask] };
}

const timeUnits: readonly TimeUnit[] = ['s', 'ms', 'us', 'ns'];

function isPlausible(rateMHz: number): boolean {
  return rateMHz >= slowestMHz && rateMHz <= fastestMHz;
}

function agrees(stepUs: number, rateMHz: number): boolean {
  return Math.abs(stepUs * rateMHz - 1) <= rateAgreement;
}

function scaled(verdict: UniformVerdict, factor: number): { readonly startUs: number; readonly stepUs: number } {
  return {
    startUs: factor === 1 ? verdict.first : rounded(verdict.first * factor),
    stepUs: uniformStep(verdict.first, verdict.last, verdict.count, factor),
  };
}

/** Freed of the last bit's noise that a change of unit brings. */
function rounded(value: number): number {
  return Number(value.toPrecision(15));
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
function rateDoubts(context: Context, stepUs: number, by: 'time' | 'distance' | 'stated' | null): RateDoubts {
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
    const ask = `${sentence} State which is right${asIs === null ? '' : ` (${asIs} takes the column, --sample-rate the rate)`}.`;
    return { asks: [problem('sampling-rate-contradicts', { file }, ask)], warnings: [] };
  }
  if (found >= slowestMHz && found <= fastestUsualMHz) return { asks: [], warnings: [] };
  const rate = `${where[0].toUpperCase()}${where.slice(1)} gives a sampling rate of ${inMegahertz(found)}`;
  if (isBelievable(found) || by === 'stated' || stated !== null) {
    const sentence = `${rate}, which is unusual for an ultrasonic waveform. Check its unit.`;
    return { asks: [], warnings: [problem('unusual-sampling-rate', { file }, sentence)] };
  }
  const units = plausibleUnits(context, stepUs, by);
  const sentence = `${rate}, which no waveform of this kind has.${units} State ${asIs === null ? 'the sampling rate (--sample-rate 100MHz)' : `its unit (${asIs} takes it as it stands)`}.`;
  return { asks: [problem('implausible-sampling-rate', { file }, sentence)], warnings: [] };
}

/** What a person says to have a column taken in the unit that the file states. */
function answerThatTakes(by: 'time' | 'distance' | 'stated' | null, axis: AxisColumn | null): string | null {
  if (by === 'time') return `--time-unit ${axis?.timeUnit}`;
  return by === 'distance' ? `--distance-unit ${axis?.distanceUnit}` : null;
}

/** With which other unit, or as which distances, a column would agree with the stated rate. */
function otherReading({ plan, facts }: Context, stepUs: number, stated: number): string {
  const unit = plan.axis?.timeUnit ?? null;
  if (unit === null) return '';
  const other = timeUnits.find((candidate) => agrees((stepUs / microseconds[unit]) * microseconds[candidate], stated));
  if (other !== undefined) return ` Read in ${shownUnit(other)} they would agree.`;
  const velocity = facts.axisVelocityMPerS;
  const isPath = velocity !== null && agrees((stepUs / microseconds[unit]) * (2000 / velocity), stated);
  return isPath ? ` Read as distances in mm, drawn with ${velocity} m/s, they would agree.` : '';
}

function plausibleUnits({ plan }: Context, stepUs: number, by: 'time' | 'distance' | 'stated' | null): string {
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

function isBelievable(rateMHz: number): boolean {
  return rateMHz > slowestStatedMHz && rateMHz < fastestStatedMHz;
}

function shownUnit(unit: TimeUnit): string {
  return unit === 'us' ? 'µs' : unit;
}

function inMegahertz(rate: number): string {
  return `${Number(rate.toPrecision(6))} MHz`;
}

function inMicroseconds(time: number): string {
  return `${Number(time.toPrecision(6))} µs`;
}
