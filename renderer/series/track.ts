import type { CaptureId } from '../../core/capture/capture.ts';
import type { Flag } from '../../core/flag.ts';
import type { Reading } from '../../core/gate/reading.ts';
import type { Places } from './places.ts';

/**
 * How a reading stands in its series. Each has its own shape on the picture and on the curve; colour only repeats it.
 * `no-echo` before `cut-off` before `off-peak` before `at-peak`: what makes a height worthless comes first.
 */
export type Standing = 'at-peak' | 'off-peak' | 'cut-off' | 'no-echo';

export const standingWords: Record<Standing, string> = {
  'at-peak': 'within the limit',
  'off-peak': 'off the peak',
  'cut-off': 'cut off: this high or higher',
  'no-echo': 'no echo',
};

export function standingOf(flags: readonly Flag[]): Standing {
  if (flags.includes('no-echo')) return 'no-echo';
  if (flags.includes('saturated') || flags.includes('cut-by-gate')) return 'cut-off';
  return flags.includes('off-peak') ? 'off-peak' : 'at-peak';
}

/** A point of the peak's track: where the echo was read in one capture. */
export interface TrackPoint {
  readonly captureId: CaptureId;
  readonly at: number;
  readonly timeUs: number;
  readonly standing: Standing;
}

/** A stretch of the track between neighbouring captures that all show the echo; `walking` is drawn dashed. */
export interface TrackStretch {
  readonly walking: boolean;
  readonly points: readonly TrackPoint[];
}

/** The echo's way through the series: broken where a capture has no reading and where the scan has a gap, in a stretch of its own where two neighbours both walk. */
export function trackOf({ placed }: Places, readings: ReadonlyMap<CaptureId, Reading>): readonly TrackStretch[] {
  const stretches: { walking: boolean; points: TrackPoint[] }[] = [];
  let before: { point: TrackPoint; walking: boolean; to: number } | null = null;
  for (const { capture, at, from, to } of placed) {
    if (before !== null && from - before.to > 1e-6 * (to - from)) before = null;
    const reading = readings.get(capture.captureId);
    if (reading === undefined || reading.timeUs === null) {
      before = null;
      continue;
    }
    const walking = reading.flags.includes('walking');
    const point = {
      captureId: capture.captureId,
      at,
      timeUs: reading.timeUs.value,
      standing: standingOf(reading.flags),
    };
    const dashed: boolean = walking && before?.walking === true;
    const current = stretches.at(-1);
    if (before === null || current === undefined) stretches.push({ walking: false, points: [point] });
    else if (current.points.length === 1 || current.walking === dashed) {
      current.walking = dashed;
      current.points.push(point);
    } else stretches.push({ walking: dashed, points: [before.point, point] });
    before = { point, walking, to };
  }
  return stretches;
}

/** As much of a line as can be seen where many points share a column of pixels: the first and the last of each column, and its extremes between them. */
export function thinned<Point extends { readonly at: number; readonly timeUs: number }>(
  points: readonly Point[],
  columnOf: (at: number) => number,
): readonly Point[] {
  const kept: Point[] = [];
  for (let from = 0; from < points.length; ) {
    const column = columnOf(points[from]!.at);
    let [to, lowest, highest] = [from, from, from];
    for (; to < points.length && columnOf(points[to]!.at) === column; to++) {
      if (points[to]!.timeUs < points[lowest]!.timeUs) lowest = to;
      if (points[to]!.timeUs > points[highest]!.timeUs) highest = to;
    }
    const seen = [from, Math.min(lowest, highest), Math.max(lowest, highest), to - 1];
    for (const [i, place] of seen.entries()) if (i === 0 || place !== seen[i - 1]) kept.push(points[place]!);
    from = to;
  }
  return kept;
}
