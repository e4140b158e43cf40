import type { SampleRange } from '../capture/waveform.ts';

/** How a capture becomes a trace: data, so that it can be saved, shown and repeated. */
export interface ConditioningRecipe {
  /** What is taken out as base line before anything else. */
  readonly baseline: 'none' | 'mean' | 'linear';
  /** Zero-phase Butterworth band-pass; `order` is that of one pass, forward and backward double it. */
  readonly bandPass: { readonly lowMHz: number; readonly highMHz: number; readonly order: number } | null;
  /**
   * `extend`: the record is extended by odd reflection before filter and envelope and cropped after, so that the main bang does not wrap round.
   * `none`: padded with zeros to the next power of two only (what a plain script does).
   */
  readonly padding: 'extend' | 'none';
  /** How the time of a peak is found between samples. */
  readonly peak: 'log-parabola' | 'three-point';
}

export const defaultRecipe: ConditioningRecipe = {
  baseline: 'linear',
  bandPass: null,
  padding: 'extend',
  peak: 'log-parabola',
};

/**
 * A conditioned trace, in % of full screen height. `samples` is what a screen would draw (RF, or rectified where the record is);
 * `envelope` is what echoes are found and timed on.
 */
export interface Trace {
  readonly startUs: number;
  readonly stepUs: number;
  readonly samples: Float64Array;
  readonly envelope: Float64Array;
  /** Standard deviation of the noise in %, from the quiet part of the record; `null` where there is none. */
  readonly noisePercent: number | null;
  /** Runs of samples cut off by screen or converter, in the raw record. */
  readonly saturated: readonly SampleRange[];
  /** Until when the main bang rings; `null` where the record has no main bang. */
  readonly deadZoneEndUs: number | null;
  readonly recipe: ConditioningRecipe;
}
