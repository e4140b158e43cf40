import { figure } from '../../core/units/figure.ts';
import { type FigureStyle, type Measure, readFigure, toShown } from '../../core/units/figure-style.ts';
import type { Read } from '../parts/QuantityField.tsx';

/** A number as it stands in a field: the digits it has, in the unit shown, without trailing zeros; empty for what is not stated. */
export function shownIn(measure: Measure, style: FigureStyle): (value: number | null) => string {
  return (value) => {
    if (value === null) return '';
    const text = figure(toShown(value, measure, style), 6);
    return style.decimalMark === ',' ? text.replace('.', ',') : text;
  };
}

/** What must hold of a number, and the sentence for where it does not. */
export interface Bound {
  readonly holds: (value: number) => boolean;
  readonly sentence: string;
}

export const positive: Bound = { holds: (value) => value > 0, sentence: 'give a number above 0' };
export const notNegative: Bound = { holds: (value) => value >= 0, sentence: 'give 0 or more' };
export const percentOfScreen: Bound = {
  holds: (value) => value > 0 && value <= 100,
  sentence: 'give a height above 0 and at most 100 % of full screen',
};
export const angleOfBeam: Bound = {
  holds: (value) => value > 0 && value < 90,
  sentence: 'give an angle between 0° and 90°; leave it empty for a straight beam',
};
export const anything: Bound = { holds: () => true, sentence: '' };

/** Reads a number that must be there. */
export function readIn(measure: Measure, style: FigureStyle, bound: Bound): (words: string) => Read<number> {
  return (words) => {
    const read = readFigure(words, measure, style);
    if (!read.ok) return read;
    return bound.holds(read.value) ? read : { ok: false, sentence: bound.sentence };
  };
}

/** The same for a number that may be left out. */
export function readOrNothing(
  measure: Measure,
  style: FigureStyle,
  bound: Bound,
): (words: string) => Read<number | null> {
  const read = readIn(measure, style, bound);
  return (words) => (words.trim() === '' ? { ok: true, value: null } : read(words));
}
