import type { CellAxis, DepthGrid } from '../../core/drawing/depth-picture.ts';
import type { DepthAcross, DepthScan } from '../../core/drawing/depth-scan.ts';
import type { PlaceInSection } from '../../core/review/part-decision.ts';
import type { PlotArea } from '../series/Axis.tsx';

/** What of the picture is in sight, in mm. */
export interface DepthView {
  readonly fromMm: number;
  readonly toMm: number;
  readonly topMm: number;
  readonly bottomMm: number;
}

/** Room above and below the part where no weld says how much there is, as a share of the thickness. */
const margin = 0.05;

/**
 * All of it. By the position of the probe both axes fill the area; across the weld the scales of both are alike, so that an angle is one, and what is too wide or too high
 * for that shows more of what was not measured.
 */
export function wholeView(
  scan: DepthScan,
  across: DepthAcross,
  outline: readonly PlaceInSection[],
  area: PlotArea,
): DepthView {
  const spare = margin * scan.thicknessMm;
  const depths = outline.map(({ depthMm }) => depthMm);
  const [topMm, bottomMm] = [Math.min(0, ...depths) - spare, Math.max(scan.thicknessMm, ...depths) + spare];
  const { fromMm, toMm } = scan.ranges[across];
  if (across === 'position') return { fromMm, toMm, topMm, bottomMm };
  const places = outline.map(({ acrossMm }) => acrossMm);
  return atEqualScales(
    { fromMm: Math.min(fromMm, ...places) - 1, toMm: Math.max(toMm, ...places) + 1, topMm, bottomMm },
    area,
  );
}

/** About the weld, as closely as equal scales let it fill the area; `null` where there is no weld to look at, and by the position of the probe. */
export function weldView(
  scan: DepthScan,
  across: DepthAcross,
  outline: readonly PlaceInSection[],
  area: PlotArea,
): DepthView | null {
  if (across === 'position' || outline.length < 3) return null;
  const whole = wholeView(scan, across, outline, area);
  const spare = scan.thicknessMm / 2;
  const places = outline.map(({ acrossMm }) => acrossMm);
  const depths = outline.map(({ depthMm }) => depthMm);
  const close = atEqualScales(
    {
      fromMm: Math.min(...places) - spare,
      toMm: Math.max(...places) + spare,
      topMm: Math.min(0, ...depths) - margin * scan.thicknessMm,
      bottomMm: Math.max(scan.thicknessMm, ...depths) + margin * scan.thicknessMm,
    },
    area,
  );
  return close.toMm - close.fromMm >= whole.toMm - whole.fromMm ? null : movedDepth(close, 0, 0, whole);
}

function atEqualScales({ fromMm, toMm, topMm, bottomMm }: DepthView, { width, height }: PlotArea): DepthView {
  const mmPerPx = Math.max((toMm - fromMm) / width, (bottomMm - topMm) / height);
  const [moreAcross, moreDown] = [mmPerPx * width - (toMm - fromMm), mmPerPx * height - (bottomMm - topMm)];
  return {
    fromMm: fromMm - moreAcross / 2,
    toMm: toMm + moreAcross / 2,
    topMm: topMm - moreDown / 2,
    bottomMm: bottomMm + moreDown / 2,
  };
}

/** As closely as cells of the finest make can still fill this many pixels. */
const fewestCells = 24;

/** Larger or smaller about a place that stays where it is; never beyond the whole, nor closer than the samples lie. */
export function zoomedDepth(
  view: DepthView,
  about: { readonly acrossMm: number; readonly depthMm: number },
  factor: number,
  whole: DepthView,
  finestMm: number,
): DepthView {
  const least = (fewestCells * finestMm) / (view.bottomMm - view.topMm);
  const most = Math.min(
    (whole.toMm - whole.fromMm) / (view.toMm - view.fromMm),
    (whole.bottomMm - whole.topMm) / (view.bottomMm - view.topMm),
  );
  const by = Math.max(least, Math.min(Math.max(1, most), factor));
  const across = { from: about.acrossMm + (view.fromMm - about.acrossMm) * by, size: (view.toMm - view.fromMm) * by };
  const down = { from: about.depthMm + (view.topMm - about.depthMm) * by, size: (view.bottomMm - view.topMm) * by };
  return placed(across, down, whole);
}

export function movedDepth(view: DepthView, acrossMm: number, downMm: number, whole: DepthView): DepthView {
  return placed(
    { from: view.fromMm + acrossMm, size: view.toMm - view.fromMm },
    { from: view.topMm + downMm, size: view.bottomMm - view.topMm },
    whole,
  );
}

interface Span {
  readonly from: number;
  readonly size: number;
}

function placed(across: Span, down: Span, whole: DepthView): DepthView {
  const inside = ({ from, size }: Span, least: number, most: number) =>
    Math.max(least, Math.min(from, most - Math.min(size, most - least)));
  const fromMm = inside(across, whole.fromMm, whole.toMm);
  const topMm = inside(down, whole.topMm, whole.bottomMm);
  return {
    fromMm,
    toMm: Math.min(whole.toMm, fromMm + across.size),
    topMm,
    bottomMm: Math.min(whole.bottomMm, topMm + down.size),
  };
}

/** More cells than this down or across cannot be told apart. */
const mostCells = 1600;

/** A cell for each device pixel in sight, none smaller than the samples are apart. */
export function gridOf(view: DepthView, area: PlotArea, pixelRatio: number, finestMm: number): DepthGrid {
  return {
    across: cellsBetween(view.fromMm, view.toMm, area.width * pixelRatio, finestMm),
    depth: cellsBetween(view.topMm, view.bottomMm, area.height * pixelRatio, finestMm),
  };
}

function cellsBetween(fromMm: number, toMm: number, pixels: number, finestMm: number): CellAxis {
  const size = toMm - fromMm;
  const count = Math.max(1, Math.min(mostCells, Math.round(pixels), Math.floor(size / finestMm)));
  return { fromMm, cellMm: size / count, count };
}

export function pixelAcross(mm: number, { fromMm, toMm }: DepthView, { left, width }: PlotArea): number {
  return left + ((mm - fromMm) / (toMm - fromMm)) * width;
}

export function pixelDown(mm: number, { topMm, bottomMm }: DepthView, { top, height }: PlotArea): number {
  return top + ((mm - topMm) / (bottomMm - topMm)) * height;
}

export interface PointedPlace {
  readonly acrossMm: number;
  readonly depthMm: number;
}

/** `null` beside the plot. */
export function placeAtPixel(x: number, y: number, view: DepthView, area: PlotArea): PointedPlace | null {
  const [right, down] = [(x - area.left) / area.width, (y - area.top) / area.height];
  if (right < 0 || right > 1 || down < 0 || down > 1) return null;
  return {
    acrossMm: view.fromMm + right * (view.toMm - view.fromMm),
    depthMm: view.topMm + down * (view.bottomMm - view.topMm),
  };
}
