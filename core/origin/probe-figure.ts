import { type ProbeFigure, probeFigures } from '../probe/figures.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import { decimalsFor } from '../units/format-quantity.ts';
import type { Quantity } from '../units/quantity.ts';
import { type Figure, figures } from './figure.ts';

const leastDecimals: Readonly<Record<(typeof probeFigures)[ProbeFigure]['unit'], number>> = {
  MHz: 3,
  '%': 1,
  µs: 3,
  mm: 2,
  '°': 2,
  dB: 1,
  'dB/µs': 1,
  '': 1,
};

/** A figure of a probe as it is written, with its uncertainty to the same digits; lengths follow the person's units. */
export function probeFigure(name: ProbeFigure, known: Quantity | number, style: FigureStyle): Figure {
  const { unit } = probeFigures[name];
  if (unit === 'mm') return figures.lengthMm(known, style);
  const { value, standardUncertainty } =
    typeof known === 'number' ? { value: known, standardUncertainty: null } : known;
  return { value, decimals: decimalsFor(standardUncertainty, leastDecimals[unit]), unit, standardUncertainty };
}
