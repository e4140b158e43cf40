import type { CaptureId } from '../capture/capture.ts';
import { orderInTime } from '../capture/order-in-time.ts';
import type { Flag } from '../flag.ts';
import { type FittedPeak, fitPeak, type HeightAt } from './fit-peak.ts';
import { type FittedParabola, type PeakCurve, type PlacedHeight, peakCurve } from './peak-curve.ts';
import type { Reading } from './reading.ts';
import { leastWalkMm, walkingPoints } from './walking.ts';

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

/** Without a calibration a walk is judged on time alone: 0.1 µs is 0.16 mm of transverse, 0.3 mm of longitudinal wave in steel. */
const leastWalkWithoutCalibrationUs = 0.1;

/** A reading's height in the series, in dB at the common gain; `bounded` where it is cut off and the true height is not known. */
interface Height {
  readonly index: number;
  readonly levelDb: number;
  readonly noiseDb: number | null;
  readonly bounded: boolean;
}

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

function heightsOf(members: readonly SeriesMember[], gainTakenOut: boolean): Height[] {
  return members.flatMap(({ reading, gainDb }, index) => {
    const { amplitudePercent, signalToNoiseDb, flags } = reading;
    if (amplitudePercent === null || !(amplitudePercent > 0)) return [];
    return [
      {
        index,
        levelDb: 20 * Math.log10(amplitudePercent) - (gainTakenOut ? gainDb! : 0),
        noiseDb: signalToNoiseDb === null ? null : (20 / Math.LN10) * 10 ** (-signalToNoiseDb / 20),
        bounded: flags.includes('saturated') || flags.includes('cut-by-gate'),
      },
    ];
  });
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

interface FoundPeak {
  readonly levelDb: number;
  readonly positionMm: number | null;
  readonly used: readonly Height[];
  readonly method: SeriesPeak['method'];
  readonly isLowerBound: boolean;
  /** The reading nearest a fitted vertex. */
  readonly nearest: number | null;
  readonly parabola: FittedParabola | null;
  readonly doubts: readonly string[];
}

function findPeak(
  members: readonly SeriesMember[],
  heights: readonly Height[],
  positionsMm: readonly number[] | null,
  offPeakDb: number,
): FoundPeak | null {
  const whole = highestOf(heights.filter((height) => !height.bounded));
  const cut = highestOf(heights.filter((height) => height.bounded));
  if (cut !== null && (whole === null || cut.levelDb >= whole.levelDb)) return boundPeak(cut);
  if (whole === null) return null;
  const usable = heights.filter((height) => !height.bounded);
  const doubts =
    cut === null
      ? []
      : ['Some readings are cut off; their true height, which may exceed the peak stated, is not known.'];
  const standing = (doubt: string): FoundPeak => ({
    levelDb: whole.levelDb,
    positionMm: positionsMm?.[whole.index] ?? null,
    used: [whole],
    method: 'highest',
    isLowerBound: false,
    nearest: null,
    parabola: null,
    doubts: [doubt, ...doubts],
  });
  if (usable.length < 3) return standing(fewDoubt(usable.length, members.length));
  if (positionsMm === null)
    return standing(
      'No probe positions are known: the highest reading stands for the peak, which may be higher still.',
    );
  const fit = fitPeak(
    usable.map(
      (height): HeightAt => ({
        positionMm: positionsMm[height.index],
        levelDb: height.levelDb,
        noiseDb: height.noiseDb,
      }),
    ),
    offPeakDb / 2,
  );
  if (fit.kind !== 'vertex') return standing(fitDoubts[fit.kind]);
  const used = fit.used.map((i) => usable[i]);
  return {
    levelDb: fit.levelDb,
    positionMm: fit.positionMm,
    used,
    method: 'parabola',
    isLowerBound: false,
    nearest: nearestTo(fit.positionMm, used, positionsMm),
    parabola: fit,
    doubts: fit.coarse
      ? [
          'Fewer than three positions stand within 6 dB of the highest: the peak is fitted through readings down to 12 dB below it.',
        ]
      : [],
  };
}

function boundPeak(cut: Height): FoundPeak {
  return {
    levelDb: cut.levelDb,
    positionMm: null,
    used: [cut],
    method: 'highest',
    isLowerBound: true,
    nearest: null,
    parabola: null,
    doubts: [
      'The peak lies among readings that are cut off: it is at least as high as stated, and every other reading stands at least as far below it as stated. Capture again with less gain.',
    ],
  };
}

function fewDoubt(usable: number, captures: number): string {
  const who = usable === captures ? 'Two captures' : usable === 1 ? 'One usable reading' : 'Two usable readings';
  return `${who} cannot show a peak: the higher stands for it, and the true peak may be higher still.`;
}

const fitDoubts: Record<Exclude<FittedPeak['kind'], 'vertex'>, string> = {
  'too-few':
    'Too few probe positions stand near the highest reading to fit a peak: it stands for the peak, which may be higher still.',
  flat: 'The heights show no maximum over the scanned positions: the highest reading stands for the peak, and whether it is one cannot be told.',
  outside:
    'The heights still rise towards the end of the scanned positions: the peak may lie outside them. The highest reading stands for it.',
  scattered:
    'The heights scatter too much about a smooth curve to fit a peak: the highest reading stands for it. Check the coupling.',
};

function highestOf(heights: readonly Height[]): Height | null {
  return heights.reduce<Height | null>(
    (best, height) => (best === null || height.levelDb > best.levelDb ? height : best),
    null,
  );
}

/** The reading nearest the vertex in position; of several at one distance the highest. */
function nearestTo(positionMm: number, used: readonly Height[], positionsMm: readonly number[]): number {
  const distance = (height: Height) => Math.abs(positionsMm[height.index] - positionMm);
  return used.reduce((best, height) => {
    const closer = distance(height) - distance(best);
    return closer < 0 || (closer === 0 && height.levelDb > best.levelDb) ? height : best;
  }).index;
}

function peakAt(members: readonly SeriesMember[], found: FoundPeak, gainTakenOut: boolean): SeriesPeak {
  const highest = found.used.reduce((best, height) => (height.levelDb > best.levelDb ? height : best));
  const referenceGainDb = gainTakenOut ? members[highest.index].gainDb : null;
  return {
    positionMm: found.positionMm,
    amplitudePercent: 10 ** ((found.levelDb + (referenceGainDb ?? 0)) / 20),
    referenceGainDb,
    from: found.used.map(({ index }) => members[index].reading.captureId),
    method: found.method,
    isLowerBound: found.isLowerBound,
  };
}

/** Judged on time, whose uncertainty is that of the reading alone; a reading at the gate's edge follows the gate, not the echo, and is left out. */
function walkingMembers(
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
