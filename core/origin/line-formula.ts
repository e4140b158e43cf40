import { formulas } from '../formula.ts';
import type { FormulaShown } from '../origin.ts';
import { type FigureStyle, toShown } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import { figures } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';

/** Where the line goes through: distance and time of one echo. */
export interface LinePoint {
  readonly distanceMm: number;
  readonly timeUs: number;
}

/** The velocity of the line through points, with its numbers; two points as they are, more by their sums. */
export function velocityFormula(
  points: readonly LinePoint[],
  velocityMPerS: Quantity,
  style: FigureStyle,
): FormulaShown | null {
  const ordered = [...points].sort((a, b) => a.distanceMm - b.distanceMm);
  const result = figures.velocityPerUs(velocityMPerS, style);
  if (ordered.length < 2) return null;
  if (ordered.length === 2) {
    const [near, far] = ordered;
    return {
      text: formulas['velocity-of-two'].text,
      withNumbers: withNumbers(
        [
          figures.statedMm(far.distanceMm, style),
          figures.statedMm(near.distanceMm, style),
          figures.echoTimeUs(far.timeUs, style),
          figures.echoTimeUs(near.timeUs, style),
        ],
        (d2, d1, t2, t1) => (2 * (d2 - d1)) / (t2 - t1),
        (d2, d1, t2, t1) => `2 · (${d2} − ${d1}) / (${t2} − ${t1})`,
        result,
        style,
      ),
    };
  }
  const distances = ordered.map((p) => toShown(p.distanceMm, 'length', style));
  const meanDistance = mean(distances);
  const meanTime = mean(ordered.map((p) => p.timeUs));
  const { unit } = figures.lengthMm(0, style);
  const squares = distances.reduce((sum, d) => sum + (d - meanDistance) ** 2, 0);
  const products = distances.reduce((sum, d, i) => sum + (d - meanDistance) * (ordered[i].timeUs - meanTime), 0);
  return {
    text: formulas.velocity.text,
    withNumbers: withNumbers(
      [
        { value: squares, decimals: 2, unit: `${unit}²` },
        { value: products, decimals: 3, unit: `${unit} µs` },
      ],
      (s, p) => (2 * s) / p,
      (s, p) => `2 · ${s} / ${p}`,
      result,
      style,
    ),
  };
}

/** The zero offset of that line: it goes through the means. */
export function zeroOffsetFormula(
  points: readonly LinePoint[],
  line: { readonly velocityMPerS: Quantity; readonly zeroOffsetUs: Quantity },
  style: FigureStyle,
): FormulaShown | null {
  if (points.length < 2) return null;
  return {
    text: formulas['zero-offset'].text,
    withNumbers: withNumbers(
      [
        figures.echoTimeUs(mean(points.map((p) => p.timeUs)), style),
        figures.lengthMm(mean(points.map((p) => p.distanceMm)), style),
        figures.velocityPerUs(line.velocityMPerS, style),
      ],
      (t, d, v) => t - (2 * d) / v,
      (t, d, v) => `${t} − 2 · ${d} / ${v}`,
      figures.timeUs(line.zeroOffsetUs, style),
      style,
    ),
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
