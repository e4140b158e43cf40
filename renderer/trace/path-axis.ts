import { type DistanceCalibration, pathFromTime, timeFromPath } from '../../core/calibration/distance.ts';
import { type FigureStyle, figureText, fromShown, toShown, unitSign } from '../../core/units/figure-style.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';
import type { Viewport } from './viewport.ts';

/** A mark on the axis of sound path, at the time where that path's echo arrives. */
export interface PathTick {
  readonly timeUs: number;
  readonly text: string;
}

/** Round steps of path that stand at least so far apart. */
const leastGapPx = 72;

/** The round sound paths within a window of time, in the unit shown; none of them negative, since there is no such path. */
export function pathTicks(
  view: Viewport,
  widthPx: number,
  calibration: DistanceCalibration,
  style: FigureStyle,
): PathTick[] {
  const shownAt = (timeUs: number) => toShown(pathFromTime(calibration, timeUs, null).value, 'length', style);
  const [from, to] = [shownAt(view.fromUs), shownAt(view.toUs)];
  const step = roundStep(((to - from) * leastGapPx) / Math.max(leastGapPx, widthPx));
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const ticks: PathTick[] = [];
  for (let n = Math.max(0, Math.ceil(from / step - 1e-9)); n * step <= to + step * 1e-9; n++) {
    const path = n * step;
    ticks.push({
      timeUs: timeFromPath(calibration, fromShown(path, 'length', style)),
      text: formatNumber(path, decimals, style),
    });
  }
  return ticks;
}

/** The next of 1, 2, 5, 10 … that is not smaller. */
function roundStep(least: number): number {
  const decade = 10 ** Math.floor(Math.log10(least));
  return [1, 2, 5, 10].map((part) => part * decade).find((step) => step >= least * (1 - 1e-9)) ?? 10 * decade;
}

export function pathAxisLabel(style: FigureStyle): string {
  return `Sound path (${unitSign('length', style)})`;
}

/** Ticks of time as they stand at the axis: as many decimals as their step has, so that each says exactly where it stands. */
export function timeTickTexts(ticks: readonly number[], style: FigureStyle): string[] {
  const decimals = decimalsOf(Math.abs((ticks[1] ?? 1) - (ticks[0] ?? 0)));
  return ticks.map((tick) => figureText(tick, 'time', decimals, style));
}

/** How many decimals a step of an axis has: none for 5, one for 2.5, two for 0.25. */
function decimalsOf(step: number): number {
  for (let decimals = 0; decimals < 12; decimals++) {
    const scaled = step * 10 ** decimals;
    if (scaled >= 0.5 && Math.abs(scaled - Math.round(scaled)) < 1e-6 * scaled) return decimals;
  }
  return 12;
}
