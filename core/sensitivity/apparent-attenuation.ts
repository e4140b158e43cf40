import { invariant } from '../invariant.ts';
import { dbFromRatio } from '../units/decibel.ts';
import { propagate, type Quantity } from '../units/quantity.ts';
import { spreadingOf } from './reflector-kind.ts';

/** One of the two echoes of a back wall. */
export interface BackWallEcho {
  /** One-way: n times the thickness for the n-th echo. */
  readonly distanceMm: number;
  readonly uDistanceMm: number;
  /** Gain taken out. */
  readonly levelDb: Quantity;
}

export interface ApparentAttenuation {
  /** By how much the far echo stands below the near one. */
  readonly dropDb: Quantity;
  /** What of it the spreading of the beam makes. */
  readonly spreadingDb: number;
  /** The further way that the sound of the far echo travels. */
  readonly travelMm: number;
  /** Per mm of that way; per mm of the thickness it is twice that. */
  readonly attenuationDbPerMm: Quantity;
}

/**
 * Attenuation from two echoes of one back wall in the far field, the geometric spread taken out:
 *
 *     attenuation = [20 · log10(H1 / H2) − 20 · log10(d2 / d1)] / [2 · (d2 − d1)]      dB per mm of travel
 *
 * It is apparent: what the surfaces lose at each reflection is in it. Distances count as independent of each other, which makes the uncertainty of multiples of
 * one thickness too large rather than too small.
 * Sources: ASTM E664 and Krautkrämer (from memory); formula derived; JCGM 100:2008 (GUM), 5.1.2.
 * @param near the echo of the shorter way @param far the other; farther than `near`
 */
export function apparentAttenuation(near: BackWallEcho, far: BackWallEcho): ApparentAttenuation {
  invariant(near.distanceMm > 0 && far.distanceMm > near.distanceMm, 'the far echo comes from farther away');
  const exponent = spreadingOf['back-wall'].exponent ?? 1;
  const travelMm = 2 * (far.distanceMm - near.distanceMm);
  const spreadingDb = exponent * dbFromRatio(far.distanceMm / near.distanceMm);
  const dropDb = propagate(near.levelDb.value - far.levelDb.value, [
    { sensitivity: 1, standardUncertainty: near.levelDb.standardUncertainty },
    { sensitivity: 1, standardUncertainty: far.levelDb.standardUncertainty },
  ]);
  const attenuation = (dropDb.value - spreadingDb) / travelMm;
  const perMm = exponent * dbFromRatio(Math.E);
  const attenuationDbPerMm = propagate(attenuation, [
    { sensitivity: 1 / travelMm, standardUncertainty: dropDb.standardUncertainty },
    {
      sensitivity: (perMm / near.distanceMm + 2 * attenuation) / travelMm,
      standardUncertainty: near.uDistanceMm,
    },
    {
      sensitivity: (perMm / far.distanceMm + 2 * attenuation) / travelMm,
      standardUncertainty: far.uDistanceMm,
    },
  ]);
  return { dropDb, spreadingDb, travelMm, attenuationDbPerMm };
}
