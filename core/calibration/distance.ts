import type { CaptureId } from '../capture/capture.ts';
import type { SampleRange } from '../capture/waveform.ts';
import type { Flag } from '../flag.ts';
import type { Quantity } from '../units/quantity.ts';

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

/**
 * time = zero offset + 2 · distance / velocity
 *
 *     time |            x
 *          |       x        slope 2 / velocity
 *          |  x
 *     zero +--------------- distance
 *     offset
 */
export interface DistanceCalibration {
  readonly velocityMPerS: Quantity;
  readonly zeroOffsetUs: Quantity;
  /** Covariance of zero offset (µs) and slope (µs/mm): without it the uncertainty of a path is too large in mid range. */
  readonly covarianceUsUsPerMm: number | null;
  /** Half-widths of the 95 % intervals (Student's t, or k from the normal law where the fit is exact). */
  readonly velocityHalfWidth95MPerS: number | null;
  readonly zeroOffsetHalfWidth95Us: number | null;
  readonly degreesOfFreedom: number;
  /** Standard deviation of the residuals; `null` for an exact fit. */
  readonly residualSdUs: number | null;
  readonly points: readonly (CalibrationPoint & { readonly residualMm: number })[];
  readonly flags: readonly Flag[];
}
