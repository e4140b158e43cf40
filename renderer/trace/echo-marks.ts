import type { Echo } from '../../core/signal/echoes.ts';
import { type Box, overlapOf } from './place-labels.ts';
import { type Plane, xOf, yOf } from './plane.ts';

/** A numbered mark above an echo's peak. */
export interface EchoMark {
  /** Index into the echoes. */
  readonly echo: number;
  /** As it is shown: counted from 1 in order of time. */
  readonly number: number;
  /** The echo's highest point. */
  readonly peak: { readonly x: number; readonly y: number };
  readonly box: Box;
}

const heightPx = 20;
const abovePeakPx = 6;

function widthPx(number: number): number {
  return 12 + 8 * String(number).length;
}

/** More numbers at once are no help, and each is a button that moves with the trace. */
const mostMarks = 40;

/**
 * The marks of the echoes in view, in order of time. Where they would overlap, and beyond forty, the highest echoes keep their marks and the others
 * wait until the person zooms in, so that a number can always be read.
 */
export function echoMarks(echoes: readonly Echo[], plane: Plane): EchoMark[] {
  const kept: EchoMark[] = [];
  const taken = new TakenPlaces();
  const { order, timesUs, percents } = byHeight(echoes);
  for (let i = 0; i < order.length; i++) {
    const x = xOf(plane, timesUs[i]!);
    if (x < 0 || x > plane.widthPx) continue;
    const echo = order[i]!;
    const y = yOf(plane, Math.min(percents[i]!, plane.highPercent));
    const box = boxAbove(echo + 1, x, y, plane);
    if (!taken.take(box)) continue;
    kept.push({ echo, number: echo + 1, peak: { x, y }, box });
    if (kept.length === mostMarks) break;
  }
  return kept.sort((a, b) => a.echo - b.echo);
}

/** Which places have a mark: only those in the same upright strips can be in a new one's way. */
class TakenPlaces {
  private readonly strips: Box[][] = [];

  /** Takes a place, unless one in its way was taken before. */
  take(box: Box): boolean {
    const first = Math.floor(box.left / stripPx);
    const last = Math.floor((box.left + box.width) / stripPx);
    for (let strip = first; strip <= last; strip++)
      for (const other of this.strips[strip] ?? []) if (overlapOf(box, other) > 0) return false;
    for (let strip = first; strip <= last; strip++) {
      this.strips[strip] ??= [];
      this.strips[strip]!.push(box);
    }
    return true;
  }
}

const stripPx = 16;

/** Echoes from the highest down, their figures side by side: a long record has thousands, which are gone through at every zoom. */
interface ByHeight {
  readonly order: Int32Array;
  readonly timesUs: Float64Array;
  readonly percents: Float64Array;
}

const known = new WeakMap<readonly Echo[], ByHeight>();

function byHeight(echoes: readonly Echo[]): ByHeight {
  let sorted = known.get(echoes);
  if (sorted === undefined) {
    const order = Int32Array.from(echoes.keys()).sort(
      (a, b) => echoes[b]!.amplitudePercent - echoes[a]!.amplitudePercent,
    );
    sorted = {
      order,
      timesUs: Float64Array.from(order, (echo) => echoes[echo]!.timeUs),
      percents: Float64Array.from(order, (echo) => echoes[echo]!.amplitudePercent),
    };
    known.set(echoes, sorted);
  }
  return sorted;
}

function boxAbove(number: number, x: number, y: number, plane: Plane): Box {
  const width = widthPx(number);
  const left = Math.min(Math.max(0, plane.widthPx - width), Math.max(0, x - width / 2));
  return { left, top: Math.max(0, y - abovePeakPx - heightPx), width, height: heightPx };
}
