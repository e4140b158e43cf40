import { type DistanceCalibration, fitDistance } from '../../core/calibration/distance.ts';

/**
 * A calibration of exactly this velocity and zero offset, read at the given distances with one timing uncertainty; the distances are exact.
 * `noiseUs` moves each reading off its true time.
 */
export function calibrated(
  velocityMPerS: number,
  zeroOffsetUs: number,
  { distancesMm = [100, 225], uTimeUs = 0.002 as number | null, noiseUs = [] as readonly number[] } = {},
): DistanceCalibration {
  const outcome = fitDistance(
    distancesMm.map((distanceMm, i) => ({
      distanceMm,
      uDistanceMm: 0,
      timeUs: zeroOffsetUs + (2000 * distanceMm) / velocityMPerS + (noiseUs[i] ?? 0),
      uTimeUs,
      amplitudePercent: 80,
      captureId: null,
      from: null,
      flags: [],
    })),
  );
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.sentence).join('; '));
  return outcome.value;
}
