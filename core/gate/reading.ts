import type { CaptureId } from '../capture/capture.ts';
import type { SampleRange } from '../capture/waveform.ts';
import type { Flag } from '../flag.ts';
import type { Quantity } from '../units/quantity.ts';

/** What one gate reads in one capture. Without a calibration the lengths are `null`; with no echo so are time and amplitude. */
export interface Reading {
  readonly captureId: CaptureId;
  readonly gate: string;
  readonly timeUs: Quantity | null;
  readonly crossingUs: number | null;
  /** A lower bound where the flag `saturated` stands. */
  readonly amplitudePercent: number | null;
  readonly signalToNoiseDb: number | null;
  readonly soundPathMm: Quantity | null;
  readonly depthMm: Quantity | null;
  /** From the probe's index point. */
  readonly surfaceDistanceMm: Quantity | null;
  readonly leg: number | null;
  /** Below the fitted peak of its series, gain taken out; `null` outside a series, and for a saturated reading. */
  readonly belowPeakDb: number | null;
  readonly flags: readonly Flag[];
  readonly from: SampleRange | null;
}
