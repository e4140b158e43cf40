import { fitLine } from '../statistics/line-fit.ts';
import { tBeyond } from '../statistics/t-probability.ts';
import type { Quantity } from '../units/quantity.ts';

/** A trend is called significant when chance alone would show one as steep, either way, in fewer than 5 of 100 such series (common practice). */
export const significantBelow = 0.05;

const secondsPerDay = 86_400;

/** A straight line through values over time. */
export interface Trend {
  /** Slope with its standard error, in the unit of the values per day of 24 hours. */
  readonly perDay: Quantity;
  /** From the first value to the last, along the line. */
  readonly overAll: Quantity;
  readonly days: number;
  /** Slope over its standard error; infinite where the values lie exactly on a line that is not level. */
  readonly t: number;
  readonly degreesOfFreedom: number;
  /** Two-sided: how likely chance alone gives a slope at least as steep. */
  readonly p: number;
  readonly significant: boolean;
  /** Correlation of successive residuals; `null` where there are none to compare. */
  readonly serialCorrelation: number | null;
  /** Whether it is more than the 2 / √n that chance alone seldom exceeds: p is then too small. */
  readonly seriallyCorrelated: boolean;
}

/**
 * Fits values over time and tests the slope against none: t = slope / its standard error, with n − 2 degrees of freedom. The test takes the residuals
 * as independent and alike; whether successive ones go together is told beside it. With several series each has its own 5 % of false alarms.
 * A trend is a description of what was measured; no code lets readings between checks be corrected by it.
 *
 * @param seconds when each value was taken @returns `null` with fewer than three values, or all at one time
 * Sources: slope and standard error JCGM 100:2008 (GUM), H.3; t test of a slope, and 2 / √n for the correlation (Bartlett): any text on regression and time series (from memory).
 */
export function trendOf(seconds: readonly number[], values: readonly number[]): Trend | null {
  const days = seconds.map((second) => (second - seconds[0]) / secondsPerDay);
  const fit = fitLine(days, values);
  if (!fit.ok || fit.value.uSlope === null) return null;
  const { slope, uSlope, residuals, degreesOfFreedom } = fit.value;
  const span = days.reduce((a, b) => Math.max(a, b)) - days.reduce((a, b) => Math.min(a, b));
  const t = slope === 0 ? 0 : slope / uSlope;
  const p = tBeyond(t, degreesOfFreedom);
  const serialCorrelation = correlationOfNeighbours(residuals);
  return {
    perDay: { value: slope, standardUncertainty: uSlope },
    overAll: { value: slope * span, standardUncertainty: uSlope * span },
    days: span,
    t,
    degreesOfFreedom,
    p,
    significant: p < significantBelow,
    serialCorrelation,
    seriallyCorrelated: serialCorrelation !== null && serialCorrelation > 2 / Math.sqrt(values.length),
  };
}

/** Σ r(i) · r(i + 1) / Σ r². */
function correlationOfNeighbours(residuals: Float64Array): number | null {
  let all = 0;
  let neighbours = 0;
  for (let i = 0; i < residuals.length; i++) {
    all += residuals[i] ** 2;
    if (i > 0) neighbours += residuals[i - 1] * residuals[i];
  }
  return all === 0 ? null : neighbours / all;
}
