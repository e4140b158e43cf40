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

/**
 * The marks of the echoes in view, in order of time. Where they would overlap the highest echo keeps its mark and the others wait until the person
 * zooms in, so that a number can always be read.
 */
export function echoMarks(echoes: readonly Echo[], plane: Plane): EchoMark[] {
  const inView = echoes.flatMap(({ timeUs, amplitudePercent }, echo) => {
    const x = xOf(plane, timeUs);
    return x < 0 || x > plane.widthPx ? [] : [{ mark: markAt(echo, x, amplitudePercent, plane), amplitudePercent }];
  });
  inView.sort((a, b) => b.amplitudePercent - a.amplitudePercent);
  const kept: EchoMark[] = [];
  for (const { mark } of inView) {
    if (kept.every((other) => overlapOf(mark.box, other.box) === 0)) kept.push(mark);
  }
  return kept.sort((a, b) => a.echo - b.echo);
}

function markAt(echo: number, x: number, amplitudePercent: number, plane: Plane): EchoMark {
  const number = echo + 1;
  const y = yOf(plane, Math.min(amplitudePercent, plane.highPercent));
  const width = widthPx(number);
  const left = Math.min(Math.max(0, plane.widthPx - width), Math.max(0, x - width / 2));
  return {
    echo,
    number,
    peak: { x, y },
    box: { left, top: Math.max(0, y - abovePeakPx - heightPx), width, height: heightPx },
  };
}
