import { type AxisVerdict, evenWithinSteps } from '../capture/uniform-axis.ts';
import { uniformStep } from '../capture/uniform-step.ts';
import { type Problem, problem } from '../outcome.ts';
import { short } from './axis-problem.ts';
import type { AxisColumn } from './columns.ts';
import type { TimeUnit } from './import-recipe.ts';
import {
  type AxisContext,
  agrees,
  inMegahertz,
  isBelievable,
  isPlausible,
  rateDoubts,
  shownUnit,
  statedRate,
  timeUnits,
} from './rate-doubts.ts';
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

/** `verdict` is `null` where the file has no axis column. */
export function timeAxisOf(context: AxisContext, verdict: UniformVerdict | null): TimeAxis {
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

function axisByKind(context: AxisContext, axis: AxisColumn, verdict: UniformVerdict): TimeAxis {
  if (axis.kind === 'sample') return fromSampleNumbers(context, verdict);
  if (axis.kind === 'distance') return fromDistance(context, axis, verdict);
  return fromTime(context, axis, verdict);
}

const nothingKnown = { startUs: null, stepUs: null, timeUnit: null, axisVelocityMPerS: null, warnings: [] };

function fromSamplingRate(context: AxisContext, firstNumber: number, numberStep: number): TimeAxis {
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

function fromSampleNumbers(context: AxisContext, verdict: UniformVerdict): TimeAxis {
  const { file, plan, recipe } = context;
  const numberStep = uniformStep(verdict.first, verdict.last, verdict.count, 1);
  const header = plan.startAndIncrement;
  if (header === null || recipe.sampleRateMHz !== null) {
    const axis = fromSamplingRate(context, verdict.first, numberStep);
    if (header === null) return axis;
    const sentence = 'Start and increment of the header were not used, since the sampling rate was told.';
    return { ...axis, warnings: [...axis.warnings, problem('sampling-rate-overridden', { file }, sentence)] };
  }
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
function fromDistance(context: AxisContext, axis: AxisColumn, verdict: UniformVerdict): TimeAxis {
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
  const told = recipe.sampleRateMHz;
  if (told !== null && recipe.distanceUnit === null && !agrees(stepUs, told)) {
    const own = [...warnings, overriddenRate(context, stepUs, told)];
    return { startUs, stepUs: 1 / told, timeUnit: null, axisVelocityMPerS: velocity, asks: [], warnings: own };
  }
  const doubts = rateDoubts(context, stepUs, recipe.distanceUnit === null ? 'distance' : 'stated');
  if (doubts.asks.length > 0) return { ...nothingKnown, asks: doubts.asks };
  const found = { startUs, stepUs, timeUnit: null, axisVelocityMPerS: velocity };
  return { ...found, asks: [], warnings: [...warnings, ...doubts.warnings] };
}

function overriddenRate({ file, plan }: AxisContext, stepUs: number, told: number): Problem {
  const sentence = `‘${plan.axis?.name}’ gives a sampling rate of ${inMegahertz(1 / stepUs)}; ${inMegahertz(told)} was taken from its first value on, as told.`;
  return problem('sampling-rate-overridden', { file }, sentence);
}

function fromStatedUnit(context: AxisContext, unit: TimeUnit, verdict: UniformVerdict): TimeAxis {
  const { recipe } = context;
  const { startUs, stepUs } = scaled(verdict, microseconds[unit]);
  const told = recipe.sampleRateMHz;
  if (told !== null && recipe.timeUnit === null && !agrees(stepUs, told)) {
    const warnings = [overriddenRate(context, stepUs, told)];
    return { startUs, stepUs: 1 / told, timeUnit: unit, axisVelocityMPerS: null, asks: [], warnings };
  }
  const doubts = rateDoubts(context, stepUs, recipe.timeUnit === null ? 'time' : 'stated');
  if (doubts.asks.length > 0) return { ...nothingKnown, asks: doubts.asks };
  return { startUs, stepUs, timeUnit: unit, axisVelocityMPerS: null, ...doubts };
}

function fromTime(context: AxisContext, axis: AxisColumn, verdict: UniformVerdict): TimeAxis {
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

function inMicroseconds(time: number): string {
  return `${Number(time.toPrecision(6))} µs`;
}
