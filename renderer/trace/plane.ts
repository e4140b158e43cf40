import { pixelOf, timeAt, type Viewport } from './viewport.ts';

/**
 * The inside of the plot in CSS pixels from its upper left corner, and what its edges stand for.
 *
 *     highPercent +--------------------+
 *                 |                    | heightPx
 *      lowPercent +--------------------+
 *              fromUs     widthPx    toUs
 */
export interface Plane {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly view: Viewport;
  readonly lowPercent: number;
  readonly highPercent: number;
}

export function xOf({ view, widthPx }: Plane, timeUs: number): number {
  return pixelOf(view, timeUs, widthPx);
}

export function yOf({ lowPercent, highPercent, heightPx }: Plane, percent: number): number {
  return ((highPercent - percent) / (highPercent - lowPercent)) * heightPx;
}

export function timeAtX({ view, widthPx }: Plane, xPx: number): number {
  return timeAt(view, xPx, widthPx);
}

export function percentAtY({ lowPercent, highPercent, heightPx }: Plane, yPx: number): number {
  return highPercent - (yPx / heightPx) * (highPercent - lowPercent);
}

export function usPerPx({ view, widthPx }: Plane): number {
  return (view.toUs - view.fromUs) / widthPx;
}

/** Whether a plot of that size has been laid out yet. */
export function isLaidOut({ widthPx, heightPx }: Plane): boolean {
  return widthPx > 0 && heightPx > 0;
}
