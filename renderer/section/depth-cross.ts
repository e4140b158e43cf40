import type { DepthAcross, DepthScan } from '../../core/drawing/depth-scan.ts';
import { type DepthView, movedDepth, type PointedPlace } from './depth-view.ts';

/** To the right, and down. */
export type CrossMove = readonly [right: -1 | 0 | 1, down: -1 | 0 | 1];

export const crossMoves: Readonly<Record<string, CrossMove>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** By so much of what is in sight a key moves the cross, where it does not go from one position of the scan to the next. */
const crossStep = 1 / 100;
/** What lies so much of what is in sight beyond the cross comes into sight with it. */
const ahead = 0.2;

/** The cross some steps on, within the part, and the view moved where it would leave it. */
export function movedCross(
  from: PointedPlace,
  [right, down]: CrossMove,
  times: number,
  {
    scan,
    across,
    view,
    whole,
  }: {
    readonly scan: DepthScan;
    readonly across: DepthAcross;
    readonly view: DepthView;
    readonly whole: DepthView;
  },
): { readonly cross: PointedPlace; readonly view: DepthView } {
  const [wide, high] = [view.toMm - view.fromMm, view.bottomMm - view.topMm];
  const acrossMm =
    across === 'position' && right !== 0
      ? stationAfter(scan, from.acrossMm, right * times)
      : from.acrossMm + right * times * crossStep * wide;
  const cross = {
    acrossMm: Math.min(whole.toMm, Math.max(whole.fromMm, acrossMm)),
    depthMm: Math.min(scan.thicknessMm, Math.max(0, from.depthMm + down * times * crossStep * high)),
  };
  const outAcross = beyond(cross.acrossMm, view.fromMm, view.toMm);
  const outDown = beyond(cross.depthMm, view.topMm, view.bottomMm);
  if (outAcross === 0 && outDown === 0) return { cross, view };
  const more = (out: number, span: number) => out + Math.sign(out) * ahead * span;
  return { cross, view: movedDepth(view, more(outAcross, wide), more(outDown, high), whole) };
}

/** How far a place lies outside, with its sign. */
function beyond(at: number, from: number, to: number): number {
  return Math.min(0, at - from) + Math.max(0, at - to);
}

/** The position so many stations on from the one nearest to a place. */
function stationAfter({ members }: DepthScan, atMm: number, by: number): number {
  const stops = [...new Set(members.map(({ station }) => station.at))].sort((a, b) => a - b);
  let nearest = 0;
  for (const [i, stop] of stops.entries()) if (Math.abs(stop - atMm) < Math.abs(stops[nearest]! - atMm)) nearest = i;
  return stops[Math.min(stops.length - 1, Math.max(0, nearest + by))]!;
}
