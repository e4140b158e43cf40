import type { SampleRange } from '../capture/waveform.ts';
import type { Flag } from '../flag.ts';

/** One echo of a trace. Times in µs, amplitudes in % FSH of the envelope. */
export interface Echo {
  readonly timeUs: number;
  readonly uTimeUs: number | null;
  /** Where the leading flank rises through a fifth of the echo's own peak; `null` where the flank does not come down that far. */
  readonly onsetUs: number | null;
  readonly amplitudePercent: number;
  /** Height above the higher of the two saddles beside it. */
  readonly prominencePercent: number;
  readonly signalToNoiseDb: number | null;
  readonly flags: readonly Flag[];
  /** The samples the figures were made from. */
  readonly from: SampleRange;
}
