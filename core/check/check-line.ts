import { type DistanceCalibration, fitDistance } from '../calibration/distance.ts';
import type { Problem } from '../outcome.ts';
import type { CheckCapture, CheckedReflector } from './drift.ts';
import { lineVarianceAgainst, ownLineVariance, type SameBlock, withVariance } from './same-block.ts';

/** The calibration, as sure as it is against the line of a check on the same block. */
export function againstLine(
  calibration: DistanceCalibration,
  same: SameBlock,
  line: DistanceCalibration,
): DistanceCalibration {
  const checkedMm = line.points.map((point) => point.distanceMm);
  return withVariance(calibration, lineVarianceAgainst(same, checkedMm));
}

/** The check's own line through the reflectors seen; their distances are exact where the calibration was made on the same ones. */
export function lineOf(
  check: CheckCapture,
  seen: readonly CheckedReflector[],
  same: SameBlock | null,
  warnings: Problem[],
): DistanceCalibration | null {
  if (seen.length < 2) return null;
  const line = fitDistance(
    seen.map(({ distanceMm, uDistanceMm = 0, timeUs, amplitudePercent, flags, from }) => ({
      distanceMm,
      uDistanceMm: same === null ? uDistanceMm : 0,
      timeUs: timeUs!.value,
      uTimeUs: timeUs!.standardUncertainty,
      amplitudePercent,
      captureId: check.captureId,
      from,
      flags,
    })),
  );
  if (line.ok) {
    const variance = same && ownLineVariance(same, line.value);
    return variance === null ? line.value : withVariance(line.value, variance);
  }
  warnings.push(...line.problems.map((p) => ({ ...p, place: { ...p.place, file: check.captureId } })));
  return null;
}
