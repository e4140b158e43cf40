import { hypot } from '../elementary/hypotenuse.ts';
import type { Nominal } from '../material/velocities.ts';
import { rectangularUncertainty } from '../units/quantity.ts';

/** One series of echoes that a block gives in one direction. Distances are one-way sound paths. */
export interface BlockSeries {
  /** As asked for on the command line and on screen, in plain words: `iso-7963/25`. */
  readonly name: string;
  readonly title: string;
  readonly distancesMm: readonly number[];
  /** Half-width of the manufacturing tolerance on a distance that is a dimension of its own; 0 where `shared` tells instead. */
  readonly toleranceMm: number;
  /** Where one or two dimensions make all distances: what their errors have in common. `null` where each distance is its own dimension. */
  readonly shared: SharedDistanceErrors | null;
  /** Other directions' distances and known features (a slot, the other radius), to name an echo that belongs to no reflector of the series. */
  readonly features: readonly BlockFeature[];
  readonly nominal: Nominal;
  readonly source: string;
}

export interface BlockFeature {
  readonly name: string;
  readonly distanceMm: number;
}

/**
 * What the distances' errors have in common, as standard uncertainties: true distance = (1 + scale) · distance + shift.
 * The residuals of a fit cannot show it, and more echoes of the same dimensions do not average it away.
 */
export interface SharedDistanceErrors {
  readonly uScale: number;
  readonly uShiftMm: number;
  readonly covarianceMm: number;
}

/** The name under which the echoes of the radius on the other side stand among a block's features. */
export const otherRadius = 'the other radius';

/**
 * The series of two radii on one centre, the probe facing the first: d = R1 + n · (R1 + R2). The pulse comes home from R1; part of
 * it turns at the scanning face to R2, back to the centre and to R1, and is heard when it comes home from there.
 *
 *            index
 *     ---------x---------
 *      \   R2 / \       /
 *       `----'   \ R1  /
 *                 `---'
 *
 * Source: geometry of the two-radius block (derived; the series are common practice).
 */
export function twoRadiusDistances(facingMm: number, otherMm: number, count: number): number[] {
  return Array.from({ length: count }, (_, n) => facingMm + n * (facingMm + otherMm));
}

/** Errors that a two-radius series shares, each radius with a tolerance of ± this half-width, independent of the other. */
export function twoRadiusErrors(facingMm: number, otherMm: number, toleranceMm: number): SharedDistanceErrors {
  const u = rectangularUncertainty(toleranceMm);
  const spacing = facingMm + otherMm;
  return {
    uScale: (u * Math.SQRT2) / spacing,
    uShiftMm: (u * hypot(facingMm, otherMm)) / spacing,
    covarianceMm: (u ** 2 * (otherMm - facingMm)) / spacing ** 2,
  };
}

/** The series of a parallel plate or of one radius that returns to itself: T, 2T, 3T … */
export function multiples(thicknessMm: number, count: number): number[] {
  return Array.from({ length: count }, (_, n) => (n + 1) * thicknessMm);
}

/** One dimension makes all multiples: they are wrong by its scale and nothing else. */
export function multipleErrors(thicknessMm: number, toleranceMm: number): SharedDistanceErrors {
  return { uScale: rectangularUncertainty(toleranceMm) / thicknessMm, uShiftMm: 0, covarianceMm: 0 };
}
