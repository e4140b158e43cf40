/** A piece of a formula with its numbers: a number that is the value of an input, or what stands between. */
export interface FormulaPart {
  readonly text: string;
  /** Index of the input that this number is; `null` for everything else. */
  readonly input: number | null;
}

interface Named {
  readonly value: string;
}

const unit = '(?: (?:mm/µs|in/µs|m/s|µs|mm|in|dB|%)(?![\\w²/])|°)?';
/** A number with its unit; a negative one stands in brackets. */
const number = new RegExp(`\\(-\\d+(?:[.,]\\d+)?${unit}\\)|(?<![\\d.,-])\\d+(?:[.,]\\d+)?${unit}`, 'g');

/**
 * Finds the inputs in a formula's line, so that each number can lead to where it came from. The formula may give more decimals than the input's own line; a
 * number is the input's where it is the same to the digits that both have, and has at most one fewer. What fits two inputs, or none, stays plain. A result behind `=` is none.
 */
export function formulaParts(line: string, inputs: readonly Named[]): readonly FormulaPart[] {
  const ends = line.lastIndexOf(' = ');
  const work = ends < 0 ? line : line.slice(0, ends);
  const parts: FormulaPart[] = [];
  let at = 0;
  const taken = new Set<number>();
  for (const match of work.matchAll(number)) {
    const fitting = inputs.flatMap((input, i) => (!taken.has(i) && isValue(match[0], input.value) ? [i] : []));
    const [input] = fitting;
    if (input === undefined || fitting.length > 1) continue;
    taken.add(input);
    if (match.index > at) parts.push({ text: line.slice(at, match.index), input: null });
    parts.push({ text: match[0], input });
    at = match.index + match[0].length;
  }
  parts.push({ text: line.slice(at), input: null });
  return parts.filter(({ text }) => text !== '');
}

function isValue(written: string, value: string): boolean {
  const [a, b] = [split(written), split(value.replace(/ ± \S+/, ''))];
  if (a === null || b === null) return false;
  const scale = a.unit === b.unit ? 1 : a.unit === 'mm/µs' && b.unit === 'm/s' ? 1000 : null;
  if (scale === null) return false;
  const given = a.decimals - (scale === 1000 ? 3 : 0);
  if (given < b.decimals - 1) return false;
  const step = 10 ** -Math.max(0, Math.min(given, b.decimals));
  return Math.abs(a.value * scale - b.value) <= 0.5001 * step;
}

function split(text: string): { readonly value: number; readonly decimals: number; readonly unit: string } | null {
  const match = /^\(?(-?\d+(?:[.,](\d+))?)(?: ?([^\d\s()]+))?\)?$/.exec(text.trim());
  if (match === null) return null;
  const [, digits = '', decimals = '', unit = ''] = match;
  return { value: Number(digits.replace(',', '.')), decimals: decimals.length, unit };
}
