import type { ChartSeries } from './drift-over-time.ts';

/** A place on a chart. */
export interface ChartPlace {
  readonly seconds: number;
  readonly value: number;
}

const secondsPerDay = 86_400;

/**
 * Where a series' trend begins and ends: the fitted line goes through the means of what it was fitted to. `null` without a trend.
 * Source: least squares, JCGM 100:2008 (GUM), H.3.
 */
export function trendLine({ points, trend, chart }: ChartSeries): readonly [ChartPlace, ChartPlace] | null {
  const counted = points.filter((point) => point.counted);
  if (trend === null || chart.centre === null || counted.length === 0) return null;
  const first = counted[0].seconds;
  const last = counted[counted.length - 1].seconds;
  const mean = first + counted.reduce((sum, { seconds }) => sum + (seconds - first), 0) / counted.length;
  const at = (seconds: number): ChartPlace => ({
    seconds,
    value: (chart.centre ?? 0) + (trend.perDay.value * (seconds - mean)) / secondsPerDay,
  });
  return [at(first), at(last)];
}
