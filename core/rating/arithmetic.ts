import type { Arithmetic } from '../check/assessed-step.ts';
import { figures } from '../origin/figure.ts';
import { type WrittenNumber, withNumbers } from '../origin/formula-numbers.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import { type IndicationRating, wholeDbHalfUp } from './aws-d1.1.ts';
import { ratingFormulas } from './formulas.ts';

const whole = (db: number): WrittenNumber => ({ value: db, decimals: 0, unit: 'dB' });
const mmPerInch = 25.4;

/** In the form’s own unit of length, whatever the person reads in. */
export function factorArithmetic({ form, factor, soundPathMm }: IndicationRating, style: FigureStyle): Arithmetic {
  const inch = form === 'inch';
  const path: WrittenNumber = inch
    ? { value: soundPathMm.value / mmPerInch, decimals: 3, unit: 'in' }
    : { value: soundPathMm.value, decimals: 2, unit: 'mm' };
  const rounding = factor.floored ? 'at least 0 of ' : '';
  return {
    text: ratingFormulas[inch ? 'attenuation-factor-inch' : 'attenuation-factor-si'].text,
    withNumbers: withNumbers(
      [path],
      (s) => (factor.floored ? 0 : wholeDbHalfUp(inch ? 2 * (s - 1) : 0.08 * (s - 25))),
      (s) => `${rounding}${inch ? `2 dB/in · (${s} − 1 in)` : `0.08 dB/mm · (${s} − 25 mm)`}`,
      whole(factor.factorDb),
      style,
    ),
  };
}

export function ratingArithmetic(rating: IndicationRating, style: FigureStyle): Arithmetic {
  const { indicationLevelDb, referenceLevelDb, factor, aboveReferenceGainDb, ratingDb } = rating;
  const result = figures.levelDb(ratingDb, style);
  if (indicationLevelDb === null || referenceLevelDb === null)
    return {
      text: ratingFormulas['rating-without-gains'].text,
      withNumbers: withNumbers(
        [figures.levelDb(-aboveReferenceGainDb.value, style), whole(factor.factorDb)],
        (l, c) => -l - c,
        (l, c) => `−${l} − ${c}`,
        result,
        style,
      ),
    };
  return {
    text: ratingFormulas.rating.text,
    withNumbers: withNumbers(
      [figures.levelDb(indicationLevelDb, style), figures.levelDb(referenceLevelDb, style), whole(factor.factorDb)],
      (a, b, c) => a - b - c,
      (a, b, c) => `${a} − ${b} − ${c}`,
      result,
      style,
    ),
  };
}

/** All arithmetic of a rating, in order. */
export function ratingLines(rating: IndicationRating, style: FigureStyle): Arithmetic[] {
  return [factorArithmetic(rating, style), ratingArithmetic(rating, style)];
}
