import { formatNumber, type NumberStyle } from '../units/format-quantity.ts';

/** A number as it is written: in the unit shown, to so many decimals at least. */
export interface WrittenNumber {
  readonly value: number;
  readonly decimals: number;
  /** Written behind the number; empty for a plain number. */
  readonly unit: string;
}

/** Beyond this many further decimals a double has no more to give. */
const mostFurther = 12;

/**
 * A formula with its numbers put in: `(25.821 µs − 7.309 µs) · 3.2410 mm/µs / 2 = 29.998 mm`.
 * Whoever takes the numbers as they stand and works the formula out gets the result as it stands: they are given as many further decimals as that needs.
 * @param compute the formula, on the numbers in the order given @param write the formula in words, on their texts
 */
export function withNumbers(
  numbers: readonly WrittenNumber[],
  compute: (...values: number[]) => number,
  write: (...texts: string[]) => string,
  result: WrittenNumber,
  style: NumberStyle,
): string {
  const wanted = roundedTo(result.value, result.decimals);
  let further = 0;
  const given = () => numbers.map((number) => roundedTo(number.value, number.decimals + further));
  while (further < mostFurther && roundedTo(compute(...given()), result.decimals) !== wanted) further += 1;
  const texts = numbers.map((number) => inFormula(number, further, style));
  return `${write(...texts)} = ${writeNumber(result, style)}`;
}

/** `29.998 mm`; a percent sign and a degree sign stand as the trade writes them. */
export function writeNumber({ value, decimals, unit }: WrittenNumber, style: NumberStyle): string {
  return withUnit(formatNumber(value, decimals, style), unit);
}

export function withUnit(number: string, unit: string): string {
  return unit === '' || unit === '°' ? `${number}${unit}` : `${number} ${unit}`;
}

/** With further decimals where they say something, and in brackets where it is negative. */
function inFormula({ value, decimals, unit }: WrittenNumber, further: number, style: NumberStyle): string {
  let text = formatNumber(value, decimals + further, style);
  for (let i = 0; i < further && text.endsWith('0'); i++) text = text.slice(0, -1);
  const written = withUnit(text.replace(/[.,]$/, ''), unit);
  return text.startsWith('-') ? `(${written})` : written;
}

/** `+ 0`: no negative zero. */
function roundedTo(value: number, decimals: number): number {
  return Number(value.toFixed(decimals)) + 0;
}
