import type { Doubt } from '../doubt.ts';
import { figure } from '../units/figure.ts';
import { type BlockSeries, otherRadius } from './reference-block.ts';

/** Longer than the way there and back through an ordinary angle-beam wedge, 20 mm of acrylic resin (common practice). */
const ordinaryWedgeUs = 15;

/**
 * A block of two radii faced the wrong way gives the right velocity, since both series have one spacing, and a zero offset that
 * is wrong by the difference of the radii. Doubted where the zero offset found is none of an ordinary wedge and that of the
 * other direction is; `null` for blocks without another radius.
 */
export function otherRadiusDoubt(block: BlockSeries, velocityMPerS: number, zeroOffsetUs: number): Doubt | null {
  const others = block.features.filter((f) => f.name === otherRadius).map((f) => f.distanceMm);
  if (others.length === 0) return null;
  const facingMm = Math.min(...block.distancesMm);
  const otherMm = Math.min(...others);
  const otherOffsetUs = zeroOffsetUs + (2000 * (facingMm - otherMm)) / velocityMPerS;
  const ordinary = (offsetUs: number) => offsetUs >= 0 && offsetUs <= ordinaryWedgeUs;
  if (ordinary(zeroOffsetUs) || !ordinary(otherOffsetUs)) return null;
  const sentence = `facing ${figure(facingMm, 1)} mm the zero offset is ${figure(zeroOffsetUs, 2)} µs, which is none of an ordinary wedge; with the other radius faced (${figure(otherMm, 1)} mm) it would be ${figure(otherOffsetUs, 2)} µs at the same velocity; check which radius the probe faced`;
  return { flag: 'zero-offset-implausible', sentence };
}
