import { type FigureStyle, type Measure, quantityParts, toShown, unitSign } from '../units/figure-style.ts';
import { formatNumber, unknown } from '../units/format-quantity.ts';
import type { Quantity } from '../units/quantity.ts';
import { type WrittenNumber, withUnit, writeNumber } from './formula-numbers.ts';

/** A number as it is written on screen, with its uncertainty in the same unit and to the same digits. */
export interface Figure extends WrittenNumber {
  readonly standardUncertainty: number | null;
}

type Known = Quantity | number;

function figure(known: Known, measure: Measure, least: number, style: FigureStyle): Figure {
  const quantity = typeof known === 'number' ? { value: known, standardUncertainty: null } : known;
  const shown = (value: number) => toShown(value, measure, style);
  return {
    value: shown(quantity.value),
    decimals: decimalsIn(quantityParts(quantity, measure, least, style).value),
    unit: unitSign(measure, style),
    standardUncertainty: quantity.standardUncertainty === null ? null : shown(quantity.standardUncertainty),
  };
}

function decimalsIn(text: string): number {
  return /[.,](\d+)$/.exec(text)?.[1]?.length ?? 0;
}

/** What a person stated, with the decimals it was stated with: `100`, `10.02`. */
function stated(value: number, measure: Measure, style: FigureStyle): Figure {
  const shown = Number(toShown(value, measure, style).toFixed(6));
  return {
    value: shown,
    decimals: decimalsIn(String(shown)),
    unit: unitSign(measure, style),
    standardUncertainty: null,
  };
}

/**
 * Every kind of figure, as it is written: its measure, and the fewest decimals of the metric figure. The procedures, the readings' table and
 * the formulas take it from here, so that one figure looks alike everywhere.
 */
export const figures = {
  timeUs: (known: Known, style: FigureStyle) => figure(known, 'time', 3, style),
  /** Of a single echo of a block, which is read finer than a part's. */
  echoTimeUs: (known: Known, style: FigureStyle) => figure(known, 'time', 4, style),
  amplitudePercent: (known: Known, style: FigureStyle) => figure(known, 'percent', 1, style),
  noisePercent: (known: Known, style: FigureStyle) => figure(known, 'percent', 3, style),
  /** A change of velocity as a share of it. */
  changePercent: (known: Known, style: FigureStyle) => figure(known, 'percent', 3, style),
  /** Of a height or a place on the screen from what it should be, in % of the full screen. */
  deviationPercent: (known: Known, style: FigureStyle) => figure(known, 'percent', 2, style),
  levelDb: (known: Known, style: FigureStyle) => figure(known, 'level', 1, style),
  measuredAngleDeg: (known: Known, style: FigureStyle) => figure(known, 'angle', 1, style),
  angleDeg: (known: number, style: FigureStyle) => stated(known, 'angle', style),
  lengthMm: (known: Known, style: FigureStyle) => figure(known, 'length', 2, style),
  /** A small difference of lengths. */
  residualMm: (known: Known, style: FigureStyle) => figure(known, 'length', 3, style),
  statedMm: (known: number, style: FigureStyle) => stated(known, 'length', style),
  velocityMPerS: (known: Known, style: FigureStyle) => figure(known, 'velocity', 1, style),
  /** For a formula with lengths and µs in it: mm/µs, in/µs. */
  velocityPerUs: (known: Known, style: FigureStyle): Figure => {
    const inMPerS = figure(known, 'velocity', 1, style);
    if (style.units === 'inch') return inMPerS;
    const { value, decimals, standardUncertainty } = inMPerS;
    return {
      value: value / 1000,
      decimals: decimals + 3,
      unit: 'mm/µs',
      standardUncertainty: standardUncertainty === null ? null : standardUncertainty / 1000,
    };
  },
} as const;

/** `29.998 mm`; `–` where it is not known. */
export function figureWords(number: WrittenNumber | null, style: FigureStyle): string {
  return number === null ? unknown : writeNumber(number, style);
}

/** The figure without its unit, for a column that bears it in its head. */
export function bareFigure(number: WrittenNumber | null, style: FigureStyle): string {
  return number === null ? unknown : formatNumber(number.value, number.decimals, style);
}

/** The standard uncertainty of a figure to the figure's digits, without and with its unit; `null` where it is not known. */
export function uncertaintyOf(number: Figure): WrittenNumber | null {
  return number.standardUncertainty === null ? null : { ...number, value: number.standardUncertainty };
}

/** `29.998 ± 0.042 mm`; without the second part where no uncertainty is known. */
export function figureWithUncertainty(number: Figure | null, style: FigureStyle): string {
  if (number === null) return unknown;
  const u = uncertaintyOf(number);
  if (u === null) return figureWords(number, style);
  return withUnit(`${bareFigure(number, style)} ± ${bareFigure(u, style)}`, number.unit);
}
