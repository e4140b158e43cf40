import type { CaptureId } from '../capture/capture.ts';
import type { Reading } from '../gate/reading.ts';
import { dbFromRatio, ratioFromDb } from '../units/decibel.ts';
import type { Station } from './scan-lines.ts';

/**
 * `read`: the echo's height. `cut-off`: the crest is cut off, the true height is this or more. `missing`: no echo stands out from the noise, or only the flank
 * of another one does: the height is this or less.
 */
export type PointState = 'read' | 'cut-off' | 'missing';

/** The height of one indication in one capture. */
export interface DynamicPoint extends Station {
  /** As read; `null` where the gate holds nothing at all. */
  readonly amplitudePercent: number | null;
  /** In dB over 1 % FSH at the curve's one gain. */
  readonly levelDb: number | null;
  /** By the capture's noise; `null` where it is not known. */
  readonly uLevelDb: number | null;
  readonly gainDb: number | null;
  readonly state: PointState;
  readonly reading: Reading;
}

/** Heights of one indication against position, all at one gain. */
export interface EchoDynamic {
  /** The gain all heights are told at; `null` where none is taken out. */
  readonly gainDb: number | null;
  readonly points: readonly DynamicPoint[];
  readonly remarks: readonly string[];
}

/** A reading at its place in the scan. */
export interface StationReading {
  readonly station: Station;
  readonly reading: Reading;
  readonly gainDb: number | null;
}

/** Every reading at one gain, that of the highest. Where only some state their gain none is taken out, and a remark says so. In the order given. */
export function echoDynamic(readings: readonly StationReading[]): EchoDynamic {
  const stated = readings.filter(({ gainDb }) => gainDb !== null).length;
  const takenOut = stated === readings.length && stated > 0;
  const gainFree = ({ reading, gainDb }: StationReading): number | null =>
    reading.amplitudePercent === null || !(reading.amplitudePercent > 0)
      ? null
      : dbFromRatio(reading.amplitudePercent) - (takenOut ? gainDb! : 0);
  let highest: { db: number; gainDb: number | null } | null = null;
  for (const read of readings) {
    const db = gainFree(read);
    const counts = db !== null && stateOf(read.reading) !== 'missing';
    if (counts && (highest === null || db > highest.db)) highest = { db, gainDb: read.gainDb };
  }
  const gainDb = takenOut ? (highest ?? readings[0]).gainDb : null;
  return {
    gainDb,
    points: readings.map((read) => {
      const { station, reading } = read;
      const db = gainFree(read);
      const { signalToNoiseDb } = reading;
      return {
        ...station,
        amplitudePercent: reading.amplitudePercent,
        levelDb: db === null ? null : db + (gainDb ?? 0),
        uLevelDb: signalToNoiseDb === null ? null : dbFromRatio(Math.E) * ratioFromDb(-signalToNoiseDb),
        gainDb: read.gainDb,
        state: stateOf(reading),
        reading,
      };
    }),
    remarks:
      stated > 0 && !takenOut
        ? [
            'Only some captures state their gain: none is taken out, and heights compare only if the gain was one for all.',
          ]
        : [],
  };
}

function stateOf({ amplitudePercent, flags }: Reading): PointState {
  if (amplitudePercent === null || flags.includes('low-signal-to-noise') || flags.includes('cut-by-gate'))
    return 'missing';
  return flags.includes('saturated') ? 'cut-off' : 'read';
}

/**
 * The peak envelope over a raster: of all points that stand at one place along (or across) the scan, the highest. What is missing gives way to any echo.
 * In order of that position; the point tells where the highest stood.
 * @param withinMm positions no farther apart count as one
 */
export function peakEnvelope(
  points: readonly DynamicPoint[],
  axis: 'along' | 'across',
  withinMm: number,
): readonly DynamicPoint[] {
  const at = (point: DynamicPoint) => (axis === 'along' ? point.positionMm : (point.acrossMm ?? 0));
  const sorted = [...points].sort((a, b) => at(a) - at(b));
  const envelope: DynamicPoint[] = [];
  let firstMm = Number.NEGATIVE_INFINITY;
  for (const point of sorted) {
    const last = envelope.at(-1);
    if (last === undefined || at(point) - firstMm > withinMm) {
      envelope.push(point);
      firstMm = at(point);
    } else if (rank(point) > rank(last) || (rank(point) === rank(last) && height(point) > height(last))) {
      envelope[envelope.length - 1] = point;
    }
  }
  return envelope;
}

const rank = ({ state }: DynamicPoint): number => (state === 'missing' ? 0 : 1);
const height = ({ levelDb }: DynamicPoint): number => levelDb ?? Number.NEGATIVE_INFINITY;

/** The point that stands highest among some captures; of missing ones none. */
export function highestPoint(points: readonly DynamicPoint[], own: ReadonlySet<CaptureId>): DynamicPoint | null {
  return points.reduce<DynamicPoint | null>(
    (best, point) =>
      point.state === 'missing' ||
      point.levelDb === null ||
      !own.has(point.captureId) ||
      (best !== null && point.levelDb <= best.levelDb!)
        ? best
        : point,
    null,
  );
}
