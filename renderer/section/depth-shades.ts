import type { DepthPicture } from '../../core/drawing/depth-picture.ts';
import { rampBytes, type Scheme } from '../series/colour-map.ts';
import { type Scale, shadeIndexes, stepsPerPercent } from '../series/shading.ts';

/** Every so many pixels along a row a fine slanting line crosses what was met on an even leg; it is so much paler. */
const hatchPx = 5;
const paler = 0.62;

/** Whether a leg comes up from the far surface: those are drawn warm and hatched, so that they are told apart without their colour too. */
export function isEvenLeg(leg: number): boolean {
  return leg % 2 === 0;
}

/**
 * Paints the picture over so many pixels: RGBA bytes, row after row. What was not measured stays transparent. What was met on an even leg has the warm tone, with a fine
 * hatch in it: both are the paler the lower the echo, so that noise does not flicker.
 */
export function paintedDepth(
  picture: DepthPicture,
  width: number,
  height: number,
  scale: Scale,
  scheme: Scheme,
): Uint8ClampedArray<ArrayBuffer> {
  const { across, depth } = picture.grid;
  const painted = new Uint8ClampedArray(width * height * 4);
  const indexes = shadeIndexes(scale);
  const last = indexes.length - 1;
  const [cold, warm] = [rampBytes(scheme, 'cold'), rampBytes(scheme, 'warm')];
  for (let y = 0; y < height; y++) {
    const row = Math.min(depth.count - 1, Math.floor(((y + 0.5) / height) * depth.count)) * across.count;
    for (let x = 0; x < width; x++) {
      const cell = row + Math.min(across.count - 1, Math.floor(((x + 0.5) / width) * across.count));
      const leg = picture.leg[cell]!;
      if (leg === 0) continue;
      const index = indexes[Math.min(last, Math.max(0, Math.round(picture.percent[cell]! * stepsPerPercent)))]!;
      const even = isEvenLeg(leg);
      const shade = 3 * (even && (x + y) % hatchPx === 0 ? Math.round(index * paler) : index);
      const ramp = even ? warm : cold;
      const at = 4 * (y * width + x);
      painted[at] = ramp[shade]!;
      painted[at + 1] = ramp[shade + 1]!;
      painted[at + 2] = ramp[shade + 2]!;
      painted[at + 3] = 255;
    }
  }
  return painted;
}
