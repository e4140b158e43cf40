import type { Gate } from '../../core/gate/gate.ts';
import type { Reading } from '../../core/gate/reading.ts';
import { type FigureStyle, figureWithUnit } from '../../core/units/figure-style.ts';
import { readingWords } from './readout.ts';

/** A gate and its reading in one breath: `20.00 mm to 80.00 mm, threshold 30 %; 51.02 mm, 62.0 %, off peak`. */
export function gateWords(gate: Gate, reading: Reading | null, style: FigureStyle): string {
  return `${spanWords(gate, style)}, threshold ${figureWithUnit(gate.thresholdPercent, 'percent', 0, style)}; ${readingWords(reading, style)}`;
}

export function spanWords({ span }: Gate, style: FigureStyle): string {
  return span.axis === 'time'
    ? `${figureWithUnit(span.fromUs, 'time', 2, style)} to ${figureWithUnit(span.toUs, 'time', 2, style)}`
    : `${figureWithUnit(span.fromMm, 'length', 2, style)} to ${figureWithUnit(span.toMm, 'length', 2, style)}`;
}
