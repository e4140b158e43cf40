import type { SampleRange } from '../capture/waveform.ts';
import { log } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { ratioFromDb } from '../units/decibel.ts';
import { type Measured, measured, notMeasurable } from './measured.ts';
import { leastLevelOfNoise } from './pulse-duration.ts';

/** Where an envelope leaves a level for good on one side of its peak, in samples, and how steeply, by samples. */
interface Crossing {
  readonly sample: number;
  readonly slope: number;
}

/** The outermost crossings of a level inside a range; `null` where the envelope still stands above it at that end. */
interface Crossings {
  readonly before: Crossing | null;
  readonly after: Crossing | null;
}

/** An envelope with its peak, as the widths of it are measured. */
export interface EnvelopePeak {
  readonly envelope: Float64Array;
  readonly range: SampleRange;
  readonly heightPercent: number;
  /** The peak, in samples. */
  readonly at: number;
  readonly uAtUs: number | null;
  readonly stepUs: number;
  readonly noiseSd: number | null;
}

function outermost({ envelope, range }: EnvelopePeak, level: number): Crossings {
  const from = (start: number, step: -1 | 1, end: number): Crossing | null => {
    if (envelope[start] >= level) return null;
    let i = start;
    while (i !== end && envelope[i + step] < level) i += step;
    if (i === end) return null;
    const low = Math.max(envelope[i], level * 1e-9);
    const high = envelope[i + step];
    // A straight line through the logarithms: flanks of echoes are nearer to that than to a straight line.
    const share = log(level / low) / log(high / low);
    return { sample: i + step * share, slope: level * log(high / low) };
  };
  return { before: from(range.first, 1, range.last), after: from(range.last, -1, range.first) };
}

/** From the first to the last time at which the envelope exceeds a level of its peak. */
export function envelopeDuration(peak: EnvelopePeak, levelDb: number): Measured {
  const share = ratioFromDb(-levelDb);
  const level = share * peak.heightPercent;
  const { noiseSd, stepUs } = peak;
  if (noiseSd !== null && level < leastLevelOfNoise * noiseSd) return notMeasurable('level-in-noise');
  const { before, after } = outermost(peak, level);
  if (before === null || after === null) return notMeasurable('cut-by-gate');
  const value = (after.sample - before.sample) * stepUs;
  if (noiseSd === null) return measured(value, null);
  const crossings = noiseSd * hypot(1 / before.slope, 1 / after.slope);
  const ofPeak = noiseSd * share * (1 / before.slope + 1 / after.slope);
  return measured(value, hypot(crossings, ofPeak) * stepUs);
}

/** From the envelope’s peak to the last time at which it exceeds a level of it. */
export function ringDown(peak: EnvelopePeak, levelDb: number): Measured {
  const share = ratioFromDb(-levelDb);
  const level = share * peak.heightPercent;
  const { noiseSd, stepUs, at, uAtUs } = peak;
  if (noiseSd !== null && level < leastLevelOfNoise * noiseSd) return notMeasurable('level-in-noise');
  const { after } = outermost(peak, level);
  if (after === null) return notMeasurable('cut-by-gate');
  const value = (after.sample - at) * stepUs;
  if (noiseSd === null || uAtUs === null) return measured(value, null);
  return measured(value, hypot((noiseSd * hypot(1, share) * stepUs) / after.slope, uAtUs));
}
