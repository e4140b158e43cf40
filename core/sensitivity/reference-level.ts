import { hypot } from '../elementary/hypotenuse.ts';
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
  /** The gain that the instrument was set to where all others are held against it: the person's, or that of the highest point. `null` where none is stated. */
  readonly setAtDb: number | null;
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
  if (gainDb !== null) {
    const known = gainsKnown ? gainDb : null;
    return { percent, gainDb: known, raisedDb: 0, by: 'stated', setAtDb: known };
  }
  const highest = heights.reduce((best, other) => (gainFreeDb(other) > gainFreeDb(best) ? other : best));
  const raisedDb = dbFromRatio(percent) - gainFreeDb(highest);
  return gainsKnown
    ? { percent, gainDb: raisedDb, raisedDb: 0, by: 'highest-point', setAtDb: highest.gainDb }
    : { percent, gainDb: null, raisedDb, by: 'highest-point', setAtDb: null };
}

/** What stands beside the noise in the uncertainty of a height, as standard uncertainties in dB; 0 takes it as exact. */
export interface HeightErrors {
  /** From peaking the same echo again and again. */
  readonly uCouplingDb: number;
  /** Of one gain against another; a height read at the gain that it is referred to does not have it. */
  readonly uGainDb: number;
}

/**
 * Standard uncertainty of a height in dB: u² = (20/ln 10 · noise / height)² + coupling² + gain². `null` where the noise is not known.
 * Source: JCGM 100:2008 (GUM), 5.1.2.
 */
export function heightUncertaintyDb(
  signalToNoiseDb: number | null,
  { uCouplingDb, uGainDb }: HeightErrors,
): number | null {
  if (signalToNoiseDb === null) return null;
  return hypot(dbFromRatio(Math.E) * ratioFromDb(-signalToNoiseDb), uCouplingDb, uGainDb);
}

/** By how many dB an echo stands above the reference level: 20 · log10(height / reference height) + reference gain − gain. */
export function levelAboveReference(read: HeightRead, reference: ReferenceLevel, errors: HeightErrors): Quantity {
  const { percent, gainDb, raisedDb, setAtDb } = reference;
  const referred = gainDb === null || read.gainDb === null ? raisedDb : gainDb - read.gainDb;
  const uGainDb = read.gainDb === setAtDb ? 0 : errors.uGainDb;
  return {
    value: dbFromRatio(read.amplitudePercent / percent) + referred,
    standardUncertainty: heightUncertaintyDb(read.signalToNoiseDb, { ...errors, uGainDb }),
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
