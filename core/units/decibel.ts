import { log10, power } from '../elementary/exponential.ts';

/** 20 · log10(ratio) for a ratio of amplitudes. A ratio of 0 is −∞ dB; a negative one has no level (NaN). */
export function dbFromRatio(ratio: number): number {
  return 20 * log10(ratio);
}

/** The ratio of amplitudes that a level in dB stands for. */
export function ratioFromDb(levelDb: number): number {
  return power(10, levelDb / 20);
}

/** By how many dB an amplitude stands above (positive) or below another in the same unit, taken at the same gain. */
export function differenceDb(amplitude: number, reference: number): number {
  return dbFromRatio(amplitude / reference);
}

/**
 * The height that an echo read at one gain would have at another: gain taken out. More gain draws the same echo higher.
 * An unknown gain leaves the height as it was read.
 * @param percent in % FSH @param gainDb at which it was read @param referenceGainDb to which it is referred
 */
export function percentAtGain(percent: number, gainDb: number | null, referenceGainDb: number): number {
  return gainDb === null ? percent : percent * ratioFromDb(referenceGainDb - gainDb);
}
