import { dbFromRatio, ratioFromDb } from '../units/decibel.ts';
import type { Quantity } from '../units/quantity.ts';

/** The height that all levels are told against: so many % of full screen height at a gain. */
export interface ReferenceLevel {
  readonly percent: number;
  /** The gain at which that height is meant; `null` where no capture states its gain. */
  readonly gainDb: number | null;
  /** Where no gain is stated: by how much all heights are raised above those recorded, at one gain that nobody knows. 0 otherwise. */
  readonly raisedDb: number;
  /** `stated`: the person's gain. `highest-point`: the gain at which the highest point of the curve stands at that height. */
  readonly by: 'stated' | 'highest-point';
}

/** An echo's height as it was read. */
export interface HeightRead {
  readonly amplitudePercent: number;
  readonly gainDb: number | null;
  /** Peak against rms of the noise; `null` where the noise is not known. */
  readonly signalToNoiseDb: number | null;
}

/** The height in dB over 1 % FSH, gain taken out. An unknown gain is taken as 0 dB: only heights of one unknown gain may be compared so. */
export function gainFreeDb({ amplitudePercent, gainDb }: Pick<HeightRead, 'amplitudePercent' | 'gainDb'>): number {
  return dbFromRatio(amplitudePercent) - (gainDb ?? 0);
}

/**
 * The reference level, from the heights of the curve's reflectors. Common practice brings the highest of them to 80 % FSH.
 * @param heights at least one; all state their gain, or none does
 */
export function referenceLevel(
  heights: readonly Pick<HeightRead, 'amplitudePercent' | 'gainDb'>[],
  stated: { readonly percent: number; readonly gainDb: number | null },
): ReferenceLevel {
  const gainsKnown = heights.every(({ gainDb }) => gainDb !== null);
  const { percent, gainDb } = stated;
  if (gainDb !== null) return { percent, gainDb: gainsKnown ? gainDb : null, raisedDb: 0, by: 'stated' };
  const raisedDb = dbFromRatio(percent) - Math.max(...heights.map(gainFreeDb));
  return gainsKnown
    ? { percent, gainDb: raisedDb, raisedDb: 0, by: 'highest-point' }
    : { percent, gainDb: null, raisedDb, by: 'highest-point' };
}

/**
 * Standard uncertainty of a height in dB: u² = (20/ln 10 · noise / height)² + coupling². `null` where the noise is not known.
 * The gain counts as exact. Source: JCGM 100:2008 (GUM), 5.1.2.
 */
export function heightUncertaintyDb(signalToNoiseDb: number | null, uCouplingDb: number): number | null {
  if (signalToNoiseDb === null) return null;
  return Math.hypot(dbFromRatio(Math.E) * ratioFromDb(-signalToNoiseDb), uCouplingDb);
}

/** By how many dB an echo stands above the reference level: 20 · log10(height / reference height) + reference gain − gain. */
export function levelAboveReference(read: HeightRead, reference: ReferenceLevel, uCouplingDb: number): Quantity {
  const { percent, gainDb, raisedDb } = reference;
  const referred = gainDb === null || read.gainDb === null ? raisedDb : gainDb - read.gainDb;
  return {
    value: dbFromRatio(read.amplitudePercent / percent) + referred,
    standardUncertainty: heightUncertaintyDb(read.signalToNoiseDb, uCouplingDb),
  };
}

/** A level above the reference as a height on the screen at the reference gain. */
export function heightAtReference(levelDb: Quantity, reference: Pick<ReferenceLevel, 'percent'>): Quantity {
  return ratioQuantity(levelDb, reference.percent);
}

/** So many dB above `whole`, in the unit of `whole`: u(x) = x · ln 10 / 20 · u(dB). */
export function ratioQuantity(levelDb: Quantity, whole: number): Quantity {
  const value = whole * ratioFromDb(levelDb.value);
  const u = levelDb.standardUncertainty;
  return { value, standardUncertainty: u === null ? null : (value * u) / dbFromRatio(Math.E) };
}
