import type { Section } from './section.ts';

/**
 * A plate of parallel faces: depth = way · cos angle, along = way · sin angle, leg = thickness / cos angle.
 * Source: plane geometry (common practice). An angle of 0 is a straight beam.
 */
export function flat(thicknessMm: number): Section {
  return {
    thicknessMm,
    leg: (angle) => ({
      lengthMm: thicknessMm / Math.cos(angle),
      alongMm: thicknessMm * Math.tan(angle),
      to: 'far-surface',
    }),
    at: (length, angle) => ({ depthMm: length * Math.cos(angle), alongMm: length * Math.sin(angle) }),
    to: (depth, angle) => depth / Math.cos(angle),
  };
}
