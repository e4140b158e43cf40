import type { Arithmetic, Term } from '../check/assessed-step.ts';
import { type WrittenNumber, withNumbers } from '../origin/formula-numbers.ts';
import type { NumberStyle } from '../units/format-quantity.ts';

interface StepFormula {
  readonly text: string;
  readonly source: string;
  readonly compute: (...values: number[]) => number;
  readonly write: (...texts: string[]) => string;
}

const logRatio = (height: number, before: number) => 20 * Math.log10(height / before);

/** The formulas behind the figures of an instrument's linearity; each takes its terms in the order in which its steps hold them. */
export const linearityFormulas = {
  'time-base-deviation': {
    text: 'deviation = 100 · (time − time on the line) / full range',
    source: 'Definition, in % of the full range',
    compute: (time, line, range) => (100 * (time - line)) / range,
    write: (time, line, range) => `100 · (${time} − ${line}) / ${range}`,
  },
  'two-echo-deviation': {
    text: 'deviation = smaller echo − ratio · larger echo',
    source: 'Definition, in % of full screen height',
    compute: (smaller, ratio, larger) => smaller - ratio * larger,
    write: (smaller, ratio, larger) => `${smaller} − ${ratio} · ${larger}`,
  },
  'referred-deviation': {
    text: 'deviation = height read · height to be set / height set − target',
    source: 'The reading referred to the height that the rule wants set, for a screen that is linear so near to it',
    compute: (read, toBeSet, set, target) => (read * toBeSet) / set - target,
    write: (read, toBeSet, set, target) => `${read} · ${toBeSet} / ${set} − ${target}`,
  },
  'span-deviation': {
    text: 'deviation = height read − height set · 10^(change of gain / 20)',
    source: 'Definition of the decibel for amplitudes',
    compute: (read, set, change) => read - set * 10 ** (change / 20),
    write: (read, set, change) => `${read} − ${set} · 10^(${change} / 20)`,
  },
  'step-error': {
    text: 'error = 20 · log10(height / height before) − change of gain',
    source: 'Definition of the decibel for amplitudes',
    compute: (height, before, change) => logRatio(height, before) - change,
    write: (height, before, change) => `20 · log10(${height} / ${before}) − ${change}`,
  },
  'referred-gain-error': {
    text: 'error = referred gain before − referred gain; referred gain = gain − 20 · log10(height / common height)',
    source:
      'Each row referred to one height (form of the annex, from memory); definition of the decibel for amplitudes',
    compute: (gainBefore, before, common, gain, height) =>
      gainBefore - logRatio(before, common) - (gain - logRatio(height, common)),
    write: (gainBefore, before, common, gain, height) =>
      `[${gainBefore} − 20 · log10(${before} / ${common})] − [${gain} − 20 · log10(${height} / ${common})]`,
  },
  'total-error': {
    text: 'total error = sum of the errors of the steps between the two settings = error at the one − error at the other, both counted from the first setting',
    source: 'Running sum of the steps’ errors (common practice)',
    compute: (there, here) => there - here,
    write: (there, here) => `${there} − ${here}`,
  },
} as const satisfies Record<string, StepFormula>;

export type LinearityFormula = keyof typeof linearityFormulas;

const decimalsOf = { '%': 2, dB: 3, mm: 3, µs: 4, '': 2 } as const;

/** The value that the formula gives of its terms. */
export function compute(formula: LinearityFormula, terms: readonly Term[]): number {
  const { compute: of } = linearityFormulas[formula] as StepFormula;
  return of(...terms.map((term) => term.value.value));
}

/** The formula with its terms put in: whoever works it out as it stands gets the result as it stands. */
export function arithmeticOf(
  formula: LinearityFormula,
  terms: readonly Term[],
  unit: '%' | 'dB' | 'mm',
  style: NumberStyle,
): Arithmetic {
  const { text, compute: of, write } = linearityFormulas[formula] as StepFormula;
  const written = (value: number, of: Term['unit']): WrittenNumber => ({ value, decimals: decimalsOf[of], unit: of });
  const numbers = terms.map((term) => written(term.value.value, term.unit));
  return { text, withNumbers: withNumbers(numbers, of, write, written(compute(formula, terms), unit), style) };
}
