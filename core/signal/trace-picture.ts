import { samplesBetween } from '../capture/waveform.ts';
import type { Trace } from './conditioning.ts';

/** The span of a trace that is to be drawn small, and in how many parts at most. */
export interface PictureSpan {
  readonly fromUs: number;
  readonly toUs: number;
  readonly parts: number;
}

/** A trace as it is drawn small: what its samples reach down and up to, in % FSH, in equal parts of a span, so that no crest is lost. */
export interface TracePicture {
  /** Time of the first sample drawn, and of the last. */
  readonly fromUs: number;
  readonly toUs: number;
  readonly lowPercent: readonly number[];
  readonly highPercent: readonly number[];
}

/** The conditioned trace over a span; `null` where the record holds none of it. A span of fewer samples than parts has a part for each sample. */
export function tracePicture(
  trace: Pick<Trace, 'startUs' | 'stepUs' | 'samples'>,
  { fromUs, toUs, parts }: PictureSpan,
): TracePicture | null {
  const range = samplesBetween(trace, fromUs, toUs);
  if (range === null) return null;
  const { first, last } = range;
  const count = last - first + 1;
  const drawn = Math.min(parts, count);
  const lowPercent: number[] = [];
  const highPercent: number[] = [];
  for (let part = 0; part < drawn; part++) {
    const end = first + Math.floor(((part + 1) * count) / drawn);
    let i = first + Math.floor((part * count) / drawn);
    let [low, high] = [trace.samples[i], trace.samples[i]];
    for (; i < end; i++) {
      low = Math.min(low, trace.samples[i]);
      high = Math.max(high, trace.samples[i]);
    }
    lowPercent.push(low);
    highPercent.push(high);
  }
  return {
    fromUs: trace.startUs + first * trace.stepUs,
    toUs: trace.startUs + last * trace.stepUs,
    lowPercent,
    highPercent,
  };
}
