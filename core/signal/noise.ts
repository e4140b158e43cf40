import type { SampleRange } from '../capture/waveform.ts';
import { exp, log, log10 } from '../elementary/exponential.ts';
import { medianInto } from './median.ts';
import { WorkSpace } from './work-space.ts';

/** No estimate from fewer quiet samples than this. */
export const leastQuiet = 32;
/** So many values are enough to place a limit, and to measure the noise to a fraction of a per cent. */
const enoughForLevel = 256;
const enoughForMedian = 256;
const enoughForSquares = 65_536;
/** A Rayleigh-distributed envelope of noise has its median at 1.1774 standard deviations of the noise. */
const rayleighMedian = Math.sqrt(2 * log(2));
/** Noise alone exceeds 4 of its standard deviations in 3 of 10,000 independent samples (exp(−8)). */
const aboveNoise = 4;
/** Standard deviation of a normal distribution over its median absolute deviation. */
const normalFromMedian = 1.4826;
/** Of a normal distribution, the part within three standard deviations has 0.98658 of the whole one's: √(1 − 6·φ(3)/(2·Φ(3) − 1)). */
const withinReach = 3;
const truncatedNormal = 0.98658;

const chosen = new WorkSpace();

/**
 * The level of noise in an envelope, in its unit, from its median, echoes left out step by step, and never so low that
 * four times it would call a single count of the converter an echo. `null` where the envelope is empty.
 * @param rounding one count, after the filter
 */
export function envelopeNoise(envelope: Float64Array, rounding: number): number | null {
  const available = envelope.length;
  if (available < 1) return null;
  // An odd stride does not fall into step with a carrier sampled an even number of times to the period.
  const stride = available <= enoughForLevel ? 1 : Math.ceil(available / enoughForLevel) | 1;
  const values = chosen.take(Math.ceil(available / stride));
  let count = 0;
  for (let i = 0; i < available; i += stride) values[count++] = envelope[i];
  let level = medianInto(values, count) / rayleighMedian;
  for (let round = 0; round < 6; round++) {
    const limit = aboveNoise * level;
    let kept = 0;
    for (let i = 0; i < count; i++) if (values[i] <= limit) values[kept++] = values[i];
    if (kept === count || kept < leastQuiet) break;
    count = kept;
    level = medianInto(values, count) / rayleighMedian;
  }
  return Math.max(level, 0.375 * rounding);
}

/** How the noise of an envelope changes along the record: its level at a sample in % FSH is level·exp(slope·(index − middle)). */
export interface NoiseTrend {
  readonly level: number;
  readonly middle: number;
  readonly slope: number;
}

const trendBlocks = 12;
const valuesPerBlock = 64;
/** Less change than this from end to end (a factor of 1.65) hides no noise as echo and calls no echo noise. */
const leastChange = 0.5;

/**
 * Grain noise dies away with depth, and a limit of one height would call its beginning an echo. The slope is the median
 * of the slopes between the medians of twelve parts of the record, which an echo in some of them does not move.
 * Source: Theil 1950, Sen 1968 (from memory).
 * @param level as `envelopeNoise` gives it; it stands where there is no clear slope
 */
export function noiseTrend(envelope: Float64Array, first: number, level: number): NoiseTrend {
  const length = Math.floor((envelope.length - first) / trendBlocks);
  const flat = { level, middle: 0, slope: 0 };
  if (length < leastQuiet || level === 0) return flat;
  const stride = Math.max(1, Math.floor(length / valuesPerBlock)) | 1;
  const values = chosen.take(Math.ceil(length / stride));
  const logarithms = new Float64Array(trendBlocks);
  for (let block = 0; block < trendBlocks; block++) {
    let count = 0;
    for (let i = 0; i < length; i += stride) values[count++] = envelope[first + block * length + i];
    logarithms[block] = log(Math.max(medianInto(values, count) / rayleighMedian, level * 1e-6));
  }
  const slopes = new Float64Array((trendBlocks * (trendBlocks - 1)) / 2);
  let pairs = 0;
  for (let j = 1; j < trendBlocks; j++) {
    for (let i = 0; i < j; i++) slopes[pairs++] = (logarithms[j] - logarithms[i]) / (j - i);
  }
  const perBlock = medianInto(slopes, pairs);
  if (Math.abs(perBlock) * (trendBlocks - 1) < leastChange) return flat;
  const centre = (trendBlocks - 1) / 2;
  for (let block = 0; block < trendBlocks; block++) logarithms[block] -= perBlock * (block - centre);
  return {
    level: exp(medianInto(logarithms, trendBlocks)),
    middle: first + (trendBlocks * length) / 2,
    slope: perBlock / length,
  };
}

