/** A number read from a person's words, or a sentence that says what is wrong with them. */
export type Parsed<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly sentence: string };

/** What can be asked for, with the factor from each unit to the base unit. 1 in is 25.4 mm exactly. */
const dimensions = {
  length: { base: 'mm', example: '100mm or 4in', factors: { mm: 1, cm: 10, m: 1000, in: 25.4, inch: 25.4, '"': 25.4 } },
  time: { base: 'us', example: '31.5us', factors: { us: 1, µs: 1, μs: 1, ns: 1e-3, ms: 1e3, s: 1e6 } },
  frequency: {
    base: 'MHz',
    example: '100MHz',
    factors: { MHz: 1, kHz: 1e-3, GHz: 1e3, Hz: 1e-6, 'MS/s': 1, 'GS/s': 1e3, 'kS/s': 1e-3 },
  },
  velocity: {
    base: 'm/s',
    example: '5920m/s',
    factors: { 'm/s': 1, 'mm/us': 1000, 'mm/µs': 1000, 'km/s': 1000, 'in/us': 25400, 'in/µs': 25400 },
  },
  angle: { base: 'deg', example: '60deg', factors: { deg: 1, '°': 1 } },
} as const satisfies Record<string, { base: string; example: string; factors: Record<string, number> }>;

export type Dimension = keyof typeof dimensions;

const number = String.raw`[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?`;
const numberAlone = new RegExp(`^${number}$`);
const numberAndUnit = new RegExp(`^(${number})\\s*([^\\s\\d.,].*)$`);

/**
 * Reads `100mm`, `4 in`, `31.5us` … to the base unit of the dimension: mm, µs, MHz, m/s, degrees.
 * A bare number is refused, since its unit would have to be guessed; so is a decimal comma, which reads as a thousands mark elsewhere.
 */
export function parseQuantity(text: string, dimension: Dimension): Parsed<number> {
  const { factors, example } = dimensions[dimension];
  const words = text.trim();
  if (numberAlone.test(words)) {
    return refused(`"${text}" has no unit, and a unit is never guessed; write it as in ${example}`);
  }
  const match = numberAndUnit.exec(words);
  if (match === null) {
    const comma = /^[+-]?\d+,\d+/.test(words) ? ' with a decimal point, not a comma,' : '';
    return refused(`"${text}" is not a ${dimension}; write it${comma} as in ${example}`);
  }
  const factor = factorOf(factors, match[2]);
  if (factor === null) {
    return refused(`"${match[2]}" is not a unit of ${dimension}; use ${[...new Set(Object.keys(factors))].join(', ')}`);
  }
  const value = Number(match[1]) * factor;
  return Number.isFinite(value) ? { ok: true, value } : refused(`"${text}" is too large a number`);
}

function factorOf(factors: Readonly<Record<string, number>>, unit: string): number | null {
  if (Object.hasOwn(factors, unit)) return factors[unit];
  const folded = Object.keys(factors).find((name) => name.toLowerCase() === unit.toLowerCase());
  return folded === undefined ? null : factors[folded];
}

/** Reads a plain number (per cent, dB, counts), where the unit is part of the question. */
export function parseNumber(text: string): Parsed<number> {
  const words = text.trim();
  const value = numberAlone.test(words) ? Number(words) : Number.NaN;
  return Number.isFinite(value) ? { ok: true, value } : refused(`"${text}" is not a number; write it as in 20 or 0.5`);
}

/** Reads `55us..75us`: two quantities with two dots between, the first the smaller. */
export function parseSpan(text: string, dimension: Dimension): Parsed<{ readonly from: number; readonly to: number }> {
  const ends = text.split('..');
  if (ends.length !== 2)
    return refused(`"${text}" is not a span; write its two ends with two dots between, as in 55us..75us`);
  const from = parseQuantity(ends[0], dimension);
  if (!from.ok) return from;
  const to = parseQuantity(ends[1], dimension);
  if (!to.ok) return to;
  if (from.value >= to.value) return refused(`"${text}" ends before it begins; write the smaller end first`);
  return { ok: true, value: { from: from.value, to: to.value } };
}

export function refused(sentence: string): { readonly ok: false; readonly sentence: string } {
  return { ok: false, sentence };
}
