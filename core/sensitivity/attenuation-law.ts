import { invariant } from '../invariant.ts';
import { fitLine } from '../statistics/line-fit.ts';
import { tQuantile } from '../statistics/t-quantile.ts';
import { dbFromRatio } from '../units/decibel.ts';
import { normalFactor95, propagate, type Quantity } from '../units/quantity.ts';
import type { CurvePoint } from './distance-amplitude-curve.ts';

/**
 * level(s) = level(a) − 20 · exponent · log10(s / a) − attenuation · 2 · (s − a)
 *
 * s is the one-way sound path, 2 · (s − a) the further way that the sound travels, there and back.
 */
export interface AttenuationLaw {
  readonly exponent: number;
  /** a: the nearest of the points that the law was fitted to. */
  readonly fromMm: number;
  readonly toMm: number;
  readonly levelAtFromDb: Quantity;
  /** Per mm that the sound travels; per mm of the sound path it is twice that. */
  readonly attenuationDbPerMm: Quantity;
  readonly attenuationHalfWidth95DbPerMm: number | null;
  /** Of that level and the attenuation. */
  readonly covarianceDbDbPerMm: number | null;
  readonly degreesOfFreedom: number;
  readonly residualSdDb: number;
  readonly points: readonly { readonly distanceMm: number; readonly levelDb: number; readonly residualDb: number }[];
}

/** Two parameters leave residuals from three points on. */
export const fewestForLaw = 3;

type LawPoint = Pick<CurvePoint, 'distanceMm' | 'uDistanceMm' | 'levelDb'>;

/**
 * Attenuation from the points of a curve: the spreading of the beam is taken out, and a straight line of the rest over the way travelled is fitted.
 *
 * Standard uncertainties: the larger of what the residuals say (n − 2 degrees of freedom) and of what the heights' and distances' own uncertainties imply.
 * The half-width of the 95 % interval is Student's t times the former or 1.960 times the latter, whichever is more.
 * Sources: spreading as in `spreadingOf`; JCGM 100:2008 (GUM), 5.1.2, H.3 and G.3.
 * @param points at least three, at different distances above 0, in the far field
 */
export function fitAttenuationLaw(points: readonly LawPoint[], exponent: number): AttenuationLaw {
  invariant(points.length >= fewestForLaw, 'a law is fitted to three points or more');
  const ordered = [...points].sort((a, b) => a.distanceMm - b.distanceMm);
  const fromMm = ordered[0].distanceMm;
  const travelled = ordered.map(({ distanceMm }) => 2 * (distanceMm - fromMm));
  const rest = ordered.map(({ distanceMm, levelDb }) => levelDb.value + exponent * dbFromRatio(distanceMm / fromMm));
  const fit = fitLine(travelled, rest);
  invariant(fit.ok, 'points at different distances have a line');
  const { intercept, slope, residuals, residualSd, degreesOfFreedom } = fit.value;
  const weights = lineWeights(travelled);
  const ofUnit = lineVariance(
    weights,
    ordered.map(() => 1),
  );
  const stated = lineVariance(
    weights,
    ordered.map((point) => statedVariance(point, exponent, slope)),
  );
  const found = (residualSd ?? 0) ** 2;
  const perPoint = Math.max(found, stated.slope / ofUnit.slope, stated.intercept / ofUnit.intercept);
  const unknown = perPoint === 0 && ordered.some((point) => point.levelDb.standardUncertainty === null);
  const uSlope = Math.sqrt(perPoint * ofUnit.slope);
  const byResiduals = tQuantile(0.975, degreesOfFreedom) * Math.sqrt(found * ofUnit.slope);
  return {
    exponent,
    fromMm,
    toMm: ordered[ordered.length - 1].distanceMm,
    levelAtFromDb: { value: intercept, standardUncertainty: unknown ? null : Math.sqrt(perPoint * ofUnit.intercept) },
    attenuationDbPerMm: { value: -slope + 0, standardUncertainty: unknown ? null : uSlope },
    attenuationHalfWidth95DbPerMm: unknown ? null : Math.max(byResiduals, normalFactor95 * uSlope),
    covarianceDbDbPerMm: unknown ? null : -perPoint * ofUnit.covariance,
    degreesOfFreedom,
    residualSdDb: residualSd ?? 0,
    points: ordered.map(({ distanceMm, levelDb }, i) => ({
      distanceMm,
      levelDb: levelDb.value,
      residualDb: residuals[i],
    })),
  };
}

/** Of a height whose noise is not known only the residuals can tell. */
function statedVariance({ distanceMm, uDistanceMm, levelDb }: LawPoint, exponent: number, slope: number): number {
  const perMm = (exponent * dbFromRatio(Math.E)) / distanceMm - 2 * slope;
  return (levelDb.standardUncertainty ?? 0) ** 2 + (perMm * uDistanceMm) ** 2;
}

/** Intercept and slope of a least-squares line are weighted sums of the ordinates. */
function lineWeights(x: readonly number[]): { readonly intercept: number; readonly slope: number }[] {
  const mean = x.reduce((sum, value) => sum + value, 0) / x.length;
  const sxx = x.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return x.map((value) => {
    const slope = (value - mean) / sxx;
    return { intercept: 1 / x.length - mean * slope, slope };
  });
}

function lineVariance(weights: ReturnType<typeof lineWeights>, variances: readonly number[]) {
  const sum = { intercept: 0, slope: 0, covariance: 0 };
  weights.forEach(({ intercept, slope }, i) => {
    sum.intercept += intercept ** 2 * variances[i];
    sum.slope += slope ** 2 * variances[i];
    sum.covariance += intercept * slope * variances[i];
  });
  return sum;
}

/** The level that the law gives at a distance, above the reference level. It says nothing outside the points that it was fitted to: `null`. */
export function lawAt(law: AttenuationLaw, distanceMm: number): Quantity | null {
  if (distanceMm < law.fromMm || distanceMm > law.toMm) return null;
  const travelledMm = 2 * (distanceMm - law.fromMm);
  const { levelAtFromDb, attenuationDbPerMm, covarianceDbDbPerMm, exponent } = law;
  const value =
    levelAtFromDb.value - exponent * dbFromRatio(distanceMm / law.fromMm) - travelledMm * attenuationDbPerMm.value;
  const separate = propagate(value, [
    { sensitivity: 1, standardUncertainty: levelAtFromDb.standardUncertainty },
    { sensitivity: travelledMm, standardUncertainty: attenuationDbPerMm.standardUncertainty },
  ]);
  if (separate.standardUncertainty === null) return separate;
  const common = -2 * travelledMm * (covarianceDbDbPerMm ?? 0);
  return { value, standardUncertainty: Math.sqrt(Math.max(0, separate.standardUncertainty ** 2 + common)) };
}
