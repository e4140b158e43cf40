/** An echo's σ is half its width at this part of its height. */
export const oneSigmaDown = Math.exp(-0.5);

/**
 * Half the width of an echo at exp(−1/2) of its height, in samples: σ of a Gaussian. Where one side does not come down
 * to that (another echo, the record's end), or comes down more than twice as late, the other side stands for both.
 */
export function echoSigma(envelope: Float64Array, index: number): number | null {
  const level = oneSigmaDown * envelope[index];
  const before = samplesDownTo(envelope, index, level, -1);
  const after = samplesDownTo(envelope, index, level, 1);
  const narrow = Math.min(before, after);
  if (!Number.isFinite(narrow)) return null;
  return Math.max(before, after) > 2 * narrow ? narrow : (before + after) / 2;
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
