import { rampBytes, type Scheme, shadeCount } from '../series/colour-map.ts';
import type { PlotImage } from './plot-figure.ts';
import type { Pixels } from './png.ts';

/** An image of levels as pixels, the highest frequency on top: the ramp of the series picture, so that a shade means the same everywhere. */
export function imagePixels({ levelsDb, columns, rows, floorDb }: PlotImage, scheme: Scheme): Pixels {
  const ramp = rampBytes(scheme);
  const data = new Uint8ClampedArray(4 * columns * rows);
  for (let column = 0; column < columns; column++)
    for (let row = 0; row < rows; row++) {
      const share = 1 - levelsDb[column * rows + row]! / floorDb;
      paint(data, (rows - 1 - row) * columns + column, share, ramp);
    }
  return { data, width: columns, height: rows };
}

/** The ramp as a column of pixels, the highest level on top. */
export function stripPixels(scheme: Scheme): Pixels {
  const ramp = rampBytes(scheme);
  const data = new Uint8ClampedArray(4 * shadeCount);
  for (let i = 0; i < shadeCount; i++) paint(data, i, 1 - i / (shadeCount - 1), ramp);
  return { data, width: 1, height: shadeCount };
}

function paint(data: Uint8ClampedArray, pixel: number, share: number, ramp: Uint8ClampedArray): void {
  const shade = Math.min(shadeCount - 1, Math.max(0, Math.round(share * (shadeCount - 1))));
  data.set(ramp.subarray(3 * shade, 3 * shade + 3), 4 * pixel);
  data[4 * pixel + 3] = 255;
}
