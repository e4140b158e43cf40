import type { CaptureId } from '../capture/capture.ts';
import type { DecisionRule, Limits } from '../check/verdict.ts';
import { power } from '../elementary/exponential.ts';
import type { Quantity } from '../units/quantity.ts';
import { courseOf, type InCourse, totalBetween } from './gain-course.ts';
import { concludeRun, type QualifiedRange, qualifiedRange, settingsOf } from './gain-range.ts';
import { plain, type SteppedReading, scaled, unusableHeight } from './height-reading.ts';
import { assessedStep, exactly, type JudgedBy, type LinearityStep, missingStep } from './linearity-step.ts';
import { type LinearityPart, partOf } from './part.ts';
import type { GainRule, GainRunRule } from './rule.ts';
import { grossRemark, type OfSignal, signalsOf } from './signals.ts';
import { notUsed, setPercentsOf, withoutLevel } from './stepped-gain.ts';
import { tableSteps } from './table-steps.ts';

/** One setting of the gain in the run: what its step did, and what all steps up to it add up to. */
export interface GainPoint {
  readonly captureId: CaptureId;
  readonly levelDb: number;
  readonly percent: Quantity | null;
  /** Captures of one signal differ in the gain alone. */
  readonly signal: number;
  /** Settings of one run hang together, so that their totals can be compared. */
  readonly run: number;
  /** What the step from the capture before did, less what it says; `null` at the first of a signal and where a height cannot be used. */
  readonly stepErrorDb: Quantity | null;
  /** From the first setting of the run. */
  readonly totalErrorDb: Quantity | null;
}

export interface GainResult extends LinearityPart<GainRule> {
  /** Every capture with a known gain, in order. */
  readonly points: readonly GainPoint[];
  /** The widest; `null` without a rule that has a limit for totals, and where no two settings keep it. */
  readonly qualified: QualifiedRange | null;
}

/**
 * The gain control: whether so many dB of it are so many dB of height.
 *
 *     error of a step = 20 · log10(height / height before) − change of gain          (dB, within one signal)
 *     total error     = running sum from the first setting of the run
 *
 * Where the echo is set anew the run goes on from the total at that setting of the gain, if it was captured before; else it breaks off, and the break is a step not
 * assessed. The heights of one signal cancel between its first and its last in every sum, and so do their uncertainties.
 * @param readings in the order in which they were taken
 * Sources: the rule's own `source`; definition of the decibel; propagation: JCGM 100:2008 (GUM), 5.1.2.
 */
export function judgeGain(
  readings: readonly SteppedReading[],
  rule: GainRule | null,
  decision: DecisionRule,
): GainResult {
  const by: JudgedBy = { rule, decision };
  const unused = withoutLevel(readings);
  const ofSignals = signalsOf(readings, setHeightsOf(rule));
  const course = courseOf(ofSignals);
  const points = course.map(
    ({ of, run, error, total }): GainPoint => ({
      captureId: of.reading.captureId,
      levelDb: of.reading.levelDb,
      percent: of.reading.percent,
      signal: of.signal,
      run,
      stepErrorDb: error,
      totalErrorDb: total === null ? null : totalBetween(null, total),
    }),
  );
  if (rule !== null && rule.form === 'table') {
    const table = tableSteps(ofSignals, rule.steps, rule.setTolerancePercent, by);
    const left = [...unused, ...notUsed(readings, table.used)];
    return { ...partOf<GainRule>({ rule, decision, steps: table.steps, unused: left }), points, qualified: null };
  }
  const steps = runSteps(course, rule, by);
  const settings = settingsOf(course);
  const conclusions = rule === null ? [] : concludeRun(settings, rule, by);
  return {
    ...partOf<GainRule>({ rule, decision, steps, conclusions, unused }),
    points,
    qualified: rule === null ? null : qualifiedRange(settings, rule.totalDb),
  };
}

function setHeightsOf(rule: GainRule | null) {
  if (rule === null) return { percents: null, tolerancePercent: 0 };
  return {
    percents: rule.form === 'table' ? setPercentsOf(rule.steps) : rule.setPercents,
    tolerancePercent: rule.setTolerancePercent,
  };
}

/** Each step of the run as a row: what should stand after it and what does. No published rule limits one step by itself. */
function runSteps(course: readonly InCourse[], rule: GainRunRule | null, by: JudgedBy): LinearityStep[] {
  const limits: Limits | null = rule === null ? null : { lower: -rule.totalDb, upper: rule.totalDb };
  const common = rule?.setPercents?.[0] ?? null;
  return course.flatMap(({ of, before, brokenFrom }) => {
    const { reading } = of;
    const name = (from: OfSignal) => `from ${plain(from.reading.levelDb)} to ${plain(reading.levelDb)} dB`;
    const seen = {
      captureId: reading.captureId,
      from: reading.from,
      timeUs: reading.timeUs,
      read: reading.percent,
      readUnit: '%' as const,
      flags: reading.flags,
    };
    if (brokenFrom !== null) {
      const why =
        of.begins === 'gross'
          ? grossRemark(of)
          : 'the echo was set anew at a gain at which no capture before it stands, so that the errors before and after cannot be added up';
      return [missingStep(name(brokenFrom), why, limits, 'dB', by, seen)];
    }
    const hindered = unusableHeight(reading);
    if (hindered !== null)
      return [
        missingStep(
          before === null ? `at ${plain(reading.levelDb)} dB` : name(before),
          hindered,
          limits,
          'dB',
          by,
          seen,
        ),
      ];
    if (before === null) return [];
    return [runStep(name(before), before, of, common, seen, by)];
  });
}

function runStep(
  name: string,
  before: OfSignal,
  of: OfSignal,
  common: number | null,
  seen: Pick<LinearityStep, 'captureId' | 'from' | 'timeUs' | 'read' | 'readUnit' | 'flags'>,
  by: JudgedBy,
): LinearityStep {
  const height = of.reading.percent as Quantity;
  const heightBefore = before.reading.percent as Quantity;
  const change = of.reading.levelDb - before.reading.levelDb;
  const ratio = power(10, change / 20);
  return assessedStep(
    {
      ...seen,
      name,
      expected: scaled(heightBefore, ratio),
      unit: 'dB',
      ...(common === null
        ? {
            formula: 'step-error' as const,
            terms: [
              { name: 'height', value: height, unit: '%' as const },
              { name: 'height before', value: heightBefore, unit: '%' as const },
              { name: 'change of gain', value: exactly(change), unit: 'dB' as const },
            ],
          }
        : {
            formula: 'referred-gain-error' as const,
            terms: [
              { name: 'gain before', value: exactly(before.reading.levelDb), unit: 'dB' as const },
              { name: 'height before', value: heightBefore, unit: '%' as const },
              { name: 'common height', value: exactly(common), unit: '%' as const },
              { name: 'gain', value: exactly(of.reading.levelDb), unit: 'dB' as const },
              { name: 'height', value: height, unit: '%' as const },
            ],
          }),
      limits: null,
    },
    by,
  );
}
