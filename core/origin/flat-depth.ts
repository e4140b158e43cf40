import { cos, sin } from '../elementary/trigonometric.ts';
import type { NumberStyle } from '../units/format-quantity.ts';
import type { Figure } from './figure.ts';
import { type WrittenNumber, withNumbers } from './formula-numbers.ts';

export const cosDeg = (deg: number): number => cos((deg * Math.PI) / 180);

export const sinDeg = (deg: number): number => sin((deg * Math.PI) / 180);

/** The depth between parallel faces with its numbers put in: down on odd legs, up on even ones. */
export function flatDepthWithNumbers(
  path: Figure,
  angle: Figure,
  leg: number,
  thickness: Figure,
  depth: Figure,
  style: NumberStyle,
): string {
  const before: WrittenNumber = { value: leg - 1, decimals: 0, unit: '' };
  const downward = leg % 2 === 1;
  return withNumbers(
    [path, angle, before, thickness],
    (p, a, n, t) => (downward ? p * cosDeg(a) - n * t : t - (p * cosDeg(a) - n * t)),
    (p, a, n, t) => (downward ? `${p} · cos ${a} − ${n} · ${t}` : `${t} − (${p} · cos ${a} − ${n} · ${t})`),
    depth,
    style,
  );
}
