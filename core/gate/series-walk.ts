import type { SeriesMember } from './off-peak.ts';
import type { Reading } from './reading.ts';
import { leastWalkMm, walkingPoints } from './walking.ts';

/** Without a calibration a walk is judged on time alone: 0.1 µs is 0.16 mm of transverse, 0.3 mm of longitudinal wave in steel. */
const leastWalkWithoutCalibrationUs = 0.1;

/** Judged on time, whose uncertainty is that of the reading alone; a reading at the gate's edge follows the gate, not the echo, and is left out. */
export function walkingMembers(
  members: readonly SeriesMember[],
  order: readonly number[],
  positionsMm: readonly number[] | null,
): boolean[] {
  const timed = order.filter(
    (i) => members[i].reading.timeUs !== null && !members[i].reading.flags.includes('cut-by-gate'),
  );
  const points = timed.map((i, place) => {
    const { value, standardUncertainty } = members[i].reading.timeUs!;
    return { at: positionsMm?.[i] ?? place, timeUs: value, uTimeUs: standardUncertainty };
  });
  const steady = walkingPoints(points, leastWalkUs(timed.map((i) => members[i].reading)));
  const walks = members.map(() => false);
  timed.forEach((i, place) => {
    walks[i] = steady[place];
  });
  return walks;
}

/** 0.2 mm of sound path as a time, by the readings' own sound paths; a fixed time where they have none. */
function leastWalkUs(readings: readonly Reading[]): number {
  const withPath = readings.filter((reading) => reading.soundPathMm !== null);
  if (withPath.length < 2) return leastWalkWithoutCalibrationUs;
  const byTime = (pick: (a: number, b: number) => boolean) =>
    withPath.reduce((best, reading) => (pick(reading.timeUs!.value, best.timeUs!.value) ? reading : best));
  const earliest = byTime((a, b) => a < b);
  const latest = byTime((a, b) => a > b);
  const overUs = latest.timeUs!.value - earliest.timeUs!.value;
  const overMm = latest.soundPathMm!.value - earliest.soundPathMm!.value;
  return overUs > 0 && overMm > 0 ? (leastWalkMm * overUs) / overMm : leastWalkWithoutCalibrationUs;
}
