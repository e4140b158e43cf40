import { log10, power } from '../elementary/exponential.ts';
import type { Quantity } from '../units/quantity.ts';
import { curveAt, curveDifference, type DistanceAmplitudeCurve } from './distance-amplitude-curve.ts';

/** The gain to be added at one distance, so that the reflectors of the curve all stand as high as the one at the reference distance. */
export interface GainAtDistance {
  readonly distanceMm: number;
  /** Whether a point of the curve stands there. */
  readonly isPoint: boolean;
  readonly curveLevelDb: Quantity;
  readonly addedGainDb: Quantity;
}

/**
 * G(d) = 20 · log10(curve at the reference distance / curve at d), over the curve's span and nowhere else: at each point, and at round distances between.
 * Source: definition of time-corrected gain (common practice).
 * @param referenceMm a distance within the curve, that of its highest point as a rule
 */
export function timeCorrectedGain(curve: DistanceAmplitudeCurve, referenceMm: number): GainAtDistance[] {
  return tableDistances(curve).flatMap(({ distanceMm, isPoint }) => {
    const there = curveAt(curve, distanceMm);
    const below = curveDifference(curve, distanceMm, referenceMm);
    if (there === null || below === null) return [];
    return [{ distanceMm, isPoint, curveLevelDb: there.levelDb, addedGainDb: below }];
  });
}

/** The distance of the highest point. */
export function highestDistanceMm({ points }: DistanceAmplitudeCurve): number {
  return points.reduce((best, point) => (point.levelDb.value > best.levelDb.value ? point : best)).distanceMm;
}

const mostSteps = 20;

/** 1, 2, 5, 10 … mm apart, so that a table has at most twenty of them beside the points. */
function tableDistances({ points }: DistanceAmplitudeCurve): { distanceMm: number; isPoint: boolean }[] {
  const first = points[0].distanceMm;
  const last = points[points.length - 1].distanceMm;
  const step = roundStep((last - first) / mostSteps);
  const rows = points.map(({ distanceMm }) => ({ distanceMm, isPoint: true }));
  for (let k = Math.floor(first / step) + 1; k * step < last; k++) {
    const distanceMm = Number((k * step).toPrecision(12));
    if (points.every((point) => Math.abs(point.distanceMm - distanceMm) > 1e-9 * last))
      rows.push({ distanceMm, isPoint: false });
  }
  return rows.sort((a, b) => a.distanceMm - b.distanceMm);
}

function roundStep(least: number): number {
  const decade = power(10, Math.floor(log10(least)));
  return [1, 2, 5, 10].map((factor) => factor * decade).find((step) => step >= least * (1 - 1e-9)) ?? 10 * decade;
}
