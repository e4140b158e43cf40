import { hypot } from '../elementary/hypotenuse.ts';
import { atan2, cos, sin } from '../elementary/trigonometric.ts';
import type { Section } from './section.ts';

/**
 * A pipe scanned round its axis; depths count from the scanned surface, ways along it are arcs on it.
 *
 *     scanned from outside                          scanned from the bore
 *     r² = R² + s² − 2 R s cos angle                r² = R² + s² + 2 R s cos angle         R: radius of the scanned surface
 *     depth = R − r                                 depth = r − R                          r: radius where the ray is
 *     arc = R · atan2(s sin angle, R − s cos angle) arc = R · atan2(s sin angle, R + s cos angle)
 *
 * A ray from outside comes no nearer to the axis than R sin angle: it meets the bore only where that is at most the bore's radius, that is,
 * thickness / outside diameter ≤ (1 − sin angle) / 2. Else it goes from the outside to the outside, and depth grows and falls on each leg.
 * Source: cosine rule (common practice).
 */
export function curved(outsideRadiusMm: number, thicknessMm: number, from: 'outside' | 'inside'): Section {
  return from === 'outside'
    ? fromOutside(outsideRadiusMm, thicknessMm)
    : fromInside(outsideRadiusMm - thicknessMm, thicknessMm);
}

function fromOutside(radius: number, thicknessMm: number): Section {
  const at: Section['at'] = (length, angle) => {
    const toAxis = radius - length * cos(angle);
    const aside = length * sin(angle);
    return { depthMm: radius - hypot(aside, toAxis), alongMm: radius * atan2(aside, toAxis) };
  };
  const to: Section['to'] = (depth, angle) => {
    const square = (radius - depth) ** 2 - (radius * sin(angle)) ** 2;
    // Half of a chord's square is lost to rounding where the ray grazes: what lies within that is met.
    if (square < -1e-12 * radius ** 2) return null;
    return radius * cos(angle) - Math.sqrt(Math.max(0, square));
  };
  return {
    thicknessMm,
    at,
    to,
    leg(angle) {
      const length = to(thicknessMm, angle);
      if (length !== null) return { lengthMm: length, alongMm: at(length, angle).alongMm, to: 'far-surface' };
      return {
        lengthMm: 2 * radius * cos(angle),
        alongMm: radius * (Math.PI - 2 * angle),
        to: 'same-surface',
      };
    },
  };
}

function fromInside(radius: number, thicknessMm: number): Section {
  const at: Section['at'] = (length, angle) => {
    const fromAxis = radius + length * cos(angle);
    const aside = length * sin(angle);
    return { depthMm: hypot(aside, fromAxis) - radius, alongMm: radius * atan2(aside, fromAxis) };
  };
  const to: Section['to'] = (depth, angle) => {
    const square = (radius + depth) ** 2 - (radius * sin(angle)) ** 2;
    return square < 0 ? null : Math.sqrt(square) - radius * cos(angle);
  };
  return {
    thicknessMm,
    at,
    to,
    leg(angle) {
      const length = to(thicknessMm, angle);
      return length === null ? null : { lengthMm: length, alongMm: at(length, angle).alongMm, to: 'far-surface' };
    },
  };
}

/** The thickest wall, as a part of the outside diameter, whose bore a beam from outside still meets: (1 − sin angle) / 2. */
export function thickestWallMet(angleDeg: number): number {
  return (1 - sin((angleDeg * Math.PI) / 180)) / 2;
}
