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
/** A stated unit is not overruled, but a rate below this is mentioned. */
const suspiciouslySlowMHz = 0.1;
/** Stated and found sampling rate may differ by this share: rounded stamps and rounded statements. */
const rateAgreement = 1e-3;

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
  if (verdict.worstSteps <= evenWithinSteps) return axis;
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
    stepUs: numberStep / rate,
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
  return {
    startUs,
    stepUs,
    timeUnit: null,
    axisVelocityMPerS: null,
    asks: [],
    warnings: [...warnings, ...rateDoubts(context, stepUs)],
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
  return { ...scaled(verdict, factor), timeUnit: null, axisVelocityMPerS: velocity, asks, warnings };
}

function fromTime(context: Context, axis: AxisColumn, verdict: UniformVerdict): TimeAxis {
  const { file } = context;
  const unit = axis.timeUnit;
  if (unit !== null) {
    const { startUs, stepUs } = scaled(verdict, microseconds[unit]);
    const warnings = rateDoubts(context, stepUs);
    return { startUs, stepUs, timeUnit: unit, axisVelocityMPerS: null, asks: [], warnings };
  }
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
      : ` Of s, ms, µs and ns only ${only === 'us' ? 'µs' : only} gives a plausible sampling rate (${inMegahertz(1 / scaled(verdict, microseconds[only]).stepUs)}), so it was taken in this description.`;
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

/** A stated sampling rate that the stamps contradict, or stamps that give no rate a waveform has. */
function rateDoubts(context: Context, stepUs: number): Problem[] {
  const { file } = context;
  const stated = statedRate(context);
  const found = 1 / stepUs;
  if (stated !== null && !agrees(stepUs, stated)) {
    const power = [1e-9, 1e-6, 1e-3, 1e3, 1e6, 1e9].find(
      (factor) => Math.abs((found * factor) / stated - 1) <= rateAgreement,
    );
    const hint = power === undefined ? '' : ' The time column reads as if its unit were another.';
    return [
      problem(
        'sampling-rate-contradicts',
        { file },
        `The stated sampling rate is ${inMegahertz(stated)}, but the time column gives ${inMegahertz(found)}; the time column was taken.${hint} Find out which is right.`,
      ),
    ];
  }
  if (found < suspiciouslySlowMHz || found > fastestMHz) {
    return [
      problem(
        'implausible-sampling-rate',
        { file },
        `The time column gives a sampling rate of ${inMegahertz(found)}, which no waveform of this kind has. Check the unit of time.`,
      ),
    ];
  }
  return [];
}

function inMegahertz(rate: number): string {
  return `${Number(rate.toPrecision(6))} MHz`;
}

function inMicroseconds(time: number): string {
  return `${Number(time.toPrecision(6))} µs`;
}
