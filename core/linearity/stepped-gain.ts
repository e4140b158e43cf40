import type { DecisionRule, Limits } from '../check/verdict.ts';
import { ratioFromDb } from '../units/decibel.ts';
import type { Quantity } from '../units/quantity.ts';
import { plain, type SteppedReading, scaled, signedDb, unusableHeight } from './height-reading.ts';
import { assessedStep, exactly, type JudgedBy, type LinearityStep, missingStep } from './linearity-step.ts';
import { type LinearityPart, partOf, type UnusedCapture } from './part.ts';
import type { SteppedRule, SteppedSpanRule, SteppedTableRule, TableStep } from './rule.ts';
import { isSetTo, type OfSignal, sameLevelDb, signalsOf } from './signals.ts';
import { tableSteps } from './table-steps.ts';

/** How near the ends of its span the steps must come, in dB. */
const nearEndDb = 1;

/**
 * Screen height by one echo, stepped by the gain, which is taken for exact: what it should show follows from the height it was set to.
 * Without a rule the highest echo that is not cut off is taken as set, and every other capture of its signal held against it.
 * @param readings in the order in which they were taken
 * Sources: the rule's own `source`; propagation: JCGM 100:2008 (GUM), 5.1.2.
 */
export function judgeSteppedGain(
  readings: readonly SteppedReading[],
  rule: SteppedRule | null,
  decision: DecisionRule,
): LinearityPart<SteppedRule> {
  const by: JudgedBy = { rule, decision };
  const unused = withoutLevel(readings);
  if (rule === null) return partOf<SteppedRule>({ rule, decision, ...figuresOnly(readings, by), unused });
  const steps = rule.form === 'stepped-table' ? byTable(readings, rule, by) : bySpan(readings, rule, by);
  return partOf<SteppedRule>({
    rule,
    decision,
    steps: steps.steps,
    unused: [...unused, ...notUsed(readings, steps.used)],
  });
}

/** Captures whose gain nobody states serve no step. */
export function withoutLevel(readings: readonly SteppedReading[]): UnusedCapture[] {
  return readings
    .filter(({ levelDb }) => levelDb === null)
    .map(({ captureId }) => ({
      captureId,
      reason: 'its gain is not known: state it in the file, the manifest or the step table',
    }));
}

/** Captures with a known gain that no step of the rule has taken. */
export function notUsed(readings: readonly SteppedReading[], used: ReadonlySet<SteppedReading>): UnusedCapture[] {
  return readings
    .filter((reading) => reading.levelDb !== null && !used.has(reading))
    .map(({ captureId, percent, levelDb }) => ({
      captureId,
      reason: `no step of the rule asks for it (${percent === null ? 'no echo' : `${plain(percent.value)} % FSH`} at ${plain(levelDb as number)} dB)`,
    }));
}

/** The heights that a table sets echoes to. */
export function setPercentsOf(table: readonly TableStep[]): number[] {
  return [...new Set(table.map((step) => step.setPercent))];
}

function byTable(readings: readonly SteppedReading[], rule: SteppedTableRule, by: JudgedBy) {
  const heights = { percents: setPercentsOf(rule.steps), tolerancePercent: rule.setTolerancePercent };
  return tableSteps(signalsOf(readings, heights), rule.steps, rule.setTolerancePercent, by);
}

function bySpan(readings: readonly SteppedReading[], rule: SteppedSpanRule, by: JudgedBy) {
  const { setPercent, setTolerancePercent, span, deviationPercent } = rule;
  const limits: Limits = { lower: -deviationPercent, upper: deviationPercent };
  const ofSignals = signalsOf(readings, { percents: [setPercent], tolerancePercent: setTolerancePercent });
  const used = new Set<SteppedReading>();
  const set = ofSignals
    .filter(({ reading }) => unusableHeight(reading) === null && isSetTo(reading, setPercent, setTolerancePercent))
    .sort(
      (a, b) =>
        stepsOf(ofSignals, b).length - stepsOf(ofSignals, a).length || ofSignals.indexOf(a) - ofSignals.indexOf(b),
    )[0];
  if (set === undefined) {
    const why = `no capture stands at ${plain(setPercent)} ± ${plain(setTolerancePercent)} % FSH, from which the steps are counted`;
    return { steps: [missingStep(`steps from ${plain(setPercent)} %`, why, limits, '%', by)], used };
  }
  used.add(set.reading);
  const setTo = set.reading.percent as Quantity;
  const wanted = (reading: OfSignal['reading']) => setTo.value * ratioFromDb(reading.levelDb - set.reading.levelDb);
  const slack = ratioFromDb(sameLevelDb);
  const inSpan = stepsOf(ofSignals, set).filter(({ reading }) => {
    const percent = wanted(reading);
    return percent >= span.fromPercent / slack && percent <= span.toPercent * slack;
  });
  const steps = inSpan.map(({ reading }) => {
    used.add(reading);
    return spanStep(reading, set.reading, limits, by);
  });
  const lowest = Math.min(
    ...inSpan.filter(({ reading }) => unusableHeight(reading) === null).map(({ reading }) => wanted(reading)),
  );
  if (!(lowest <= span.fromPercent * ratioFromDb(nearEndDb))) {
    const why = `the steps do not reach down to ${plain(span.fromPercent)} % FSH; go on stepping the gain down`;
    steps.push(missingStep(`down to ${plain(span.fromPercent)} %`, why, limits, '%', by));
  }
  return { steps, used };
}

function stepsOf(readings: readonly OfSignal[], set: OfSignal): OfSignal[] {
  return readings.filter((other) => other !== set && other.signal === set.signal);
}

function spanStep(
  reading: OfSignal['reading'],
  set: OfSignal['reading'],
  limits: Limits | null,
  by: JudgedBy,
): LinearityStep {
  const change = reading.levelDb - set.levelDb;
  const setTo = set.percent as Quantity;
  const ratio = ratioFromDb(change);
  const name = `${signedDb(change)} from ${plain(setTo.value)} %`;
  const { captureId, from, timeUs, flags, percent } = reading;
  const expected = scaled(setTo, ratio);
  const seen = { captureId, from, timeUs, expected, read: percent, readUnit: '%' as const, flags };
  const hindered = unusableHeight(reading);
  if (hindered !== null || percent === null) return missingStep(name, hindered ?? '', limits, '%', by, seen);
  return assessedStep(
    {
      ...seen,
      name,
      unit: '%',
      formula: 'span-deviation',
      terms: [
        { name: 'height read', value: percent, unit: '%' },
        { name: 'height set', value: setTo, unit: '%' },
        { name: 'change of gain', value: exactly(change), unit: 'dB' },
      ],
      limits,
    },
    by,
  );
}

function figuresOnly(readings: readonly SteppedReading[], by: JudgedBy): { steps: LinearityStep[] } {
  const ofSignals = signalsOf(readings, { percents: [], tolerancePercent: 0 });
  const steps: LinearityStep[] = [];
  for (const signal of new Set(ofSignals.map((of) => of.signal))) {
    const members = ofSignals.filter((of) => of.signal === signal);
    const usable = members.filter(({ reading }) => unusableHeight(reading) === null);
    const height = (of: OfSignal) => of.reading.percent?.value ?? 0;
    const set = usable.reduce<OfSignal | null>(
      (best, of) => (best === null || height(of) > height(best) ? of : best),
      null,
    );
    if (set !== null)
      steps.push(...members.filter((of) => of !== set).map(({ reading }) => spanStep(reading, set.reading, null, by)));
  }
  return { steps };
}
