import { log } from '../elementary/exponential.ts';
import { ratioFromDb } from '../units/decibel.ts';
import type { Quantity } from '../units/quantity.ts';
import type { EnvelopePeak } from './envelope-width.ts';
import type { Hindrance } from './hindrance.ts';
import { leastLevelOfNoise } from './pulse-duration.ts';

/** The fall behind the peak is read between these levels. */
const fromDb = 3;
const toDb = 20;
/** Fewer samples make no line. */
const fewest = 5;

/**
 * How fast an envelope falls behind its peak: slope of a straight line through its natural logarithm, from the first sample below −3 dB to the last
 * before −20 dB, by least squares, in 1/µs. Of an exponential decay exp(−t/τ) it is 1/τ; of any other shape, its mean over these levels.
 * @param spreadOf standard deviation of Σ wₖ·nₖ of the noise in phase with the echo; `null` where it is not known
 * Source: common practice (logarithmic decrement); propagation JCGM 100:2008, section 5.
 */
export function decayRate(
  { envelope, range, heightPercent, at, stepUs, noiseSd }: EnvelopePeak,
  spreadOf: ((weights: Float64Array) => number) | null,
): { readonly ok: true; readonly perUs: Quantity } | { readonly ok: false; readonly hindrance: Hindrance } {
  const high = heightPercent * ratioFromDb(-fromDb);
  const low = heightPercent * ratioFromDb(-toDb);
  if (noiseSd !== null && low < leastLevelOfNoise * noiseSd) return { ok: false, hindrance: 'level-in-noise' };
  let first = Math.ceil(at);
  while (first <= range.last && envelope[first] > high) first += 1;
  let last = first;
  while (last <= range.last && envelope[last] > low) last += 1;
  if (last > range.last) return { ok: false, hindrance: 'cut-by-gate' };
  const count = last - first;
  if (count < fewest) return { ok: false, hindrance: 'no-decay' };
  const middle = (count - 1) / 2;
  const squares = (count * (count * count - 1)) / 12;
  let slope = 0;
  const weights = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const share = (k - middle) / squares;
    slope += share * log(envelope[first + k]);
    weights[k] = share / envelope[first + k];
  }
  const perUs = {
    value: -slope / stepUs,
    standardUncertainty: spreadOf === null ? null : spreadOf(weights) / stepUs,
  };
  return { ok: true, perUs };
}
