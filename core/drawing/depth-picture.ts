import { type DistanceCalibration, pathFromTime } from '../calibration/distance.ts';
import type { BeamInPart } from '../part/locate-in-part.ts';
import { legAt, placeOn } from '../part/section.ts';

/** Cells of one size, from `fromMm` on. */
export interface CellAxis {
  readonly fromMm: number;
  readonly cellMm: number;
  readonly count: number;
}

/** Where the cells of a picture by true depth lie. */
export interface DepthGrid {
  /** Along the scan, or across the weld along the scanned surface. */
  readonly across: CellAxis;
  /** Down from the scanned surface. */
  readonly depth: CellAxis;
}

/** Where the samples of a capture lie in the part: the same for all captures of one time axis and beam. */
export interface SampledRay {
  readonly firstSample: number;
  readonly depthMm: Float64Array;
  /** Along the scanned surface from the index point. */
  readonly alongMm: Float64Array;
  readonly leg: Uint8Array;
}

/** What becomes of a capture in the picture. */
export interface PicturedCapture {
  /** In the caller's list. */
  readonly index: number;
  /** In % FSH. */
  readonly envelope: Float64Array;
  readonly ray: SampledRay;
  /** What its heights are multiplied with, so that all stand at one gain. */
  readonly factor: number;
  readonly at: PictureAt;
}

/**
 * Where a capture's samples fall across the picture. `station`: all of them into the stretch of the axis that the capture's position stands for.
 * `reflecting`: each where the beam's axis has come to, from the index point on; before and behind it lies what the place of the index point stands for.
 */
export type PictureAt =
  | { readonly kind: 'station'; readonly fromMm: number; readonly toMm: number }
  | {
      readonly kind: 'reflecting';
      readonly indexAtMm: number;
      readonly towards: 1 | -1;
      readonly beforeMm: number;
      readonly behindMm: number;
    };

/** Row after row from the scanned surface down, in each from the axis's beginning on. A cell that nothing was measured in has no height (NaN), leg 0 and capture −1. */
export interface DepthPicture {
  readonly grid: DepthGrid;
  /** The greatest height that falls into the cell, in % FSH at the one gain. */
  readonly percent: Float32Array<ArrayBuffer>;
  /** On which leg it was met, */
  readonly leg: Uint8Array<ArrayBuffer>;
  /** in which capture, */
  readonly capture: Int32Array<ArrayBuffer>;
  /** and in which of its samples. */
  readonly sample: Int32Array<ArrayBuffer>;
}

/** Farther legs are not followed: nothing could be told from what falls onto them. */
export const mostLegs = 6;

/**
 * The places of a capture's samples: sound path by the calibration, depth and way along the surface by the beam, leg by leg. Only what lies between two paths
 * and on the first legs.
 *
 *     index
 *     --x--------------o-------- scanned surface      leg 1 goes down, leg 2 comes up: both are drawn where they run in the part,
 *        \      /\    /                               not one below the other
 *     ----\----/--\--/---------- far surface
 *      leg 1  2    3
 *
 * Source: plane geometry, the cosine rule in a pipe (common practice).
 */
export function sampledRay(
  axis: { readonly startUs: number; readonly stepUs: number; readonly samples: number },
  calibration: DistanceCalibration,
  beam: Pick<BeamInPart, 'angleDeg' | 'sectionWith' | 'thicknessMm'>,
  paths: { readonly fromMm: number; readonly toMm: number } | null,
): SampledRay {
  const section = beam.sectionWith(beam.thicknessMm.value);
  const angle = (beam.angleDeg.value * Math.PI) / 180;
  const shape = section.leg(angle);
  const stepMm = sampleMm(axis.stepUs, calibration);
  const startMm = pathFromTime(calibration, axis.startUs, null).value;
  const farthest = Math.min(paths?.toMm ?? Number.POSITIVE_INFINITY, mostLegs * (shape?.lengthMm ?? Infinity));
  const first = Math.max(0, Math.ceil((Math.max(0, paths?.fromMm ?? 0) - startMm) / stepMm - 1e-9));
  const last = Math.min(axis.samples - 1, Math.floor((farthest - startMm) / stepMm + 1e-9));
  const count = Math.max(0, last - first + 1);
  const ray = {
    firstSample: first,
    depthMm: new Float64Array(count),
    alongMm: new Float64Array(count),
    leg: new Uint8Array(count),
  };
  for (let i = 0; i < count; i++) {
    const pathMm = Math.max(0, startMm + (first + i) * stepMm);
    const leg = legAt(pathMm, shape?.lengthMm ?? null);
    const { depthMm, alongMm } = placeOn(leg, pathMm, angle, section, shape);
    ray.depthMm[i] = depthMm;
    ray.alongMm[i] = alongMm;
    ray.leg[i] = leg;
  }
  return ray;
}

/** The sound path from one sample to the next: no cell may be smaller, or it could lie between two of them. */
export function sampleMm(stepUs: number, { velocityMPerS }: DistanceCalibration): number {
  return (stepUs * velocityMPerS.value) / 2000;
}

/** Nothing measured yet. */
export function blankPicture(grid: DepthGrid): DepthPicture {
  const cells = grid.across.count * grid.depth.count;
  return {
    grid,
    percent: new Float32Array(cells).fill(Number.NaN),
    leg: new Uint8Array(cells),
    capture: new Int32Array(cells).fill(-1),
    sample: new Int32Array(cells).fill(-1),
  };
}

/**
 * Lays a capture into the picture: each cell keeps the greatest height that maps to it. What lies beside the grid is left out, and nothing is filled in
 * between captures beyond what each stands for.
 * @param onlyLeg `null`: all of them
 */
