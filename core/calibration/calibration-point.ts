import type { CaptureId } from '../capture/capture.ts';
import type { SampleRange } from '../capture/waveform.ts';
import type { Flag } from '../flag.ts';

/** One known reflector and the time at which its echo was read. Distances are one-way sound paths. */
export interface CalibrationPoint {
  readonly distanceMm: number;
  /** Standard uncertainty of the distance itself (a tolerance ± a taken as rectangular is a/√3). */
  readonly uDistanceMm: number;
  readonly timeUs: number;
  readonly uTimeUs: number | null;
  readonly amplitudePercent: number | null;
  readonly captureId: CaptureId | null;
  readonly from: SampleRange | null;
  readonly flags: readonly Flag[];
}
