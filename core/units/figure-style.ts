import { decimalsFor, formatNumber, type NumberStyle, unknown } from './format-quantity.ts';
import { type Dimension, type Parsed, parseNumber, parseQuantity, refused } from './parse-quantity.ts';
import type { Quantity } from './quantity.ts';

/** How a person wants figures written: the system of lengths, and the decimal mark. Times, per cents and decibels are the same in both systems. */
export interface FigureStyle extends NumberStyle {
  readonly units: 'metric' | 'inch';
}

export const metricStyle: FigureStyle = { units: 'metric', decimalMark: '.' };

/** What a figure measures. The core's own unit of each: mm, m/s, µs, % FSH, dB, MHz, °, °C. */
export type Measure = 'length' | 'velocity' | 'time' | 'percent' | 'level' | 'frequency' | 'angle' | 'temperature';

/** A unit on screen: its sign, how many of the core's unit it is, and how many more decimals it takes to say as much. */
interface ShownUnit {
  readonly sign: string;
  readonly size: number;
  readonly moreDecimals: number;
}

/** 1 in is 25.4 mm exactly (BIPM, The International System of Units; international yard and pound agreement of 1959). */
const millimetresPerInch = 25.4;

const metric: Readonly<Record<Measure, ShownUnit>> = {
  length: { sign: 'mm', size: 1, moreDecimals: 0 },
  velocity: { sign: 'm/s', size: 1, moreDecimals: 0 },
  time: { sign: 'µs', size: 1, moreDecimals: 0 },
  percent: { sign: '%', size: 1, moreDecimals: 0 },
  level: { sign: 'dB', size: 1, moreDecimals: 0 },
  frequency: { sign: 'MHz', size: 1, moreDecimals: 0 },
  angle: { sign: '°', size: 1, moreDecimals: 0 },
  temperature: { sign: '°C', size: 1, moreDecimals: 0 },
};

/** Velocities in inches per microsecond: common practice where lengths are in inches. */
const inch: Readonly<Record<Measure, ShownUnit>> = {
  ...metric,
  length: { sign: 'in', size: millimetresPerInch, moreDecimals: 2 },
  velocity: { sign: 'in/µs', size: millimetresPerInch * 1000, moreDecimals: 5 },
};

function shownUnit(measure: Measure, style: FigureStyle): ShownUnit {
  return (style.units === 'inch' ? inch : metric)[measure];
}

/** `mm`, `in`, `m/s`, `in/µs`, `µs` … as it stands in a table's head. */
export function unitSign(measure: Measure, style: FigureStyle): string {
  return shownUnit(measure, style).sign;
}

/** From the core's unit to the one shown: for an axis's ticks, a field's number. */
export function toShown(value: number, measure: Measure, style: FigureStyle): number {
  return value / shownUnit(measure, style).size;
}

/** From the unit shown to the core's. */
export function fromShown(value: number, measure: Measure, style: FigureStyle): number {
  return value * shownUnit(measure, style).size;
}

/**
 * A figure without its unit, for a table whose head has it. `decimals` are those of the metric figure; one in inches is given as many more as it
 * takes to tell the same lengths apart. `–` where it is not known.
 */
export function figureText(value: number | null, measure: Measure, decimals: number, style: FigureStyle): string {
  if (value === null) return unknown;
  const { size, moreDecimals } = shownUnit(measure, style);
  return formatNumber(value / size, decimals + moreDecimals, style);
}

/** The same with its unit: `30.01 mm`, `1.1815 in`; per cent and degrees as the trade writes them, `65.7 %`, `60°`. */
export function figureWithUnit(value: number | null, measure: Measure, decimals: number, style: FigureStyle): string {
  const text = figureText(value, measure, decimals, style);
  return value === null ? text : withUnit(text, measure, style);
}

/** `51.02 ± 0.12 mm`: with its standard uncertainty (k = 1), to two significant digits of the uncertainty, at least `least` decimals. */
export function quantityText(quantity: Quantity | null, measure: Measure, least: number, style: FigureStyle): string {
  if (quantity === null) return unknown;
  const { value, uncertainty } = quantityParts(quantity, measure, least, style);
  return uncertainty === null ? withUnit(value, measure, style) : withUnit(`${value} ± ${uncertainty}`, measure, style);
}

/** Value and standard uncertainty apart and without unit, to the same digits as `quantityText`. */
export function quantityParts(
  quantity: Quantity,
  measure: Measure,
  least: number,
  style: FigureStyle,
): { readonly value: string; readonly uncertainty: string | null } {
  const { size, moreDecimals } = shownUnit(measure, style);
  const u = quantity.standardUncertainty === null ? null : quantity.standardUncertainty / size;
  const decimals = u === null ? least + moreDecimals : decimalsFor(u, least + moreDecimals);
  return {
    value: formatNumber(quantity.value / size, decimals, style),
    uncertainty: u === null ? null : formatNumber(u, decimals, style),
  };
}

function withUnit(text: string, measure: Measure, style: FigureStyle): string {
  const sign = unitSign(measure, style);
  return measure === 'angle' ? `${text}${sign}` : `${text} ${sign}`;
}

const dimensionOf: Readonly<Partial<Record<Measure, Dimension>>> = {
  length: 'length',
  velocity: 'velocity',
  time: 'time',
  frequency: 'frequency',
  angle: 'angle',
};

/**
 * Reads what a person typed into a field whose unit stands beside it: a bare number is in that unit, another unit may be written (`20mm`, `0.8in`, `4us`).
 * The decimal mark is the person's own; the other one is refused, since it may have been meant to group thousands.
 * @returns the value in the core's unit
 */
export function readFigure(text: string, measure: Measure, style: FigureStyle): Parsed<number> {
  const other = style.decimalMark === ',' ? '.' : ',';
  if (text.includes(other)) {
    const wanted = style.decimalMark === ',' ? 'comma' : 'point';
    return refused(
      `"${text.trim()}" has a "${other}" in it; write decimals with a ${wanted}, and no mark for thousands`,
    );
  }
  const words = text.trim().replace(',', '.').replace('−', '-');
  const bare = parseNumber(words);
  if (bare.ok) return { ok: true, value: fromShown(bare.value, measure, style) };
  const dimension = dimensionOf[measure];
  if (dimension !== undefined) return parseQuantity(words, dimension);
  return parseNumber(
    words.endsWith(unitSign(measure, style)) ? words.slice(0, -unitSign(measure, style).length) : words,
  );
}
