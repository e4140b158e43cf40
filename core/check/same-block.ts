import type { DistanceCalibration } from '../calibration/distance.ts';
import { type LineVariance, lineWeights, timingVariance } from '../calibration/line-variance.ts';
import { fitLine } from '../statistics/line-fit.ts';

/** A reflector as it was when the calibration was made on it. */
export interface CalibratedReflector {
  readonly distanceMm: number;
  /** Of the distance itself; `null`, as the time, where the calibration's document does not tell. */
  readonly uDistanceMm: number | null;
  readonly timeUs: number | null;
  readonly uTimeUs: number | null;
  readonly amplitudePercent: number | null;
  readonly gainDb: number | null;
  /** The block that the capture names. */
  readonly block: string | null;
}

/** Two distances are the same reflector when they differ by less. */
export const sameReflectorMm = 1e-6;

type Known = CalibratedReflector & { readonly uDistanceMm: number; readonly timeUs: number };

/**
 * Calibration and check on one block: where a reflector really lies moves both by the same, and what they differ by does
 * not know it.
 *
 *     calibration   t = a + b · (d + δ)         line through them, read off at d:  every δ but what the line leaves over
 *     check         t = a' + b' · (d + δ)       their difference: a' − a, b' − b, and no δ where the line passes through
 *                                               all its points (two of them, or errors that the distances share)
 */
export interface SameBlock {
  readonly block: string;
  /** µs per mm. */
  readonly slope: number;
  /** Of the calibration's line by its timing alone. */
  readonly variance: LineVariance;
  readonly reflectors: readonly Known[];
}

/**
 * The block that calibration and check both name, and how sure the calibration's line is on it. `null` where they do not,
 * or where the calibration does not tell its times and tolerances.
 */
export function sameBlock(block: string | null, calibrated: readonly CalibratedReflector[]): SameBlock | null {
  const named = nameOf(block);
  if (named === null || !calibrated.every((reflector) => nameOf(reflector.block) === named)) return null;
  const reflectors = calibrated.filter(
    (reflector): reflector is Known => reflector.uDistanceMm !== null && reflector.timeUs !== null,
  );
  if (reflectors.length < calibrated.length) return null;
  const fit = fitLine(
    reflectors.map((reflector) => reflector.distanceMm),
    reflectors.map((reflector) => reflector.timeUs),
  );
  const variance = fit.ok && fit.value.slope > 0 ? timingVariance(reflectors, fit.value) : null;
  return fit.ok && variance !== null ? { block: block!.trim(), slope: fit.value.slope, variance, reflectors } : null;
}

function nameOf(block: string | null): string | null {
  const name = block?.trim().toLowerCase() ?? '';
  return name === '' ? null : name;
}

/**
 * Standard uncertainty in mm of a path by the calibration, held against the distance of the same reflector: of the check's
 * timing, of the line by its own, and of what the line leaves over of the reflectors' errors. `null` where the check's
 * timing is not known.
 * Source: algebra of the line, JCGM 100:2008 (GUM), 5.1.2 and H.3 (from memory); derived.
 */
export function uDistanceErrorMm(
  same: SameBlock,
  distanceMm: number,
  pathMm: number,
  uTimeUs: number | null,
): number | null {
  if (uTimeUs === null) return null;
  const { slope, variance, reflectors } = same;
  const ofLine = variance.intercept + 2 * pathMm * variance.covariance + pathMm ** 2 * variance.slope;
  const weights = lineWeights(reflectors.map((reflector) => reflector.distanceMm));
  let leftOver = 0;
  reflectors.forEach((reflector, k) => {
    const own = isSame(reflector.distanceMm, distanceMm) ? 1 : 0;
    const drawn = weights.intercept[k] + weights.slope[k] * distanceMm;
    leftOver += ((own - drawn) * reflector.uDistanceMm) ** 2;
  });
  return Math.sqrt((uTimeUs ** 2 + ofLine) / slope ** 2 + leftOver);
}

/**
 * How sure the calibration's line is where one through some of its reflectors is held against it: by its timing alone, and
 * by what differs in how the two weigh each reflector's own error; nothing where both go through all of them.
 */
export function lineVarianceAgainst(same: SameBlock, checkedMm: readonly number[]): LineVariance {
  const { slope, variance, reflectors } = same;
  const before = lineWeights(reflectors.map((reflector) => reflector.distanceMm));
  const now = lineWeights(checkedMm);
  const total = { ...variance };
  reflectors.forEach(({ distanceMm, uDistanceMm }, k) => {
    const place = checkedMm.findIndex((checked) => isSame(checked, distanceMm));
    const u = slope * uDistanceMm;
    const ofIntercept = u * ((now.intercept[place] ?? 0) - before.intercept[k]);
    const ofSlope = u * ((now.slope[place] ?? 0) - before.slope[k]);
    total.intercept += ofIntercept ** 2;
    total.slope += ofSlope ** 2;
    total.covariance += ofIntercept * ofSlope;
  });
  return total;
}

/** The variances of a check's own line by its timing alone; `null` as for the calibration's. */
export function ownLineVariance(same: SameBlock, line: DistanceCalibration): LineVariance | null {
  const points = line.points.map((point) => ({
    ...point,
    uDistanceMm: reflectorAt(same, point.distanceMm)?.uDistanceMm ?? 0,
  }));
  const { residualSdUs: residualSd, degreesOfFreedom } = line;
  return timingVariance(points, { slope: 2000 / line.velocityMPerS.value, residualSd, degreesOfFreedom });
}

/** A line with these variances in place of its own. */
export function withVariance(
  line: DistanceCalibration,
  { intercept, slope, covariance }: LineVariance,
): DistanceCalibration {
  const velocity = line.velocityMPerS.value;
  return {
    ...line,
    velocityMPerS: { value: velocity, standardUncertainty: (velocity ** 2 / 2000) * Math.sqrt(slope) },
    zeroOffsetUs: { value: line.zeroOffsetUs.value, standardUncertainty: Math.sqrt(intercept) },
    covarianceUsUsPerMm: covariance,
  };
}

export function standsOn(same: SameBlock, distanceMm: number): boolean {
  return reflectorAt(same, distanceMm) !== undefined;
}

function reflectorAt({ reflectors }: SameBlock, distanceMm: number): Known | undefined {
  return reflectors.find((reflector) => isSame(reflector.distanceMm, distanceMm));
}

function isSame(aMm: number, bMm: number): boolean {
  return Math.abs(aMm - bMm) < sameReflectorMm;
}
