import { hypot } from '../elementary/hypotenuse.ts';
import type { Quantity } from '../units/quantity.ts';

/**
 * The mean of several readings of one length off a ruler. Its standard uncertainty has the ruler's own share and, from two readings on, that of their
 * scatter, s / √n (JCGM 100:2008 (GUM), 4.2.3). `null` without a reading.
 */
export function readLength(readingsMm: readonly number[], uRulerMm: number): Quantity | null {
  const n = readingsMm.length;
  if (n === 0) return null;
  const mean = readingsMm.reduce((sum, mm) => sum + mm, 0) / n;
  if (n === 1) return { value: mean, standardUncertainty: uRulerMm };
  const variance = readingsMm.reduce((sum, mm) => sum + (mm - mean) ** 2, 0) / (n - 1);
  return { value: mean, standardUncertainty: hypot(uRulerMm, Math.sqrt(variance / n)) };
}
