import type { SharedDistanceErrors } from '../block/reference-block.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import type { Flag } from '../flag.ts';
import { invariant } from '../invariant.ts';
import { failure, type Outcome, success } from '../outcome.ts';
import { fitLine } from '../statistics/line-fit.ts';
import { normalFactor95, propagate, type Quantity } from '../units/quantity.ts';
import type { CalibrationPoint } from './calibration-point.ts';
import { type LineVariance, lineUncertainty } from './line-variance.ts';
import { mistakenPoints } from './mistaken-points.ts';
import { pointProblems } from './point-problems.ts';

export type { CalibrationPoint };

/**
 * time = zero offset + 2 · distance / velocity
 *
 *     time |            x
 *          |       x        slope 2 / velocity
 *          |  x
 *     zero +--------------- distance
 *     offset
 */
export interface DistanceCalibration {
  readonly velocityMPerS: Quantity;
  readonly zeroOffsetUs: Quantity;
  /** Covariance of zero offset (µs) and slope (µs/mm): without it the uncertainty of a path is too large in mid range. */
  readonly covarianceUsUsPerMm: number | null;
  /** Half-widths of the 95 % intervals (Student's t, or k from the normal law where timing and tolerance account for the scatter). */
  readonly velocityHalfWidth95MPerS: number | null;
  readonly zeroOffsetHalfWidth95Us: number | null;
  readonly degreesOfFreedom: number;
  /** Standard deviation of the residuals; `null` for an exact fit. */
  readonly residualSdUs: number | null;
  readonly points: readonly (CalibrationPoint & { readonly residualMm: number })[];
  readonly flags: readonly Flag[];
}

/**
 * Velocity and zero offset from known reflectors, in order of distance. Two points fix the line exactly (flag `exact-fit`);
 * more are fitted as time on distance by least squares.
 *
 * Standard uncertainties of more than two points: the larger of what the residuals say (s with n − 2 degrees of freedom) and of
 * what timing and the distances' own tolerances imply; of two points, the latter, or unknown where a timing uncertainty is.
 * The 95 % interval is u times 1.960 while the residuals scatter no more than twice as wide as the stated uncertainties explain.
 * Where they scatter wider, or the timing's uncertainty is not known, it is Student's t times what the residuals say, and never
 * less than u times 1.960.
 * What the distances' errors share (`shared`, from the block) is added to both, since no residual shows it.
 * Points off the line are marked `residuals-too-large`.
 *
 * Problems: `too-few-reflectors`, `not-a-number`, `distance-not-positive`, `uncertainty-negative`, `distance-twice`, `time-not-rising`.
 * Sources: JCGM 100:2008 (GUM), 5.1.2, 5.2.2 and H.3; the choice between stated and found scatter is common practice.
 */
export function fitDistance(
  points: readonly CalibrationPoint[],
  shared: SharedDistanceErrors | null = null,
): Outcome<DistanceCalibration> {
  const problems = pointProblems(points);
  if (problems.length > 0) return failure(...problems);
  const ordered = [...points].sort((a, b) => a.distanceMm - b.distanceMm);
  const distances = ordered.map((p) => p.distanceMm);
  const fit = fitLine(
    distances,
    ordered.map((p) => p.timeUs),
  );
  invariant(fit.ok, 'points without a problem have a line');
  const { intercept, slope, residuals, residualSd, degreesOfFreedom } = fit.value;
  const own = lineUncertainty(ordered, fit.value);
  const line = own === null ? null : withShared(own, slope, shared);

  const mistaken = degreesOfFreedom === 0 ? [] : mistakenPoints(ordered);
  const flags: Flag[] = [];
  if (degreesOfFreedom === 0) flags.push('exact-fit');
  if (mistaken.includes(true)) flags.push('residuals-too-large');
  const velocity = 2000 / slope;
  const perSlope = velocity / slope;
  return success({
    velocityMPerS: { value: velocity, standardUncertainty: line === null ? null : perSlope * Math.sqrt(line.slope) },
    zeroOffsetUs: { value: intercept, standardUncertainty: line === null ? null : Math.sqrt(line.intercept) },
    covarianceUsUsPerMm: line?.covariance ?? null,
    velocityHalfWidth95MPerS: line === null ? null : perSlope * line.slopeHalfWidth95,
    zeroOffsetHalfWidth95Us: line?.interceptHalfWidth95 ?? null,
    degreesOfFreedom,
    residualSdUs: residualSd,
    points: ordered.map((point, i) => ({
      ...point,
      residualMm: residuals[i] / slope,
      flags:
        mistaken[i] && !point.flags.includes('residuals-too-large')
          ? [...point.flags, 'residuals-too-large']
          : point.flags,
    })),
    flags,
  });
}

function withShared(
  own: LineVariance & { factor95: number },
  slope: number,
  shared: SharedDistanceErrors | null,
): LineVariance & { slopeHalfWidth95: number; interceptHalfWidth95: number } {
  const ofSlope = shared === null ? 0 : slope * shared.uScale;
  const ofIntercept = shared === null ? 0 : slope * shared.uShiftMm;
  const half = (variance: number, u: number) => hypot(own.factor95 * Math.sqrt(variance), normalFactor95 * u);
  return {
    intercept: own.intercept + ofIntercept ** 2,
    slope: own.slope + ofSlope ** 2,
    covariance: own.covariance + (shared === null ? 0 : slope ** 2 * shared.covarianceMm),
    slopeHalfWidth95: half(own.slope, ofSlope),
    interceptHalfWidth95: half(own.intercept, ofIntercept),
  };
}

/**
 * The sound path in mm of an echo at a time in µs: (time − zero offset) · velocity / 2. Its uncertainty has the timing's share and
 * the calibration's with its covariance (GUM H.3.5); it is unknown where one of them is. A calibration without a covariance is
 * taken as uncorrelated, which makes the uncertainty too large rather than too small.
 */
export function pathFromTime(calibration: DistanceCalibration, timeUs: number, uTimeUs: number | null): Quantity {
  const { velocityMPerS, zeroOffsetUs, covarianceUsUsPerMm } = calibration;
  const slope = 2000 / velocityMPerS.value;
  const pathMm = (timeUs - zeroOffsetUs.value) / slope;
  const uVelocity = velocityMPerS.standardUncertainty;
  const separate = propagate(pathMm, [
    { sensitivity: 1 / slope, standardUncertainty: uTimeUs },
    { sensitivity: 1 / slope, standardUncertainty: zeroOffsetUs.standardUncertainty },
    { sensitivity: pathMm / velocityMPerS.value, standardUncertainty: uVelocity },
  ]);
  if (separate.standardUncertainty === null) return separate;
  const common = (2 * pathMm * (covarianceUsUsPerMm ?? 0)) / slope ** 2;
  return { value: pathMm, standardUncertainty: Math.sqrt(Math.max(0, separate.standardUncertainty ** 2 + common)) };
}

/** When the echo of a reflector at a one-way sound path in mm arrives, in µs. */
export function timeFromPath(calibration: DistanceCalibration, pathMm: number): number {
  return calibration.zeroOffsetUs.value + (2000 * pathMm) / calibration.velocityMPerS.value;
}
