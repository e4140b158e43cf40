import type { CaptureId } from '../capture/capture.ts';
import { type DecisionRule, type Limits, type VerdictOutcome, worstOf } from '../check/verdict.ts';
import { dbFromRatio } from '../units/decibel.ts';
import { propagate, type Quantity } from '../units/quantity.ts';
import { plain, type SteppedReading, scaled, unusableHeight } from './height-reading.ts';
import { assessedStep, exactly, type JudgedBy, type LinearityStep, missingStep } from './linearity-step.ts';
import { type LinearityPart, partOf } from './part.ts';
import type { GainRule, GainRunRule } from './rule.ts';
import { grossRemark, type OfSignal, sameLevelDb, signalsOf } from './signals.ts';
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

/** The part of the range over which the total error stays within the rule's limit. */
export interface QualifiedRange {
  readonly fromDb: number;
  readonly toDb: number;
  /** The greatest difference of totals within it. */
  readonly totalDb: Quantity;
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

/** A total error as the sum of the logarithms of heights, so that what cancels cancels: Σ coefficient · 20 · log10(height) − dB of gain. */
interface Total {
  readonly levelDb: number;
  readonly valueDb: number;
  readonly shares: ReadonlyMap<OfSignal, number>;
}

interface InCourse {
  readonly of: OfSignal;
  readonly run: number;
  readonly before: OfSignal | null;
  readonly error: Quantity | null;
  readonly total: Total | null;
  /** The capture before it, where the run breaks off here. */
  readonly brokenFrom: OfSignal | null;
}

function courseOf(ofSignals: readonly OfSignal[]): InCourse[] {
  const course: InCourse[] = [];
  let run = 0;
  let start: { readonly of: OfSignal; readonly total: Total } | null = null;
  let before: OfSignal | null = null;
  let signal = -1;
  for (const of of ofSignals) {
    const isNew = of.signal !== signal;
    if (isNew) {
      start = null;
      before = null;
    }
    signal = of.signal;
    let brokenFrom: OfSignal | null = null;
    if (unusableHeight(of.reading) !== null) {
      course.push({ of, run, before, error: null, total: null, brokenFrom });
      continue;
    }
    if (start === null) {
      const met = course.findLast(
        (other) =>
          other.run === run &&
          other.total !== null &&
          Math.abs(other.of.reading.levelDb - of.reading.levelDb) < sameLevelDb,
      );
      const previous = course.findLast((other) => other.total !== null)?.of ?? null;
      if (met === undefined && previous !== null) {
        run += 1;
        brokenFrom = previous;
      }
      const total: Total = met?.total ?? { levelDb: of.reading.levelDb, valueDb: 0, shares: new Map() };
      start = { of, total };
      course.push({ of, run, before: null, error: null, total, brokenFrom });
    } else {
      course.push({
        of,
        run,
        before,
        error: before === null ? null : stepError(before, of),
        total: totalAt(start, of),
        brokenFrom,
      });
    }
    before = of;
  }
  return course;
}

const perNeper = dbFromRatio(Math.E);

/** Standard uncertainty of 20 · log10(height). */
function uLevel({ reading: { percent } }: OfSignal): number | null {
  return percent === null ? null : scaled(percent, perNeper / percent.value).standardUncertainty;
}

function stepDb(from: OfSignal, to: OfSignal): number {
  const ratio = (to.reading.percent?.value ?? Number.NaN) / (from.reading.percent?.value ?? Number.NaN);
  return dbFromRatio(ratio) - (to.reading.levelDb - from.reading.levelDb);
}

function stepError(from: OfSignal, to: OfSignal): Quantity {
  return propagate(
    stepDb(from, to),
    [from, to].map((of) => ({ sensitivity: 1, standardUncertainty: uLevel(of) })),
  );
}

function totalAt(start: { readonly of: OfSignal; readonly total: Total }, here: OfSignal): Total {
  const shares = new Map(start.total.shares);
  shares.set(here, (shares.get(here) ?? 0) + 1);
  shares.set(start.of, (shares.get(start.of) ?? 0) - 1);
  return { levelDb: here.reading.levelDb, valueDb: start.total.valueDb + stepDb(start.of, here), shares };
}

/** One total less another; `null`: less that of the first setting. */
function totalBetween(from: Total | null, to: Total): Quantity {
  const members = new Set([...to.shares.keys(), ...(from?.shares.keys() ?? [])]);
  const contributions = [...members].map((of) => ({
    sensitivity: (to.shares.get(of) ?? 0) - (from?.shares.get(of) ?? 0),
    standardUncertainty: uLevel(of),
  }));
  return propagate(to.valueDb - (from?.valueDb ?? 0), contributions);
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
  const ratio = 10 ** (change / 20);
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

/** A setting with its total, in order of the gain; of one captured several times each. */
interface Setting {
  readonly of: OfSignal;
  readonly run: number;
  readonly total: Total;
}

function settingsOf(course: readonly InCourse[]): Setting[] {
  return course
    .flatMap(({ of, run, total }) => (total === null ? [] : [{ of, run, total }]))
    .sort((a, b) => a.of.reading.levelDb - b.of.reading.levelDb);
}

function concludeRun(settings: readonly Setting[], rule: GainRunRule, by: JudgedBy): LinearityStep[] {
  const { totalDb, leastRangeDb, over, window } = rule;
  const limits: Limits = { lower: -totalDb, upper: totalDb };
  const runs = [...new Set(settings.map(({ run }) => run))].map((run) =>
    settings.filter((setting) => setting.run === run),
  );
  const widest = Math.max(0, ...runs.map(rangeDb));
  if (widest === 0)
    return [missingStep('total error', 'no two settings of the gain can be compared', limits, 'dB', by)];
  const conclusions: LinearityStep[] = [];
  if (over === 'whole-range')
    conclusions.push(
      ...runs
        .filter((run) => rangeDb(run) > 0)
        .map((run) => worstTotal(run, Number.POSITIVE_INFINITY, limits, ' (the worst of the whole range)', by)),
    );
  else if (leastRangeDb !== null && widest > leastRangeDb - sameLevelDb)
    conclusions.push(bestSpan(runs, leastRangeDb, limits, by));
  if (leastRangeDb !== null && widest <= leastRangeDb - sameLevelDb) {
    const why = `the captures that hang together cover ${plain(widest)} dB of the gain, and the rule asks for ${plain(leastRangeDb)} dB; step on through the range`;
    conclusions.push(missingStep(`range of at least ${plain(leastRangeDb)} dB`, why, limits, 'dB', by));
  }
  if (window !== null) {
    const within: Limits = { lower: -window.errorDb, upper: window.errorDb };
    const name = ` (the worst within any ${plain(window.spanDb)} dB)`;
    conclusions.push(
      ...runs.filter((run) => rangeDb(run) > 0).map((run) => worstTotal(run, window.spanDb, within, name, by)),
    );
  }
  return conclusions;
}

function rangeDb(run: readonly Setting[]): number {
  return run.length === 0 ? 0 : run[run.length - 1].of.reading.levelDb - run[0].of.reading.levelDb;
}

/** Of all pairs of settings no farther apart than so much, the one whose total comes off worst. */
function worstTotal(
  run: readonly Setting[],
  spanDb: number,
  limits: Limits,
  which: string,
  by: JudgedBy,
): LinearityStep {
  let worst: LinearityStep | null = null;
  for (let i = 0; i < run.length; i++) {
    for (let j = i + 1; j < run.length; j++) {
      const apart = run[j].of.reading.levelDb - run[i].of.reading.levelDb;
      if (apart < sameLevelDb || apart > spanDb + sameLevelDb) continue;
      if (worst !== null && !couldBeWorse(run[i], run[j], worst)) continue;
      const step = totalStep(run[i], run[j], limits, which, by);
      if (worst === null || isWorse(step, worst)) worst = step;
    }
  }
  return (
    worst ??
    missingStep(`total error${which}`, 'no two settings of the gain are so near to one another', limits, 'dB', by)
  );
}

/** A smaller difference can only come off worse by a greater uncertainty; without one, never. */
function couldBeWorse(a: Setting, b: Setting, worst: LinearityStep): boolean {
  const value = Math.abs(b.total.valueDb - a.total.valueDb);
  return worst.verdict?.outcome !== 'fail' || value > Math.abs(worst.deviation?.value ?? 0);
}

function isWorse(step: LinearityStep, than: LinearityStep): boolean {
  const outcomes: VerdictOutcome[] = [step, than].flatMap(({ verdict }) => (verdict === null ? [] : [verdict.outcome]));
  if (outcomes.length === 2 && outcomes[0] !== outcomes[1]) return worstOf(outcomes) === outcomes[0];
  return Math.abs(step.deviation?.value ?? 0) > Math.abs(than.deviation?.value ?? 0);
}

function totalStep(from: Setting, to: Setting, limits: Limits, which: string, by: JudgedBy): LinearityStep {
  const difference = totalBetween(from.total, to.total);
  const { captureId, from: samples, timeUs, flags } = to.of.reading;
  return assessedStep(
    {
      name: `total error from ${plain(from.of.reading.levelDb)} to ${plain(to.of.reading.levelDb)} dB${which}`,
      captureId,
      from: samples,
      timeUs,
      expected: exactly(0),
      read: difference,
      readUnit: 'dB',
      unit: 'dB',
      formula: 'total-error',
      terms: [
        { name: `total error at ${plain(to.of.reading.levelDb)} dB`, value: totalBetween(null, to.total), unit: 'dB' },
        {
          name: `total error at ${plain(from.of.reading.levelDb)} dB`,
          value: totalBetween(null, from.total),
          unit: 'dB',
        },
      ],
      uDeviation: difference.standardUncertainty,
      limits,
      flags: [...new Set([...flags, ...from.of.reading.flags])],
    },
    by,
  );
}

/** Of all parts of the range that are just wide enough, the one whose worst total is best. */
function bestSpan(runs: readonly (readonly Setting[])[], leastDb: number, limits: Limits, by: JudgedBy): LinearityStep {
  let best: LinearityStep | null = null;
  for (const run of runs) {
    for (let i = 0; i < run.length; i++) {
      const end = run.findIndex(
        (other) => other.of.reading.levelDb - run[i].of.reading.levelDb > leastDb - sameLevelDb,
      );
      if (end < 0) break;
      const worst = worstTotal(
        run.slice(i, end + 1),
        Number.POSITIVE_INFINITY,
        limits,
        ` (the worst within ${plain(run[i].of.reading.levelDb)} to ${plain(run[end].of.reading.levelDb)} dB)`,
        by,
      );
      if (best === null || isWorse(best, worst)) best = worst;
    }
  }
  return best as LinearityStep;
}

/** The widest part of the range within which no two totals differ by more than the limit. */
function qualifiedRange(settings: readonly Setting[], totalDb: number): QualifiedRange | null {
  let best: { readonly from: Setting; readonly to: Setting; readonly low: Setting; readonly high: Setting } | null =
    null;
  const width = (of: { readonly from: Setting; readonly to: Setting }) =>
    of.to.of.reading.levelDb - of.from.of.reading.levelDb;
  settings.forEach((from, i) => {
    let low = from;
    let high = from;
    for (const to of settings.slice(i + 1)) {
      if (to.run !== from.run) continue;
      if (to.total.valueDb < low.total.valueDb) low = to;
      if (to.total.valueDb > high.total.valueDb) high = to;
      if (high.total.valueDb - low.total.valueDb > totalDb * (1 + 1e-9)) break;
      const span = { from, to, low, high };
      if (width(span) > sameLevelDb && (best === null || width(span) > width(best) + 1e-9)) best = span;
    }
  });
  if (best === null) return null;
  const { from, to, low, high } = best as { from: Setting; to: Setting; low: Setting; high: Setting };
  return { fromDb: from.of.reading.levelDb, toDb: to.of.reading.levelDb, totalDb: totalBetween(low.total, high.total) };
}
