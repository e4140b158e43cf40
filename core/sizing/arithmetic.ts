import type { Arithmetic } from '../check/assessed-step.ts';
import { figures } from '../origin/figure.ts';
import { withNumbers } from '../origin/formula-numbers.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { End } from './ends.ts';
import { sizingFormulas } from './formulas.ts';
import type { LengthResult } from './length.ts';

/** The length from its ends; `null` where there is none, and where the beam’s width leaves nothing of it. */
export function lengthArithmetic(
  { low, high, takenOffMm, lengthMm }: LengthResult,
  style: FigureStyle,
): Arithmetic | null {
  if (low === null || high === null || lengthMm === null || lengthMm.value === 0) return null;
  const ends = [figures.lengthMm(high.positionMm, style), figures.lengthMm(low.positionMm, style)];
  const result = figures.lengthMm(lengthMm, style);
  if (takenOffMm === null)
    return {
      text: sizingFormulas.length.text,
      withNumbers: withNumbers(
        ends,
        (h, l) => h - l,
        (h, l) => `${h} − ${l}`,
        result,
        style,
      ),
    };
  return {
    text: sizingFormulas['length-less-beam'].text,
    withNumbers: withNumbers(
      [...ends, figures.lengthMm(takenOffMm, style)],
      (h, l, b) => h - l - b,
      (h, l, b) => `${h} − ${l} − ${b}`,
      result,
      style,
    ),
  };
}

/**
 * An end from the heights on either side of the level; `null` where it was not interpolated.
 * @param insideDb and @param outsideDb heights above the level
 */
export function endArithmetic(end: End, insideDb: number, outsideDb: number, style: FigureStyle): Arithmetic | null {
  if (end.state !== 'crossed' || end.outsideMm === null) return null;
  return {
    text: sizingFormulas.end.text,
    withNumbers: withNumbers(
      [
        figures.lengthMm(end.insideMm, style),
        figures.lengthMm(end.outsideMm, style),
        { value: insideDb, decimals: 2, unit: 'dB' },
        { value: outsideDb, decimals: 2, unit: 'dB' },
      ],
      (a, b, ya, yb) => a + (ya / (ya - yb)) * (b - a),
      (a, b, ya, yb) => `${a} + ${ya} / (${ya} − ${yb}) · (${b} − ${a})`,
      figures.lengthMm(end.positionMm, style),
      style,
    ),
  };
}
