import { exp } from '../elementary/exponential.ts';

/** An echo's σ is half its width at this part of its height. */
export const oneSigmaDown = exp(-0.5);

/** A third of σ aside, where one side is twice as far as the other, a Gaussian is lower by this part; two samples differ by √2 of their noise. */
const thirdDown = 1 - exp(-1 / 18);

/**
 * Half the width of an echo at exp(−1/2) of its height, in samples: σ of a Gaussian. Where one side does not come down
 * to that (another echo, the record's end), or comes down more than twice as late, the other side stands for both.
 * Where noise may have chosen a highest sample so far aside, the sides make up for each other, and their mean is taken.
 * @param unevenness of the top by noise, in the envelope's unit
 */
export function echoSigma(envelope: Float64Array, index: number, unevenness = 0): number | null {
  const level = oneSigmaDown * envelope[index];
  const before = samplesDownTo(envelope, index, level, -1);
  const after = samplesDownTo(envelope, index, level, 1);
  const narrow = Math.min(before, after);
  if (!Number.isFinite(narrow)) return null;
  if (!Number.isFinite(Math.max(before, after))) return narrow;
  const isOneSided = Math.max(before, after) > 2 * narrow && unevenness < Math.SQRT2 * thirdDown * envelope[index];
  return isOneSided ? narrow : (before + after) / 2;
}

/**
 * How many times as long an echo falls to exp(−1/2) of its height as it rises from there: 1 of a Gaussian; infinite or no
 * number where a side does not come down so far.
 * @param offset of the vertex from the highest sample
 */
export function fallOverRise(envelope: Float64Array, index: number, offset: number): number {
  const level = oneSigmaDown * envelope[index];
  const rise = samplesDownTo(envelope, index, level, -1) + offset;
  return (samplesDownTo(envelope, index, level, 1) - offset) / rise;
}

/** From a peak to one side down to a level, between samples; infinite where that is never reached, or something higher comes first. */
function samplesDownTo(envelope: Float64Array, index: number, level: number, step: -1 | 1): number {
  let i = index;
  while (i >= 0 && i < envelope.length && envelope[i] >= level) {
    if (envelope[i] > envelope[index]) return Number.POSITIVE_INFINITY;
    i += step;
  }
  if (i < 0 || i >= envelope.length) return Number.POSITIVE_INFINITY;
  return Math.abs(i - index) - (level - envelope[i]) / (envelope[i - step] - envelope[i]);
}