export function layCapture(picture: DepthPicture, capture: PicturedCapture, onlyLeg: number | null): void {
  const { across, depth } = picture.grid;
  const { ray, envelope, factor, at } = capture;
  const rows = rowsOf(ray, depth);
  const isStation = at.kind === 'station';
  const [stationFirst, stationEnd] = isStation ? columnsOf(at.fromMm, at.toMm, across) : [0, 0];
  // Samples that fall into the same cells follow one another: only the highest of such a run is laid.
  let [row, first, end, leg] = [-1, 0, 0, 0];
  let highest = -1;
  let sample = -1;
  for (let i = 0; i < rows.length; i++) {
    const rowHere = rows[i];
    const legHere = ray.leg[i];
    if (rowHere < 0 || (onlyLeg !== null && legHere !== onlyLeg)) continue;
    const percent = envelope[ray.firstSample + i] * factor;
    if (Number.isNaN(percent)) continue;
    let firstHere = stationFirst;
    let endHere = stationEnd;
    if (!isStation) {
      const here = at.indexAtMm + at.towards * ray.alongMm[i];
      firstHere = Math.round((here - at.beforeMm - across.fromMm) / across.cellMm);
      endHere = Math.max(firstHere + 1, Math.round((here + at.behindMm - across.fromMm) / across.cellMm));
      if (firstHere >= across.count || endHere <= 0) continue;
    }
    if (rowHere !== row || firstHere !== first || endHere !== end || legHere !== leg) {
      if (sample >= 0) layRun(picture, row, first, end, leg, highest, capture.index, sample);
      row = rowHere;
      first = firstHere;
      end = endHere;
      leg = legHere;
      highest = percent;
      sample = ray.firstSample + i;
    } else if (percent > highest) {
      highest = percent;
      sample = ray.firstSample + i;
    }
  }
  if (sample >= 0) layRun(picture, row, first, end, leg, highest, capture.index, sample);
}

function layRun(
  { grid, percent, leg, capture, sample }: DepthPicture,
  row: number,
  first: number,
  end: number,
  legHere: number,
  height: number,
  index: number,
  sampleHere: number,
): void {
  const { count } = grid.across;
  const last = row * count + Math.min(count, end);
  for (let cell = row * count + Math.max(0, first); cell < last; cell++) {
    if (percent[cell] >= height) continue;
    percent[cell] = height;
    leg[cell] = legHere;
    capture[cell] = index;
    sample[cell] = sampleHere;
  }
}

let lastRows: { readonly ray: SampledRay; readonly axis: CellAxis; readonly rows: Int32Array } | null = null;

/** The row of each sample of a ray, −1 beside the grid; made once for captures that follow one another on the same ray. */
function rowsOf(ray: SampledRay, axis: CellAxis): Int32Array {
  if (lastRows?.ray !== ray || lastRows.axis !== axis) {
    const rows = Int32Array.from(ray.depthMm, (depthMm) => {
      const row = cellOf(depthMm, axis);
      return row < 0 || row >= axis.count ? -1 : row;
    });
    lastRows = { ray, axis, rows };
  }
  return lastRows.rows;
}

/** The columns whose middles lie in a stretch of the axis, at least the one that its own middle lies in; the end is excluded. */
function columnsOf(fromMm: number, toMm: number, axis: CellAxis): readonly [first: number, end: number] {
  const first = Math.round((fromMm - axis.fromMm) / axis.cellMm);
  const end = Math.round((toMm - axis.fromMm) / axis.cellMm);
  if (end > first) return [first, end];
  const middle = Math.floor(((fromMm + toMm) / 2 - axis.fromMm) / axis.cellMm);
  return [middle, middle + 1];
}

/** What lies on the last cell's far edge belongs to it: the far surface itself does. */
function cellOf(mm: number, { fromMm, cellMm, count }: CellAxis): number {
  const at = (mm - fromMm) / cellMm;
  const cell = Math.floor(at);
  return cell === count && at - cell < 1e-6 ? count - 1 : cell;
}

/** What was measured in a cell of the picture. */
export interface MeasuredCell {
  readonly column: number;
  readonly row: number;
  readonly acrossMm: number;
  readonly depthMm: number;
  readonly percent: number;
  readonly leg: number;
  /** In the list that the picture was made from. */
  readonly capture: number;
  readonly sample: number;
}

/** The cell of a column and row; `null` beside the picture and where nothing was measured. */
export function measuredCell(picture: DepthPicture, column: number, row: number): MeasuredCell | null {
  const { across, depth } = picture.grid;
  if (column < 0 || column >= across.count || row < 0 || row >= depth.count) return null;
  const cell = row * across.count + column;
  if (picture.capture[cell] < 0) return null;
  return {
    column,
    row,
    acrossMm: across.fromMm + (column + 0.5) * across.cellMm,
    depthMm: depth.fromMm + (row + 0.5) * depth.cellMm,
    percent: picture.percent[cell],
    leg: picture.leg[cell],
    capture: picture.capture[cell],
    sample: picture.sample[cell],
  };
}

/** The cell at a place; `null` as above. */
export function cellAtPlace(picture: DepthPicture, acrossMm: number, depthMm: number): MeasuredCell | null {
  const { across, depth } = picture.grid;
  return measuredCell(picture, Math.floor((acrossMm - across.fromMm) / across.cellMm), cellOf(depthMm, depth));
}

/** The highest cell of all; `null` where nothing was measured. */
export function highestCell(picture: DepthPicture): MeasuredCell | null {
  let best = -1;
  for (let cell = 0; cell < picture.percent.length; cell++)
    if (picture.capture[cell] >= 0 && (best < 0 || picture.percent[cell] > picture.percent[best])) best = cell;
  const { count } = picture.grid.across;
  return best < 0 ? null : measuredCell(picture, best % count, Math.floor(best / count));
}
