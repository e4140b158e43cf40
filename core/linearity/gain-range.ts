import { type Limits, type VerdictOutcome, worstOf } from '../check/verdict.ts';
import type { Quantity } from '../units/quantity.ts';
import { type InCourse, type Total, totalBetween } from './gain-course.ts';
import { plain } from './height-reading.ts';
import { assessedStep, exactly, type JudgedBy, type LinearityStep, missingStep, outcomeOf } from './linearity-step.ts';
import type { GainRunRule } from './rule.ts';
import { type OfSignal, sameLevelDb } from './signals.ts';

/** The part of the range over which the total error stays within the rule's limit. */
export interface QualifiedRange {
  readonly fromDb: number;
  readonly toDb: number;
  /** The greatest difference of totals within it. */
  readonly totalDb: Quantity;
}

/** A setting with its total, in order of the gain; of one captured several times each. */
export interface Setting {
  readonly of: OfSignal;
  readonly run: number;
  readonly total: Total;
}

/** The settings whose totals are known. */
export function settingsOf(course: readonly InCourse[]): Setting[] {
  return course
    .flatMap(({ of, run, total }) => (total === null ? [] : [{ of, run, total }]))
    .sort((a, b) => a.of.reading.levelDb - b.of.reading.levelDb);
}

/** What the rule asks of the run as a whole: its total, its range, its stricter window. */
export function concludeRun(settings: readonly Setting[], rule: GainRunRule, by: JudgedBy): LinearityStep[] {
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
    conclusions.push(...bestSpan(runs, leastRangeDb, limits, by));
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

/** Two settings, how far the total errors at them differ, and how that stands to the limits. */
interface Compared {
  readonly from: Setting;
  readonly to: Setting;
  readonly difference: Quantity;
  readonly outcome: VerdictOutcome;
}

/** Of all pairs of settings no farther apart than so much, the one whose total comes off worst; `null` where there is none. */
function worstPair(run: readonly Setting[], spanDb: number, limits: Limits, by: JudgedBy): Compared | null {
  let worst: Compared | null = null;
  for (let i = 0; i < run.length; i++) {
    for (let j = i + 1; j < run.length; j++) {
      const apart = run[j].of.reading.levelDb - run[i].of.reading.levelDb;
      if (apart < sameLevelDb || apart > spanDb + sameLevelDb) continue;
      const difference = totalBetween(run[i].total, run[j].total);
      const flags = [...run[i].of.reading.flags, ...run[j].of.reading.flags];
      const pair = { from: run[i], to: run[j], difference, outcome: outcomeOf(difference, limits, flags, by) };
      if (worst === null || isWorse(pair, worst)) worst = pair;
    }
  }
  return worst;
}

function isWorse(pair: Compared, than: Compared): boolean {
  if (pair.outcome !== than.outcome) return worstOf([pair.outcome, than.outcome]) === pair.outcome;
  return Math.abs(pair.difference.value) > Math.abs(than.difference.value);
}

function worstTotal(
  run: readonly Setting[],
  spanDb: number,
  limits: Limits,
  which: string,
  by: JudgedBy,
): LinearityStep {
  const worst = worstPair(run, spanDb, limits, by);
  if (worst !== null) return totalStep(worst, limits, which, by);
  return missingStep(`total error${which}`, 'no two settings of the gain are so near to one another', limits, 'dB', by);
}

function totalStep({ from, to, difference }: Compared, limits: Limits, which: string, by: JudgedBy): LinearityStep {
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
function bestSpan(
  runs: readonly (readonly Setting[])[],
  leastDb: number,
  limits: Limits,
  by: JudgedBy,
): LinearityStep[] {
  let best: { readonly pair: Compared; readonly span: readonly Setting[] } | null = null;
  for (const run of runs) {
    for (let i = 0; i < run.length; i++) {
      const end = run.findIndex(
        (other) => other.of.reading.levelDb - run[i].of.reading.levelDb > leastDb - sameLevelDb,
      );
      if (end < 0) break;
      const span = run.slice(i, end + 1);
      const pair = worstPair(span, Number.POSITIVE_INFINITY, limits, by);
      if (pair !== null && (best === null || isWorse(best.pair, pair))) best = { pair, span };
    }
  }
  if (best === null) return [];
  const ends = [best.span[0], best.span[best.span.length - 1]].map(({ of }) => plain(of.reading.levelDb));
  return [totalStep(best.pair, limits, ` (the worst within ${ends.join(' to ')} dB)`, by)];
}

/** The widest part of the range within which no two totals differ by more than the limit. */
export function qualifiedRange(settings: readonly Setting[], totalDb: number): QualifiedRange | null {
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