/**
 * The quiet part of a record: where its envelope stays below four times the noise, with half an echo's own width left
 * out on either side of each echo.
 *
 *     envelope     /\
 *     4 · noise --/--\-----------/\--
 *     _~_~_~_~___/    \__~_~_~__/  \_~_~
 *     |  quiet |  echo  | quiet | echo |
 *
 * @param first the samples before it (the main bang) are not quiet, whatever their height
 * @returns runs in order; none where fewer than 32 samples are left
 */
export function quietRuns(envelope: Float64Array, first: number, trend: NoiseTrend): SampleRange[] {
  const { level, middle, slope } = trend;
  const count = envelope.length;
  const ratio = exp(slope);
  let limit = aboveNoise * level * exp(slope * (first - middle));
  const runs: SampleRange[] = [];
  let quietFrom = first;
  for (let i = first; i < count; i++, limit *= ratio) {
    if (!(envelope[i] > limit)) continue;
    const from = i;
    while (i + 1 < count && envelope[i + 1] > limit * ratio) {
      i += 1;
      limit *= ratio;
    }
    const margin = 4 + ((i - from) >> 1);
    if (from - margin > quietFrom) runs.push({ first: quietFrom, last: from - margin - 1 });
    quietFrom = Math.max(quietFrom, i + margin + 1);
  }
  if (count > quietFrom) runs.push({ first: quietFrom, last: count - 1 });
  return samplesIn(runs) < leastQuiet ? [] : runs;
}

function samplesIn(runs: readonly SampleRange[]): number {
  let total = 0;
  for (const { first, last } of runs) total += last - first + 1;
  return total;
}

/**
 * Standard deviation of the noise over the quiet part. 1.4826 times the median absolute deviation, which a few spikes do
 * not move, says how far noise reaches; the root mean square of what lies within three times that is a steadier figure
 * from as many samples and takes its place. Never less than a count's own rounding, 1/√12.
 * @param samples RF in % FSH
 * @param rounding one count in % FSH, after the filter
 * @returns in % FSH; `null` where no part is quiet
 * Source: median absolute deviation, common practice; quantisation q/√12, common practice; truncated normal, derived.
 */
export function noiseOf(samples: Float64Array, quiet: readonly SampleRange[], rounding: number): number | null {
  const total = samplesIn(quiet);
  if (total < leastQuiet) return null;
  const stride = total <= enoughForMedian ? 1 : Math.ceil(total / enoughForMedian) | 1;
  const values = chosen.take(Math.ceil(total / stride) + quiet.length);
  let count = 0;
  for (const run of quiet) for (let i = run.first; i <= run.last; i += stride) values[count++] = samples[i];
  const middle = medianInto(values, count);
  for (let i = 0; i < count; i++) values[i] = Math.abs(values[i] - middle);
  // Rounded noise can only take a few values, and its median only one of them.
  const reach = withinReach * Math.max(normalFromMedian * medianInto(values, count), rounding);
  const everySo = total <= enoughForSquares ? 1 : Math.ceil(total / enoughForSquares) | 1;
  let squares = 0;
  let counted = 0;
  for (const run of quiet) {
    for (let i = run.first; i <= run.last; i += everySo) {
      const away = samples[i] - middle;
      if (away > reach || away < -reach) continue;
      squares += away * away;
      counted += 1;
    }
  }
  return Math.max(Math.sqrt(squares / counted) / truncatedNormal, rounding / Math.sqrt(12));
}

/**
 * Height of a peak over the noise, as 20·log10 of peak over root mean square. `null` where the noise is unknown or
 * nothing, or the amplitude is not above 0.
 */
export function signalToNoiseDb(
  trace: { readonly noisePercent: number | null },
  amplitudePercent: number,
): number | null {
  const { noisePercent } = trace;
  if (noisePercent === null || !(noisePercent > 0) || !(amplitudePercent > 0)) return null;
  return 20 * log10(amplitudePercent / noisePercent);
}
