import type { CaptureId } from '../capture/capture.ts';
import type { LinearityStep } from '../linearity/linearity-step.ts';
import type { LinearityPart } from '../linearity/part.ts';
import type { LinearityRule } from '../linearity/rule.ts';
import { problemLine } from '../outcome.ts';
import type { GainCheck, LinearityResult, ScreenHeightCheck, TimeBaseCheck } from '../steps/linearity.ts';
import type { Quantity } from '../units/quantity.ts';
import { type CaptureLookup, rounded } from './document.ts';

const orNull = (value: number | null | undefined): number | null =>
  value == null || !Number.isFinite(value) ? null : rounded(value);
const figureOf = (quantity: Quantity | null): number | null => orNull(quantity?.value);
const uOf = (quantity: Quantity | null): number | null => orNull(quantity?.standardUncertainty);

const placeOf = (captureId: CaptureId | null, captures: CaptureLookup) => {
  const capture = captureId === null ? undefined : captures.get(captureId);
  return { file: capture?.file ?? captureId, trace: capture?.trace ?? null };
};

/** How a unit ends a key. */
const keyOf = { '%': 'percent', dB: 'db', mm: 'mm', µs: 'us' } as const;

/** One step: what was read and should have been, how far it is off, and the verdict with its arithmetic. An end that a rule does not limit is `null`. */
function stepDocument(step: LinearityStep, captures: CaptureLookup) {
  const { readUnit, unit, limits, verdict, from } = step;
  return {
    name: step.name,
    ...placeOf(step.captureId, captures),
    [`read_${keyOf[readUnit]}`]: figureOf(step.read),
    [`u_read_${keyOf[readUnit]}`]: uOf(step.read),
    [`expected_${keyOf[readUnit]}`]: figureOf(step.expected),
    [`deviation_${keyOf[unit]}`]: figureOf(step.deviation),
    [`u_deviation_${keyOf[unit]}`]: uOf(step.deviation),
    limits: limits && { lower: orNull(limits.lower), upper: orNull(limits.upper), unit },
    verdict: verdict?.outcome ?? null,
    formula: step.arithmetic?.text ?? null,
    with_numbers: step.arithmetic?.withNumbers ?? null,
    time_us: orNull(step.timeUs),
    samples: from && [from.first, from.last],
    flags: step.flags,
    remark: step.remark,
  };
}

function partDocument(part: LinearityPart<LinearityRule>, captures: CaptureLookup) {
  const { rule, greatest } = part;
  return {
    rule: rule && {
      check: rule.check,
      name: rule.name,
      title: rule.title,
      edition: rule.edition,
      clause: rule.clause,
      source: rule.source,
    },
    decision: part.decision,
    verdict: part.outcome,
    steps: part.steps.map((step) => stepDocument(step, captures)),
    conclusions: part.conclusions.map((step) => stepDocument(step, captures)),
    greatest_deviation: greatest === null ? null : part.steps[greatest].name,
    unused_captures: part.unused.map(({ captureId, reason }) => ({ ...placeOf(captureId, captures), reason })),
    flags: part.flags,
    remarks: part.warnings.map(problemLine),
  };
}

export function timeBaseDocument(check: TimeBaseCheck, captures: CaptureLookup) {
  const { definition, line, doubts } = check;
  return {
    check: 'time-base',
    ...partDocument(check, captures),
    line: {
      definition: definition.kind,
      anchors: definition.kind === 'anchors' ? definition.anchors : null,
      intercept_us: orNull(line?.interceptUs),
      [check.places === 'numbers' ? 'slope_us_per_echo' : 'slope_us_per_mm']: orNull(line?.slopeUs),
    },
    range_us: orNull(check.rangeUs),
    range_from: check.rangeFrom,
    doubts: doubts.map(({ flag, sentence }) => ({ flag, sentence })),
  };
}

export function screenHeightDocument(check: ScreenHeightCheck, captures: CaptureLookup) {
  return {
    check: 'screen-height',
    form: check.form,
    order: check.form === 'stepped-gain' ? check.order : null,
    ...partDocument(check, captures),
  };
}

export function gainDocument(check: GainCheck, captures: CaptureLookup) {
  const { qualified, points } = check;
  return {
    check: 'gain',
    order: check.order,
    ...partDocument(check, captures),
    points: points.map((point) => ({
      ...placeOf(point.captureId, captures),
      gain_db: rounded(point.levelDb),
      amplitude_percent: figureOf(point.percent),
      u_amplitude_percent: uOf(point.percent),
      step_error_db: figureOf(point.stepErrorDb),
      u_step_error_db: uOf(point.stepErrorDb),
      total_error_db: figureOf(point.totalErrorDb),
      u_total_error_db: uOf(point.totalErrorDb),
      signal: point.signal,
      run: point.run,
    })),
    qualified_range: qualified && {
      from_db: rounded(qualified.fromDb),
      to_db: rounded(qualified.toDb),
      total_error_db: figureOf(qualified.totalDb),
      u_total_error_db: uOf(qualified.totalDb),
    },
  };
}

export function linearityDocument({ timeBase, screenHeight, gain }: LinearityResult, captures: CaptureLookup) {
  return {
    time_base: timeBase && timeBaseDocument(timeBase, captures),
    screen_height: screenHeight && screenHeightDocument(screenHeight, captures),
    gain: gain && gainDocument(gain, captures),
  };
}
