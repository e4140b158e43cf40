/** The part of an axis that one place stands for. */
export interface Stretch {
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

/** A stretch reaches at most this many usual distances to either side: beyond it nothing was captured, and a picture shows so. */
const widestInUsual = 0.75;

/**
 * Gives each place its stretch of the axis: half-way to its neighbours, but no farther than three quarters of the usual distance (the median), nor than
 * `mostMm`, so that a gap stays a gap. Stretches never overlap.
 *
 *     places    x  x  x  x        x  x
 *     stretches |--|--|--|--|    |--|--|
 *
 * @param stops rising, no two alike @param alone the usual distance where there is but one place
 */
export function stretchesOf(stops: readonly number[], alone: number, most = Number.POSITIVE_INFINITY): Stretch[] {
  const gaps = stops.slice(1).map((stop, i) => stop - stops[i]);
  const usual = usualGap(stops) ?? alone;
  const half = (gap: number | undefined) => Math.min((gap ?? usual) / 2, usual * widestInUsual, most);
  return stops.map((at, i) => ({ at, from: at - half(gaps[i - 1]), to: at + half(gaps[i]) }));
}

/** The median distance between neighbours; `null` for fewer than two places. */
export function usualGap(stops: readonly number[]): number | null {
  const gaps = stops.slice(1).map((stop, i) => stop - stops[i]);
  return gaps.length === 0 ? null : gaps.toSorted((a, b) => a - b)[gaps.length >> 1];
}
