import type { LineFit } from '../statistics/line-fit.ts';
import { tQuantile } from '../statistics/t-quantile.ts';
import { normalFactor95 } from '../units/quantity.ts';
import type { CalibrationPoint } from './calibration-point.ts';

type Point = Pick<CalibrationPoint, 'distanceMm' | 'uDistanceMm' | 'uTimeUs'>;

/** Variances and covariance of intercept (µs) and slope (µs/mm). */
export interface LineVariance {
  readonly intercept: number;
  readonly slope: number;
  readonly covariance: number;
}

/** From the points' own errors, and the factor by which u becomes the half-width of the 95 % interval. `null`: not known. */
export function lineUncertainty(points: readonly Point[], fit: LineFit): (LineVariance & { factor95: number }) | null {
  const timingKnown = points.every((p) => p.uTimeUs !== null);
  const stated = points.map((p) => (p.uTimeUs ?? 0) ** 2 + (fit.slope * p.uDistanceMm) ** 2);
  const ofUnit = lineVariance(
    points,
    points.map(() => 1),
  );
  const ofStated = lineVariance(points, stated);
  if (fit.residualSd === null) return timingKnown ? { ...ofStated, factor95: normalFactor95 } : null;

  const found = fit.residualSd ** 2;
  const perPoint = Math.max(found, ofStated.slope / ofUnit.slope, ofStated.intercept / ofUnit.intercept);
  if (perPoint === 0 && !timingKnown) return null;
  const explained = timingKnown && found <= 4 * expectedScatter(points, stated, ofUnit, fit.degreesOfFreedom);
  const student = tQuantile(0.975, fit.degreesOfFreedom);
  return {
    intercept: perPoint * ofUnit.intercept,
    slope: perPoint * ofUnit.slope,
    covariance: perPoint * ofUnit.covariance,
    factor95: explained ? normalFactor95 : Math.max(normalFactor95, student * Math.sqrt(found / perPoint)),
  };
}

/** How the variance of each time, in µs², goes over to the line: both parameters are weighted sums of the times. */
export function lineVariance(points: readonly Point[], variances: readonly number[]): LineVariance {
  const weights = lineWeights(points.map((p) => p.distanceMm));
  let intercept = 0;
  let slope = 0;
  let covariance = 0;
  variances.forEach((variance, i) => {
    intercept += weights.intercept[i] ** 2 * variance;
    slope += weights.slope[i] ** 2 * variance;
    covariance += weights.intercept[i] * weights.slope[i] * variance;
  });
  return { intercept, slope, covariance };
}

/** How much of the error of each point goes into intercept and slope of the line through all of them (ordinary least squares). */
export function lineWeights(distancesMm: readonly number[]): {
  readonly intercept: readonly number[];
  readonly slope: readonly number[];
} {
  const n = distancesMm.length;
  const mean = distancesMm.reduce((sum, d) => sum + d, 0) / n;
  const sxx = distancesMm.reduce((sum, d) => sum + (d - mean) ** 2, 0);
  const slope = distancesMm.map((d) => (d - mean) / sxx);
  return { intercept: slope.map((weight) => 1 / n - mean * weight), slope };
}

/** What the stated variances let expect of the residuals' variance: each point draws the line towards itself by its leverage. */
function expectedScatter(
  points: readonly Point[],
  stated: readonly number[],
  ofUnit: LineVariance,
  degreesOfFreedom: number,
): number {
  const sum = points.reduce((total, { distanceMm: d }, i) => {
    const leverage = ofUnit.intercept + 2 * d * ofUnit.covariance + d * d * ofUnit.slope;
    return total + stated[i] * (1 - leverage);
  }, 0);
  return sum / degreesOfFreedom;
}

/**
 * The line's variances by the timing alone, the reflectors' own errors left out. Where the residuals scatter more than
 * twice as wide as timing and those errors together explain, the scatter found is taken for the timing's, since nobody
 * knows whose it is. `null` where a timing is not known.
 */
export function timingVariance(
  points: readonly Point[],
  fit: Pick<LineFit, 'slope' | 'residualSd' | 'degreesOfFreedom'>,
): LineVariance | null {
  if (points.some((p) => p.uTimeUs === null)) return null;
  const timing = points.map((p) => p.uTimeUs! ** 2);
  if (fit.residualSd === null) return lineVariance(points, timing);
  const found = fit.residualSd ** 2;
  const stated = points.map((p, i) => timing[i] + (fit.slope * p.uDistanceMm) ** 2);
  const ones = points.map(() => 1);
  const explained = found <= 4 * expectedScatter(points, stated, lineVariance(points, ones), fit.degreesOfFreedom);
  return lineVariance(points, explained ? timing : timing.map((variance) => Math.max(variance, found)));
}
