import type { PictureColumns, Places } from './places.ts';
import type { Cells } from './shading.ts';

/** What the picture needs of the worker, for whatever part of the time axis is shown. */
export interface ImageAsked extends PictureColumns {
  readonly places: Places;
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

/**
 * The image's column under each pixel across. With several captures to a column an image is of the width that it was asked for: at another width it is
 * stretched with the columns it had, so that every capture stands in its place until the next image is there.
 */
export function columnsUnder({ asked }: SeriesImage, now: PictureColumns): Int32Array {
  return asked.each && now.each ? now.columnOf : asked.columnOf;
}

/** The height in a cell, in % of full screen height; `null` beside the image and where no capture has a sample. */
export function cellAt({ fromUs, toUs, cells }: SeriesImage, column: number, timeUs: number): number | null {
  const row = Math.floor(((timeUs - fromUs) / (toUs - fromUs)) * cells.rows);
  if (column < 0 || column >= cells.columns || row < 0 || row >= cells.rows) return null;
  const height = cells.percent[column * cells.rows + row]!;
  return Number.isNaN(height) ? null : height;
}
