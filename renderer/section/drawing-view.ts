import type { DrawnPoint } from '../../core/drawing/drawn-plane.ts';
import type { Bounds, DrawnSection } from '../../core/drawing/section-drawing.ts';
import { type FigureStyle, fromShown, toShown, unitSign } from '../../core/units/figure-style.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';
import type { PlotArea } from '../series/Axis.tsx';

/** What of a drawing is in sight: the point in the middle, and how many mm a pixel is, across and down alike. */
export interface DrawingView {
  readonly middle: DrawnPoint;
  readonly mmPerPx: number;
}

/** Finer than this nothing is drawn truly. */
const finestMmPerPx = 0.002;

/** The view in which the bounds fill the area as far as equal scales let them. */
export function fitted({ from, to }: Bounds, { width, height }: PlotArea): DrawingView {
  return {
    middle: { xMm: (from.xMm + to.xMm) / 2, yMm: (from.yMm + to.yMm) / 2 },
    mmPerPx: Math.max(finestMmPerPx, (to.xMm - from.xMm) / width, (to.yMm - from.yMm) / height),
  };
}

export function pixelOf({ xMm, yMm }: DrawnPoint, { middle, mmPerPx }: DrawingView, area: PlotArea) {
  return {
    x: area.left + area.width / 2 + (xMm - middle.xMm) / mmPerPx,
    y: area.top + area.height / 2 + (yMm - middle.yMm) / mmPerPx,
  };
}

export function pointAt(x: number, y: number, { middle, mmPerPx }: DrawingView, area: PlotArea): DrawnPoint {
  return {
    xMm: middle.xMm + (x - area.left - area.width / 2) * mmPerPx,
    yMm: middle.yMm + (y - area.top - area.height / 2) * mmPerPx,
  };
}

/** Larger or smaller about a point that stays where it is; never so small that the whole would fill less than half of the area. */
export function zoomed(
  view: DrawingView,
  about: DrawnPoint,
  factor: number,
  whole: Bounds,
  area: PlotArea,
): DrawingView {
  const coarsest = 2 * fitted(whole, area).mmPerPx;
  const mmPerPx = Math.min(coarsest, Math.max(finestMmPerPx, view.mmPerPx * factor));
  const share = mmPerPx / view.mmPerPx;
  const middle = {
    xMm: about.xMm + (view.middle.xMm - about.xMm) * share,
    yMm: about.yMm + (view.middle.yMm - about.yMm) * share,
  };
  return { middle: within(middle, whole), mmPerPx };
}

export function moved(view: DrawingView, xPx: number, yPx: number, whole: Bounds): DrawingView {
  const { xMm, yMm } = view.middle;
  return { ...view, middle: within({ xMm: xMm + xPx * view.mmPerPx, yMm: yMm + yPx * view.mmPerPx }, whole) };
}

/** What is drawn cannot be moved out of sight. */
function within({ xMm, yMm }: DrawnPoint, { from, to }: Bounds): DrawnPoint {
  return {
    xMm: Math.min(to.xMm, Math.max(from.xMm, xMm)),
    yMm: Math.min(to.yMm, Math.max(from.yMm, yMm)),
  };
}

/** A round length in the person's unit that is no longer than so many pixels, with its words. */
export function scaleBar(
  mmPerPx: number,
  mostPx: number,
  style: FigureStyle,
): { readonly px: number; readonly words: string } {
  const most = toShown(mostPx * mmPerPx, 'length', style);
  const tenfold = 10 ** Math.floor(Math.log10(most));
  const length = ([5, 2, 1].find((factor) => factor * tenfold <= most) ?? 1) * tenfold;
  const decimals = Math.max(0, -Math.floor(Math.log10(length) + 1e-9));
  return {
    px: fromShown(length, 'length', style) / mmPerPx,
    words: `${formatNumber(length, decimals, style)} ${unitSign('length', style)}`,
  };
}

/** A line through points, as a path; `closed` goes back to the first. */
export function pathThrough(points: readonly DrawnPoint[], view: DrawingView, area: PlotArea, closed: boolean): string {
  const [first, ...rest] = points.map((point) => {
    const { x, y } = pixelOf(point, view, area);
    return `${round(x)} ${round(y)}`;
  });
  if (first === undefined) return '';
  return `M${first}${rest.map((place) => `L${place}`).join('')}${closed ? 'Z' : ''}`;
}

/** Far out of sight a path need not be exact, and browsers do not draw what is too large. */
function round(pixel: number): number {
  return Math.round(Math.min(1e5, Math.max(-1e5, pixel)) * 10) / 10;
}

/** Of two drawings, whether the same part is in sight in both: a view that a person chose then stays. */
export function sameGround(a: DrawnSection, b: DrawnSection): boolean {
  return a.origin === b.origin && a.shape.kind === b.shape.kind && a.shape.thicknessMm === b.shape.thicknessMm;
}
