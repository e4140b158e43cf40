import type { CaptureId } from '../../core/capture/capture.ts';
import { comparableSeconds } from '../../core/capture/order-in-time.ts';
import { stretchesOf } from '../../core/drawing/stretches.ts';

/** A capture of the series, as much of it as the picture needs. */
export interface SeriesCapture {
  readonly captureId: CaptureId;
  /** What a person calls it. */
  readonly name: string;
  readonly positionMm: number | null;
  readonly takenAt: string | null;
  readonly gainDb: number | null;
}

/** What runs across the picture: the probe's position in mm, the time taken in seconds, or the number in the order given (from 1). */
export type Across = 'position' | 'time' | 'order';

/** Where a capture stands: its place on the axis across, and the stretch of it that its column covers. */
export interface PlacedCapture {
  readonly capture: SeriesCapture;
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

/** Captures in order of their places; stretches never overlap. */
export interface Places {
  readonly across: Across;
  readonly placed: readonly PlacedCapture[];
  readonly from: number;
  readonly to: number;
}

/** What can run across: positions or times only where every capture has one and they are not all the same. */
export function acrossChoices(captures: readonly SeriesCapture[]): readonly Across[] {
  const told = (values: readonly (number | null)[]) =>
    values.every((value) => value !== null) && new Set(values).size > 1;
  const choices: Across[] = [];
  if (told(captures.map((capture) => capture.positionMm))) choices.push('position');
  if (told(comparableSeconds(captures.map((capture) => capture.takenAt)))) choices.push('time');
  return [...choices, 'order'];
}

/**
 * Gives each capture its stretch of the axis, so that a gap in the scan stays a gap. Captures at one place share its stretch.
 *
 *     places   x  x  x  x        x  x
 *     columns |--|--|--|--|    |--|--|
 */
export function placesAcross(captures: readonly SeriesCapture[], across: Across): Places {
  const values = valuesAcross(captures, across);
  const order = captures.map((_, i) => i).sort((i, j) => values[i]! - values[j]! || i - j);
  const stops = [...new Set(order.map((i) => values[i]!))];
  const shares = new Map(stops.map((stop): [number, number[]] => [stop, []]));
  for (const i of order) shares.get(values[i]!)!.push(i);
  const placed = stretchesOf(stops, 1).flatMap(({ at: stop, from, to }) => {
    const sharing = shares.get(stop)!;
    const width = (to - from) / sharing.length;
    return sharing.map((i, k) => ({
      capture: captures[i]!,
      at: sharing.length === 1 ? stop : from + (k + 0.5) * width,
      from: from + k * width,
      to: from + (k + 1) * width,
    }));
  });
  return { across, placed, from: placed[0]?.from ?? 0, to: placed.at(-1)?.to ?? 1 };
}

function valuesAcross(captures: readonly SeriesCapture[], across: Across): readonly number[] {
  if (across === 'position') return captures.map((capture) => capture.positionMm ?? 0);
  if (across === 'order') return captures.map((_, i) => i + 1);
  return comparableSeconds(captures.map((capture) => capture.takenAt)).map((seconds) => seconds ?? 0);
}

/** The index of the capture whose column covers a place, or else of the nearest; `null` where there are none. */
export function nearestPlace({ placed }: Places, at: number): number | null {
  if (placed.length === 0) return null;
  let low = 0;
  let high = placed.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (placed[middle]!.to < at) low = middle + 1;
    else high = middle;
  }
  const before = placed[low - 1];
  return before !== undefined && at < placed[low]!.from && at - before.to < placed[low]!.from - at ? low - 1 : low;
}

/** Which captures share each column of the picture, and which column lies under each pixel across (−1: none). */
export interface PictureColumns {
  readonly captures: readonly (readonly CaptureId[])[];
  readonly columnOf: Int32Array;
  /** Each capture has a column of its own, whatever the width. */
  readonly each: boolean;
}

/**
 * One column for each capture where each is at least a pixel wide; else one for each pixel, with all captures that fall into it, so that none is left out
 * however many there are.
 */
export function pictureColumns({ placed, from, to }: Places, widthPx: number): PictureColumns {
  const width = Math.max(1, Math.round(widthPx));
  const pixelOf = (at: number) => ((at - from) / (to - from)) * width;
  const columnOf = new Int32Array(width).fill(-1);
  const wide = placed.every((place) => pixelOf(place.to) - pixelOf(place.from) >= 1);
  if (wide) {
    for (const [column, place] of placed.entries())
      columnOf.fill(column, Math.round(pixelOf(place.from)), Math.round(pixelOf(place.to)));
    return { captures: placed.map(({ capture }) => [capture.captureId]), columnOf, each: true };
  }
  const captures: CaptureId[][] = Array.from({ length: width }, () => []);
  for (const place of placed) {
    const first = Math.min(width - 1, Math.floor(pixelOf(place.from)));
    const end = Math.max(first + 1, Math.round(pixelOf(place.to)));
    for (let x = first; x < end && x < width; x++) {
      captures[x]!.push(place.capture.captureId);
      columnOf[x] = x;
    }
  }
  return { captures, columnOf, each: false };
}
