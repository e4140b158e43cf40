import { invariant } from '../invariant.ts';
import { fitLine, type LineFit } from '../statistics/line-fit.ts';
import type { CalibrationPoint } from './calibration-point.ts';

/** Where nobody stated a distance's tolerance, ± 0.1 mm is allowed before it is doubted (usual on blocks; from memory). */
const usualUDistanceMm = 0.1 / Math.sqrt(3);

/** How many standard uncertainties a point may stand off the line through the others. */
const allowedUncertainties = 3;

/**
 * Which of three or more points lie off the line by more than timing and tolerance allow.
 *
 * Least squares spreads one wrong label over all points, so the line is taken through the majority that agree best (least
 * median of squares, Rousseeuw 1984, over all pairs) and every other point is held against it. Of three points any two agree:
 * then the residuals say only that one of the three is wrong, and all three are marked.
 */
export function mistakenPoints(points: readonly CalibrationPoint[]): boolean[] {
  const all = lineThrough(points);
  const standing = points.map((_, i) => Math.abs(all.residuals[i]) / residualUncertainty(points, all.slope, i));
  const nothingOdd = points.every((_, i) => standing[i] <= allowedUncertainties);
  if (nothingOdd || points.length === 3) return points.map(() => !nothingOdd);

  const majority = agreeingMajority(points);
  const line = lineThrough(majority);
  const off = points.map((point) => {
    const deviation = Math.abs(point.timeUs - line.intercept - line.slope * point.distanceMm);
    const variance =
      pointVariance(point, line.slope) * (majority.includes(point) ? 1 : 1 + leverage(majority, point.distanceMm));
    return deviation > allowedUncertainties * Math.sqrt(variance);
  });
  return off.includes(true) ? off : points.map(() => true);
}

function lineThrough(points: readonly CalibrationPoint[]): LineFit {
  const fit = fitLine(
    points.map((p) => p.distanceMm),
    points.map((p) => p.timeUs),
  );
  invariant(fit.ok, 'points at different distances have a line');
  return fit.value;
}

/** Variance of one time about the line: timing and the distance's tolerance. */
function pointVariance(point: CalibrationPoint, slope: number): number {
  const uDistanceMm = point.uDistanceMm === 0 ? usualUDistanceMm : point.uDistanceMm;
  return (point.uTimeUs ?? 0) ** 2 + (slope * uDistanceMm) ** 2;
}

function leverage(points: readonly CalibrationPoint[], distanceMm: number): number {
  const mean = points.reduce((sum, p) => sum + p.distanceMm, 0) / points.length;
  const sxx = points.reduce((sum, p) => sum + (p.distanceMm - mean) ** 2, 0);
  return 1 / points.length + (distanceMm - mean) ** 2 / sxx;
}

/** A residual of a fit that the point itself took part in is smaller than its error by the root of 1 − leverage. */
function residualUncertainty(points: readonly CalibrationPoint[], slope: number, i: number): number {
  return Math.sqrt(pointVariance(points[i], slope) * (1 - leverage(points, points[i].distanceMm)));
}

/** The half of the points and one more that lie closest to a line through two of them. */
function agreeingMajority(points: readonly CalibrationPoint[]): CalibrationPoint[] {
  const size = Math.floor(points.length / 2) + 1;
  let best: CalibrationPoint[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < points.length; i++) {
    for (let j = i + 1; j < points.length; j++) {
      const line = lineThrough([points[i], points[j]]);
      const distance = (p: CalibrationPoint) => Math.abs(p.timeUs - line.intercept - line.slope * p.distanceMm);
      const nearest = [...points].sort((a, b) => distance(a) - distance(b)).slice(0, size);
      const farthest = distance(nearest[size - 1]);
      if (farthest < least) {
        least = farthest;
        best = nearest;
      }
    }
  }
  return best;
}
