import { log10 } from '../elementary/exponential.ts';
import type { Quantity } from './quantity.ts';

/** How a person wants figures written. */
export interface NumberStyle {
  readonly decimalMark: '.' | ',';
}

export const pointStyle: NumberStyle = { decimalMark: '.' };

/** What stands where nothing is known. */
export const unknown = '–';

/** A number with so many decimals; `–` where it is not known. No grouping of thousands: a group mark reads as a decimal mark elsewhere. */
export function formatNumber(value: number | null, decimals: number, style: NumberStyle = pointStyle): string {
  if (value === null) return unknown;
  const text = value.toFixed(decimals);
  const unsigned = Number(text) === 0 ? text.replace('-', '') : text;
  return style.decimalMark === ',' ? unsigned.replace('.', ',') : unsigned;
}

/**
 * Decimals that show a standard uncertainty with two significant digits (JCGM 100:2008, 7.2.6), at least `least`, at most 6.
 * 0.012 → 3; 1.7 → 1; 25 → 0.
 */
export function decimalsFor(standardUncertainty: number | null, least: number): number {
  if (standardUncertainty === null || !(standardUncertainty > 0)) return least;
  return Math.min(6, Math.max(least, 1 - Math.floor(log10(standardUncertainty))));
}

/** `51.02 ± 0.12`: the value with its standard uncertainty (k = 1), both to the digits the uncertainty bears. */
export function formatQuantity(quantity: Quantity | null, least = 0, style: NumberStyle = pointStyle): string {
  if (quantity === null) return unknown;
  const decimals = decimalsFor(quantity.standardUncertainty, least);
  const value = formatNumber(quantity.value, decimals, style);
  return quantity.standardUncertainty === null
    ? value
    : `${value} ± ${formatNumber(quantity.standardUncertainty, decimals, style)}`;
}
