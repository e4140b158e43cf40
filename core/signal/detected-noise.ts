import type { SampleRange } from '../capture/waveform.ts';
import { exp } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { leastQuiet } from './noise.ts';

/*
 * Noise of a detected record. Detection shows the length of a vector: the echo, and noise of standard deviation σ in
 * step with the carrier and across it.
 *
 *     across |          crest:  the echo is long, so that noise across it does not count:
 *            |                  e = |A + n + i·m| = A + n + m²/2A …, which scatters by σ
 *        σ ( + )___echo__( + )  quiet:  e = |n + i·m|, Rayleigh-distributed: its mean square is 2σ²,
 *            |                  and it scatters by 0.655·σ only
 *
 * What is seen in the quiet part is therefore brought to what the crest suffers.
 */

/** Beyond so many counts the mean square of rounded values is that of the values, and 1/12. */
const manyCounts = 2;

/** Mean square, in counts, of Rayleigh-distributed values of σ counts each rounded to whole ones: Σ (2k − 1)·P(value > k − ½). */
function roundedMeanSquare(sigma: number): number {
  let sum = 0;
  for (let k = 1, term = 1; k < 64 && term > 1e-12; k++) {
    term = (2 * k - 1) * exp(-0.5 * ((k - 0.5) / sigma) ** 2);
    sum += term;
  }
  return sum;
}

/**
 * σ of the noise in step with the carrier, from the quiet part of a detected record. Where a count hides most of it, the
 * few samples that reach one still tell.
 * @param meanSquare of the quiet samples @param count of the converter, in their unit; 0 where they are not rounded
 * @returns in their unit, without the rounding's own
 * Source: Rayleigh's distribution, common practice; the rounded one derived from it.
 */
export function detectedSigma(meanSquare: number, count: number): number {
  const inCounts = meanSquare / (count * count);
  if (!(inCounts < 2 * manyCounts ** 2)) return Math.sqrt(Math.max(0, meanSquare - (count * count) / 12) / 2);
  let low = 0;
  let high = manyCounts + 1;
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    if (roundedMeanSquare(middle) < inCounts) low = middle;
    else high = middle;
  }
  return count * low;
}

/** Beyond this square of mean over standard deviation a quiet part is no Rayleigh-distributed one, which has 3.66 (sampled: below 5). */
const rayleighAtMost = 6;
/** Of the modulus of normal noise, 1 − 2/π of the power is spread, and the rest mean. */
const modulusSpread = 1 - 2 / Math.PI;
/** Rounding may hide a spread of so many counts altogether. */
const hiddenSpread = 0.3;

/**
 * Whether a detected record was smoothed after its rectifier: smoothing takes spread off the quiet part and leaves its mean.
 *
 *     detected  ~^~_~v~^_~^~     smoothed  ____--__--___
 *               _____________              _____________   zero
 */
export function isSmoothed({ mean, meanSquare }: QuietMoments): boolean {
  return mean * mean > rayleighAtMost * (meanSquare - mean * mean);
}

/**
 * Variance of the noise in step with the carrier, without the rounding's own. Where the record was smoothed after its
 * rectifier it follows from the quiet part's spread alone: a crest shows smoothed noise ± n where the quiet part shows
 * smoothed |n|, whose spread is 1 − 2/π of that (derived, for noise wider than the smoothing).
 * @param count of the converter, in the envelope's unit
 */
export function inPhaseVariance(moments: QuietMoments, count: number): number {
  if (!isSmoothed(moments)) return detectedSigma(moments.meanSquare, count) ** 2;
  const spread = moments.meanSquare - moments.mean * moments.mean - (count * count) / 12;
  return Math.max(spread, (hiddenSpread * count) ** 2) / modulusSpread;
}

/**
 * Standard deviation of the noise on the crests of a detected record, with the rounding's 1/√12 of a count. `null` where
 * too little is quiet.
 */
export function detectedNoise(envelope: Float64Array, quiet: readonly SampleRange[], count: number): number | null {
  const moments = quietMoments(envelope, quiet, () => 1);
  if (moments.count < leastQuiet) return null;
  return hypot(detectedSigma(moments.meanSquare, count), count / Math.sqrt(12));
}

/** Mean and mean square of an envelope over its quiet part, each sample divided by what the noise's level is there. */
export interface QuietMoments {
  readonly count: number;
  readonly mean: number;
  readonly meanSquare: number;
}

/** @param levelAt how strong the noise is at a sample, against what is wanted */
export function quietMoments(
  envelope: Float64Array,
  quiet: readonly SampleRange[],
  levelAt: (index: number) => number,
): QuietMoments {
  let count = 0;
  let sum = 0;
  let squares = 0;
  for (const { first, last } of quiet) {
    for (let i = first; i <= last; i++) {
      const value = envelope[i] / levelAt(i);
      sum += value;
      squares += value * value;
      count += 1;
    }
  }
  return { count, mean: sum / count, meanSquare: squares / count };
}

/** A correlation counts when it exceeds so many of its standard errors, 1/√N (Bartlett 1946, from memory). */
const clearCorrelation = 2;
const mostLags = 256;

/**
 * How the noise in step with the carrier hangs together, by lag from 0, each against the first: the square root of what
 * the envelope shows, because the covariance of a Rayleigh-distributed envelope goes with the square of the noise's own
 * (0.39·σ²·ρ², to within a tenth of it); that of smoothed noise goes as the noise's own. As far as it can be told from
 * chance.
 * Source: Rice 1944 (from memory), first term of the series.
 */
export function detectedCorrelation(
  envelope: Float64Array,
  quiet: readonly SampleRange[],
  { count, mean, meanSquare }: QuietMoments,
  levelAt: (index: number) => number,
): Float64Array {
  const variance = meanSquare - mean * mean;
  const correlation = [1];
  for (let lag = 1; lag < mostLags; lag++) {
    let sum = 0;
    let pairs = 0;
    for (const { first, last } of quiet) {
      for (let i = first; i + lag <= last; i++) {
        sum += (envelope[i] / levelAt(i) - mean) * (envelope[i + lag] / levelAt(i + lag) - mean);
        pairs += 1;
      }
    }
    const share = sum / (count * variance);
    if (!(pairs > 0 && share > clearCorrelation / Math.sqrt(count))) break;
    correlation.push(isSmoothed({ count, mean, meanSquare }) ? Math.min(1, share) : Math.sqrt(Math.min(1, share)));
  }
  return Float64Array.from(correlation);
}
