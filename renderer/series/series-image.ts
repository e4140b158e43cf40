import type { CaptureId } from '../../core/capture/capture.ts';
import type { Places } from './places.ts';
import type { Cells } from './shading.ts';

/** What the picture needs of the worker, for whatever part of the time axis is shown. */
export interface ImageAsked {
  readonly places: Places;
  /** For each column the captures that share it. */
  readonly captures: readonly (readonly CaptureId[])[];
  readonly rows: number;
}

/** What was last computed; it may lag behind what is asked and shown by a moment. */
export interface SeriesImage {
  /** The very object it was asked with. */
  readonly asked: ImageAsked;
  readonly fromUs: number;
  readonly toUs: number;
  readonly cells: Cells;
}

/** The height in a cell, in % of full screen height; `null` beside the image and where no capture has a sample. */
export function cellAt({ fromUs, toUs, cells }: SeriesImage, column: number, timeUs: number): number | null {
  const row = Math.floor(((timeUs - fromUs) / (toUs - fromUs)) * cells.rows);
  if (column < 0 || column >= cells.columns || row < 0 || row >= cells.rows) return null;
  const height = cells.percent[column * cells.rows + row]!;
  return Number.isNaN(height) ? null : height;
}
