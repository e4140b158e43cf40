import type { DriftCheck } from '../../core/check/drift.ts';
import type { Limits, VerdictOutcome } from '../../core/check/verdict.ts';
import type { FigureAsked } from '../../core/origin.ts';

export type DriftQuantity = 'distance-error' | 'amplitude-change';

/** One deviation of one check, at one reflector. */
export interface DriftPoint {
  /** Of the check, in order of time. */
  readonly index: number;
  readonly distanceMm: number;
  readonly value: number;
  readonly u: number | null;
  readonly outcome: VerdictOutcome | null;
  readonly asked: FigureAsked;
}

export interface DriftSeries {
  readonly distanceMm: number;
  readonly limits: Limits | null;
  readonly points: readonly DriftPoint[];
}

/** What a chart of one quantity shows: for each reflector its deviations in order of time. What was not measured has no point. */
export function driftSeries(checks: readonly DriftCheck[], quantity: DriftQuantity): readonly DriftSeries[] {
  const distances = [...new Set(checks.flatMap((check) => check.reflectors.map((r) => r.distanceMm)))].sort(
    (a, b) => a - b,
  );
  return distances.map((distanceMm) => {
    let limits: Limits | null = null;
    const points = checks.flatMap((check, index): DriftPoint[] => {
      const reflector = check.reflectors.find((r) => r.distanceMm === distanceMm);
      if (reflector === undefined) return [];
      const isDistance = quantity === 'distance-error';
      limits ??= isDistance ? reflector.distanceLimitsMm : reflector.amplitudeLimitsDb;
      const measured = isDistance ? reflector.distanceErrorMm : reflector.amplitudeChangeDb;
      if (measured === null) return [];
      const verdict = reflector.verdicts.find(({ unit }) => unit === (isDistance ? 'mm' : 'dB'));
      return [
        {
          index,
          distanceMm,
          value: measured.value,
          u: measured.standardUncertainty,
          outcome: verdict?.outcome ?? null,
          asked: { kind: 'drift', captureId: check.captureId, distanceMm, figure: quantity },
        },
      ];
    });
    return { distanceMm, limits, points };
  });
}

/** From the lowest to the highest thing to be seen: zero, every value with twice its uncertainty, every limit; a little room beyond. */
export function driftRange(series: readonly DriftSeries[]): { readonly from: number; readonly to: number } {
  let [from, to] = [0, 0];
  const see = (value: number) => {
    from = Math.min(from, value);
    to = Math.max(to, value);
  };
  for (const { limits, points } of series) {
    if (limits !== null) {
      see(limits.lower);
      see(limits.upper);
    }
    for (const { value, u } of points) {
      see(value - 2 * (u ?? 0));
      see(value + 2 * (u ?? 0));
    }
  }
  const room = Math.max((to - from) * 0.16, 1e-3);
  return { from: from - room, to: to + room };
}

/** The limits of all reflectors, each once: they differ where the rule takes a share of the distance. */
export function distinctLimits(series: readonly DriftSeries[]): readonly Limits[] {
  const seen = new Map<string, Limits>();
  for (const { limits } of series) if (limits !== null) seen.set(`${limits.lower} ${limits.upper}`, limits);
  return [...seen.values()];
}

/** A label's place: where it is anchored, and how wide it is about there. */
export interface Label {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

const figurePx = 6.2;
const linePx = 11;

/** Those labels that do not lie on one another, the first ones first. */
export function withoutOverlap(labels: readonly Label[]): readonly Label[] {
  const kept: Label[] = [];
  for (const label of labels) {
    const isFree = kept.every(
      (other) =>
        Math.abs(other.y - label.y) >= linePx ||
        Math.abs(other.x - label.x) >= (figurePx * (other.text.length + label.text.length)) / 2 + 4,
    );
    if (isFree) kept.push(label);
  }
  return kept;
}
