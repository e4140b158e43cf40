import { figures } from '../origin/figure.ts';
import type { WrittenNumber } from '../origin/formula-numbers.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';

/** A height in % FSH, a level in dB and a stated distance as they stand in the arithmetic of the sensitivity. */
export const height = (percent: number, style: FigureStyle): WrittenNumber => figures.amplitudePercent(percent, style);
export const level = (db: Quantity | number, style: FigureStyle) => figures.levelDb(db, style);
export const length = (mm: number, style: FigureStyle): WrittenNumber => figures.statedMm(mm, style);
