import { cos } from '../elementary/trigonometric.ts';
import { envelopeIn, transformSize } from './fft.ts';

/** Fewest samples of extension at each end, where the record has them. */
const leastExtension = 256;

/**
 * Envelope |x + i·H{x}| of an RF record whose length is what it is: zeros up to the next power of two and nothing more.
 * Equals `abs(scipy.signal.hilbert(x, size)[:n])`. The transform's circle closes at the end of the zeros, so a main bang
 * at one end shows at the other: see `extend`.
 * @returns as many samples, in the record's unit, none below |x|
 */
export function envelopeOf(samples: Float64Array): Float64Array {
  if (samples.length === 0) return new Float64Array(0);
  return envelopeIn(samples, 0, samples.length, transformSize(samples.length));
}

/**
 * A record made ready for filter and transform: turned about its end points (odd reflection) as far as the next power
 * of two allows, faded in the third quarter of the way and 0 in the last, where a filter rings out, so that neither end
 * meets the other.
 *
 *      0 | fades |   turned  | record |   turned  | fades | 0
 *     ___|_.-~^~-|.__/\_/\_/\_|/\_/\___|/\_/\__/\_/\_|-.~^~-._|___
 *
 * @returns the extended record, and how many samples stand before the original first one
 */
export function extend(samples: Float64Array): { readonly samples: Float64Array; readonly before: number } {
  const count = samples.length;
  const least = Math.min(count - 1, leastExtension);
  if (least < 1) return { samples, before: 0 };
  const room = Math.floor((transformSize(count + 2 * least) - count) / 2);
  const before = Math.min(count - 1, room);
  const extended = new Float64Array(count + 2 * before);
  extended.set(samples, before);
  const fade = before / 4;
  for (let i = 1; i <= before; i++) {
    const faded = Math.min(1, Math.max(0, (i - 2 * fade) / fade));
    const weight = (1 + cos(Math.PI * faded)) / 2;
    const offset = offsetAt(i);
    extended[before - i] = weight * (offset * samples[0] - samples[i]);
    extended[before + count - 1 + i] = weight * (offset * samples[count - 1] - samples[count - 1 - i]);
  }
  return { samples: extended, before };
}

/** Samples over which a reflection returns from the end point's level to the base line, and the period it does so in. */
const offsetFades = 64;
const offsetPeriod = 32;

/**
 * Twice the end point, `distance` samples beyond it: a reflection is turned about the end point so that it joins without
 * a step. A level that stayed there would be a slow signal of its own, and its Hilbert transform an error far into the
 * record; so it dies away in two swings that sum to nothing.
 */
export function offsetAt(distance: number): number {
  if (distance >= offsetFades) return 0;
  return (1 + cos((Math.PI * distance) / offsetFades)) * cos((2 * Math.PI * distance) / offsetPeriod);
}
