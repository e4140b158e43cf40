import { shadeCount } from './colour-map.ts';

/** What a shade stands for: per cent of full screen height, or dB below it down to a floor that is as pale as nothing. */
export type Scale = 'percent' | 'decibel';

/** The palest shade of the dB scale, relative to full screen height: 1 % of it, about where a screen's own resolution ends. */
export const floorDb = -40;

/** A picture's cells, column after column, in % of full screen height; NaN where no capture has a sample. */
export interface Cells {
  readonly columns: number;
  readonly rows: number;
  readonly percent: ArrayLike<number>;
}

/** Amplitudes are looked up in steps of 1/40 %, finer than the eye and the ramp by far. */
export const stepsPerPercent = 40;

/** The shade, as an index into the ramp, of each step of amplitude from 0 to 100 % of full screen height. */
export function shadeIndexes(scale: Scale): Uint8Array {
  const last = shadeCount - 1;
  return Uint8Array.from({ length: 100 * stepsPerPercent + 1 }, (_, step) => {
    const percent = step / stepsPerPercent;
    const share = scale === 'percent' ? percent / 100 : 1 - (20 * Math.log10(percent / 100)) / floorDb;
    return Math.round(last * Math.min(1, Math.max(0, share)));
  });
}

/**
 * Paints the cells over `columnOf.length` pixels across, one pixel down for each row: RGBA bytes, row after row, as an image wants them.
 * @param columnOf the picture's column under each pixel; −1 where none is
 * @param ramp red, green and blue of each shade
 * Pixels without a sample stay transparent. What goes beyond full screen height has the last shade.
 */
export function paintedPixels(
  { columns, rows, percent }: Cells,
  columnOf: Int32Array,
  scale: Scale,
  ramp: Uint8ClampedArray,
): Uint8ClampedArray<ArrayBuffer> {
  const width = columnOf.length;
  const painted = new Uint8ClampedArray(width * rows * 4);
  const indexes = shadeIndexes(scale);
  const last = indexes.length - 1;
  for (let x = 0; x < width; x++) {
    const column = columnOf[x]!;
    if (column < 0 || column >= columns) continue;
    for (let row = 0; row < rows; row++) {
      const height = percent[column * rows + row]!;
      if (Number.isNaN(height)) continue;
      const shade = 3 * indexes[Math.min(last, Math.max(0, Math.round(height * stepsPerPercent)))]!;
      const at = 4 * (row * width + x);
      painted[at] = ramp[shade]!;
      painted[at + 1] = ramp[shade + 1]!;
      painted[at + 2] = ramp[shade + 2]!;
      painted[at + 3] = 255;
    }
  }
  return painted;
}
