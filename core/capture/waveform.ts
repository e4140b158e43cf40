/** The unit of the samples: per cent of full screen height (FSH), volt, or counts of a converter. */
export type AmplitudeUnit = 'percent' | 'volt' | 'count';

/** `rf`: both half waves. `full`, `positive`, `negative`: rectified. `envelope`: video with the carrier taken out. */
export type Rectification = 'rf' | 'full' | 'positive' | 'negative' | 'envelope';

/**
 * One recorded A-scan on a uniform time axis. It is never altered: conditioning gives a new trace.
 *
 *     amplitude |      /\
 *               |__/\_/  \__/\____
 *               +----------------------> time
 *               startUs   + i · stepUs
 */
export interface Waveform {
  /** Time of sample 0 in µs after the transmit trigger (two-way time). */
  readonly startUs: number;
  readonly stepUs: number;
  /** In `amplitudeUnit`, as the file has them. */
  readonly samples: Float64Array;
  /** `null` where the file does not say and nobody has said. */
  readonly amplitudeUnit: AmplitudeUnit | null;
  /** The amplitude that is 100 % of full screen height, in `amplitudeUnit` (100 for per cent); `null` where unknown. */
  readonly fullScreen: number | null;
  /** The amplitude that is the base line, in `amplitudeUnit`: 0, or mid-scale for unsigned RF counts. */
  readonly zeroLevel: number;
  readonly rectification: Rectification;
}

/** First and last sample, both included. */
export interface SampleRange {
  readonly first: number;
  readonly last: number;
}

export function timeAtUs(w: Pick<Waveform, 'startUs' | 'stepUs'>, index: number): number {
  return w.startUs + index * w.stepUs;
}

/** The samples whose times lie in the closed interval; `null` where there are none. A sample within 1e-9 of a step of the edge counts as inside. */
export function samplesBetween(
  w: Pick<Waveform, 'startUs' | 'stepUs'> & { readonly samples: ArrayLike<number> },
  fromUs: number,
  toUs: number,
): SampleRange | null {
  const first = Math.max(0, Math.ceil((fromUs - w.startUs) / w.stepUs - 1e-9));
  const last = Math.min(w.samples.length - 1, Math.floor((toUs - w.startUs) / w.stepUs + 1e-9));
  return first <= last ? { first, last } : null;
}
