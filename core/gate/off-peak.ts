import type { CaptureId } from '../capture/capture.ts';
import { orderInTime } from '../capture/order-in-time.ts';
import { power } from '../elementary/exponential.ts';
import type { Flag } from '../flag.ts';
import { type PeakCurve, type PlacedHeight, peakCurve } from './peak-curve.ts';
import type { Reading } from './reading.ts';
import { type FoundPeak, findPeak, type Height, heightsOf } from './series-peak.ts';
import { walkingMembers } from './series-walk.ts';

/** One reading of a series: captures of one reflector, taken at several probe positions or one after the other. */
export interface SeriesMember {
  readonly reading: Reading;
  readonly gainDb: number | null;
  readonly positionMm: number | null;
  readonly takenAt: string | null;
}

export interface SeriesPeak {
  /** `null` where no positions are known, and where the peak lies among readings that are cut off. */
  readonly positionMm: number | null;
  readonly amplitudePercent: number;
  /** The gain at which that is the amplitude: that of the highest reading; `null` where no gain was taken out. */
  readonly referenceGainDb: number | null;
  readonly from: readonly CaptureId[];
  readonly method: 'parabola' | 'highest';
  /** The highest readings are cut off: the peak is at least this high. */
  readonly isLowerBound: boolean;
}

export interface SeriesJudgement {
  /** In the order given, now with `belowPeakDb` and the flags `off-peak` and `walking`. */
  readonly members: readonly Reading[];
  readonly peak: SeriesPeak | null;
  /** Longest less shortest sound path of the series. */
  readonly pathRangeMm: number | null;
  /** The heights on one scale, as a curve over the positions; `null` where there is no peak to hold them against. */
  readonly curve: PeakCurve | null;
  /** In sentences. */
  readonly doubts: readonly string[];
}

/** 1 dB (common practice): where a reading is too far off the peak to be used. */
export const defaultOffPeakDb = 1;

/**
 * Holds the readings of one reflector against the peak of their series.
 *
 * Their order is that of position where all have one, else of the time taken, else as given. Heights are brought to one gain (level = 20 · log10 amplitude − gain);
 * if only some captures state their gain, none is taken out and a doubt says so. The peak is the vertex of the parabola of `fitPeak`, or the highest
 * reading where no parabola can be trusted (a doubt says why). Readings cut off by the screen or by the gate are lower bounds: they cannot be
 * the peak and stand no number of dB below it; where one of them reaches as high as the rest, the peak is only known to be at least so high, and what
 * stands below that stands further below the true peak.
 *
 * `belowPeakDb` may be slightly negative: the scatter of a single reading about the fitted curve. `off-peak` stands beyond `offPeakDb`. `walking`: see
 * `walkingPoints`; the one reading nearest a fitted vertex is exempt, for it is the reading the walk leads to.
 *
 * Source: 'amplitude in dB against probe position is close to a parabola', 'the maximised echo is the reading', 'never extrapolate a clipped peak'
 * (common practice).
 */
export function judgeSeries(
  members: readonly SeriesMember[],
  settings: { readonly offPeakDb: number },
): SeriesJudgement {
  const readings = members.map((member) => member.reading);
  const pathRangeMm = rangeOf(
    readings.flatMap((reading) => (reading.soundPathMm === null ? [] : [reading.soundPathMm.value])),
  );
  if (members.length < 2) {
    const doubts =
      members.length === 1 ? ['One capture is no series: whether it stands at the peak cannot be told.'] : [];
    return { members: readings, peak: null, pathRangeMm, curve: null, doubts };
  }
  const placed = placesOf(members);
  const gain = commonGain(members);
  const heights = heightsOf(members, gain.takenOut);
  const found = findPeak(members, heights, placed.positionsMm, settings.offPeakDb);
  const belowPeakDb = readings.map((): number | null => null);
  if (found !== null)
    for (const { index, levelDb, bounded } of heights) if (!bounded) belowPeakDb[index] = found.levelDb - levelDb;
  const walks = walkingMembers(members, placed.order, placed.positionsMm);
  if (found?.nearest != null) walks[found.nearest] = false;
  const peak = found === null ? null : peakAt(members, found, gain.takenOut);
  return {
    members: readings.map((reading, i) => {
      const below = belowPeakDb[i];
      const flags = new Set<Flag>(reading.flags);
      if (below !== null && below > settings.offPeakDb) flags.add('off-peak');
      if (walks[i]) flags.add('walking');
      return { ...reading, belowPeakDb: below, flags: [...flags] };
    }),
    peak,
    pathRangeMm,
    curve:
      peak === null
        ? null
        : peakCurve(
            placedHeights(members, heights, placed.positionsMm),
            found?.parabola ?? null,
            peak,
            settings.offPeakDb,
          ),
    doubts: [
      ...placed.doubts,
      ...gain.doubts,
      ...(found === null ? ['No capture of the series shows an echo in the gate: there is no peak.'] : found.doubts),
    ],
  };
}

function rangeOf(values: readonly number[]): number | null {
  if (values.length < 2) return null;
  let [least, most] = [values[0], values[0]];
  for (const value of values) {
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  return most - least;
}

function placesOf(members: readonly SeriesMember[]): {
  order: readonly number[];
  positionsMm: readonly number[] | null;
  doubts: string[];
} {
  const positions = members.map((member) => member.positionMm);
  if (positions.every((position) => position !== null)) {
    const order = members.map((_, i) => i).sort((a, b) => positions[a]! - positions[b]! || a - b);
    return { order, positionsMm: positions, doubts: [] };
  }
  const some = positions.some((position) => position !== null);
  const doubts = some ? ['Only some captures state their probe position: positions are left out of account.'] : [];
  const { order, unplaced } = orderInTime(members.map((member) => member.takenAt));
  if (unplaced.length === 0) return { order, positionsMm: null, doubts };
  if (unplaced.length < members.length)
    doubts.push('Only some captures state when they were taken: the order is the one given.');
  return { order: members.map((_, i) => i), positionsMm: null, doubts };
}

function commonGain(members: readonly SeriesMember[]): { takenOut: boolean; doubts: string[] } {
  const stated = members.filter((member) => member.gainDb !== null).length;
  if (stated === members.length) return { takenOut: true, doubts: [] };
  const doubt =
    'Only some captures state their gain: no gain is taken out, and heights are comparable only if the gain was the same for all.';
  return { takenOut: false, doubts: stated > 0 ? [doubt] : [] };
}

function placedHeights(
  members: readonly SeriesMember[],
  heights: readonly Height[],
  positionsMm: readonly number[] | null,
): PlacedHeight[] {
  const heightOf = new Map(heights.map((height) => [height.index, height]));
  return members.map(({ reading }, i) => ({
    captureId: reading.captureId,
    positionMm: positionsMm?.[i] ?? null,
    levelDb: heightOf.get(i)?.levelDb ?? null,
    isLowerBound: heightOf.get(i)?.bounded ?? false,
  }));
}

function peakAt(members: readonly SeriesMember[], found: FoundPeak, gainTakenOut: boolean): SeriesPeak {
  const highest = found.used.reduce((best, height) => (height.levelDb > best.levelDb ? height : best));
  const referenceGainDb = gainTakenOut ? members[highest.index].gainDb : null;
  return {
    positionMm: found.positionMm,
    amplitudePercent: power(10, (found.levelDb + (referenceGainDb ?? 0)) / 20),
    referenceGainDb,
    from: found.used.map(({ index }) => members[index].reading.captureId),
    method: found.method,
    isLowerBound: found.isLowerBound,
  };
}
