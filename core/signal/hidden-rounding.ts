import { sin } from '../elementary/trigonometric.ts';
import { bandPass, bandPassOf, zeroPhaseGain } from './band-pass.ts';
import type { Trace } from './conditioning.ts';

/**
 * How much of a converter's rounding noise, q²/12, a quiet part hides. Normal noise of s counts, rounded, shows a
 * variance of r = 2·(1 − Φ(1/(2s))) squared counts while s is below a half, where an echo, which crosses many counts,
 * suffers s² + 1/12: the difference is near 0.1·(1 − r/0.35) (derived numerically; within 0.014 from s = 0.1 to 0.5),
 * and nothing from there on.
 */
export function hiddenRounding(measured: number, rounding: number): number {
  return rounding > 0 ? Math.max(0, 1.2 * (1 - measured / (4.2 * rounding))) : 0;
}

/** The power of one count's rounding at each frequency of a tapered spectrum, through the trace's band-pass. */
export function roundingPower(trace: Trace, bins: number, taperPower: number): Float64Array {
  const { resolutionPercent, recipe, stepUs } = trace;
  const white = ((resolutionPercent ?? 0) ** 2 / 12) * taperPower;
  const power = new Float64Array(bins).fill(white);
  const band = recipe.bandPass;
  if (!band) return power;
  const filter = bandPassOf(band.lowMHz, band.highMHz, band.order, 1 / stepUs);
  for (let k = 0; k < bins; k++) power[k] *= zeroPhaseGain(filter, k / (2 * (bins - 1)) / stepUs) ** 2;
  return power;
}

/** Adds rounding errors of the power that a piece of the quiet part hides: those of a long sine that is in step with nothing. */
export function addRoundingErrors(piece: Float64Array, trace: Trace): void {
  const count = trace.resolutionPercent ?? 0;
  if (count === 0) return;
  const measured = meanSquare(piece);
  if (hiddenRounding(measured, (count * count) / 12) === 0) return;
  const white = piece.map((_, i) => {
    const counts = 1000 * sin(Math.SQRT2 * i);
    return count * (Math.round(counts) - counts);
  });
  const band = trace.recipe.bandPass;
  const filter = band && bandPassOf(band.lowMHz, band.highMHz, band.order, 1 / trace.stepUs);
  const errors = filter && white.length > filter.extension ? bandPass(white, filter) : white;
  const scale = Math.sqrt(hiddenRounding(measured, meanSquare(errors)));
  for (let i = 0; i < piece.length; i++) piece[i] += scale * errors[i];
}

function meanSquare(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return sum / values.length;
}
