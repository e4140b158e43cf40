import { cos, sin, tan } from '../elementary/trigonometric.ts';
import type { Section } from './section.ts';

/**
 * A plate of parallel faces: depth = way · cos angle, along = way · sin angle, leg = thickness / cos angle.
 * Source: plane geometry (common practice). An angle of 0 is a straight beam.
 */
export function flat(thicknessMm: number): Section {
  return {
    thicknessMm,
    leg: (angle) => ({
      lengthMm: thicknessMm / cos(angle),
      alongMm: thicknessMm * tan(angle),
      to: 'far-surface',
    }),
    at: (length, angle) => ({ depthMm: length * cos(angle), alongMm: length * sin(angle) }),
    to: (depth, angle) => depth / cos(angle),
  };
}
