import type { Arithmetic, Term } from '../check/assessed-step.ts';
import { log10, power } from '../elementary/exponential.ts';
import { type WrittenNumber, withNumbers } from '../origin/formula-numbers.ts';
import type { NumberStyle } from '../units/format-quantity.ts';
import { propagate, type Quantity } from '../units/quantity.ts';

interface StepFormula {
  readonly text: string;
  readonly source: string;
  readonly compute: (...values: number[]) => number;
  readonly write: (...texts: string[]) => string;
  /** By how much the figure changes for each of its terms; `null` where they are not independent, so that its uncertainty is made otherwise. */
  readonly rates: ((...values: number[]) => number[]) | null;
}

/** dB for a change of a height by a share of it, as small as one likes. */
const perNeper = 20 / Math.LN10;

const logRatio = (height: number, before: number) => 20 * log10(height / before);

/** The formulas behind the figures of an instrument's linearity; each takes its terms in the order in which its steps hold them. */
export const linearityFormulas = {
  'time-base-deviation': {
    text: 'deviation = 100 · (time − time on the line) / full range',
    source: 'Definition, in % of the full range',
    compute: (time, line, range) => (100 * (time - line)) / range,
    write: (time, line, range) => `100 · (${time} − ${line}) / ${range}`,
    rates: null,
  },
  'two-echo-deviation': {
    text: 'deviation = smaller echo − ratio · larger echo',
    source: 'Definition, in % of full screen height',
    compute: (smaller, ratio, larger) => smaller - ratio * larger,
    write: (smaller, ratio, larger) => `${smaller} − ${ratio} · ${larger}`,
    rates: (_smaller, ratio, larger) => [1, -larger, -ratio],
  },
  'referred-deviation': {
    text: 'deviation = height read · height to be set / height set − target',
    source: 'The reading referred to the height that the rule wants set, for a screen that is linear so near to it',
    compute: (read, toBeSet, set, target) => (read * toBeSet) / set - target,
    write: (read, toBeSet, set, target) => `${read} · ${toBeSet} / ${set} − ${target}`,
    rates: (read, toBeSet, set) => [toBeSet / set, read / set, (-read * toBeSet) / set ** 2, -1],
  },
  'span-deviation': {
    text: 'deviation = height read − height set · 10^(change of gain / 20)',
    source: 'Definition of the decibel for amplitudes',
    compute: (read, set, change) => read - set * power(10, change / 20),
    write: (read, set, change) => `${read} − ${set} · 10^(${change} / 20)`,
    rates: (_read, set, change) => [1, -power(10, change / 20), (-set * power(10, change / 20)) / perNeper],
  },
  'step-error': {
    text: 'error = 20 · log10(height / height before) − change of gain',
    source: 'Definition of the decibel for amplitudes',
    compute: (height, before, change) => logRatio(height, before) - change,
    write: (height, before, change) => `20 · log10(${height} / ${before}) − ${change}`,
    rates: (height, before) => [perNeper / height, -perNeper / before, -1],
  },
  'referred-gain-error': {
    text: 'error = referred gain before − referred gain; referred gain = gain − 20 · log10(height / common height)',
    source:
      'Each row referred to one height (form of the annex, from memory); definition of the decibel for amplitudes',
    compute: (gainBefore, before, common, gain, height) =>
      gainBefore - logRatio(before, common) - (gain - logRatio(height, common)),
    write: (gainBefore, before, common, gain, height) =>
      `[${gainBefore} − 20 · log10(${before} / ${common})] − [${gain} − 20 · log10(${height} / ${common})]`,
    rates: (_gainBefore, before, _common, _gain, height) => [1, -perNeper / before, 0, -1, perNeper / height],
  },
  'total-error': {
    text: 'total error = sum of the errors of the steps between the two settings = error at the one − error at the other, both counted from the first setting',
    source: 'Running sum of the steps’ errors (common practice)',
    compute: (there, here) => there - here,
    write: (there, here) => `${there} − ${here}`,
    rates: null,
  },
} as const satisfies Record<string, StepFormula>;

export type LinearityFormula = keyof typeof linearityFormulas;

const decimalsOf = { '%': 2, dB: 3, mm: 3, µs: 4, '': 2 } as const;

/** The value that the formula gives of its terms, with the uncertainty that theirs give it; unknown where they are not independent. */
export function compute(formula: LinearityFormula, terms: readonly Term[]): Quantity {
  const { compute: of, rates } = linearityFormulas[formula] as StepFormula;
  const values = terms.map((term) => term.value.value);
  if (rates === null) return { value: of(...values), standardUncertainty: null };
  const contributions = rates(...values).map((sensitivity, i) => ({ ...terms[i].value, sensitivity }));
  return propagate(of(...values), contributions);
}

const written = (value: number, unit: Term['unit'], further = 0): WrittenNumber => ({
  value,
  decimals: decimalsOf[unit] + further,
  unit,
});

/** The formula with its terms put in: whoever works it out as it stands gets the result as it stands. */
export function arithmeticOf(
  formula: LinearityFormula,
  terms: readonly Term[],
  unit: '%' | 'dB' | 'mm',
  style: NumberStyle,
): Arithmetic {
  const { text, compute: of, write } = linearityFormulas[formula] as StepFormula;
  const numbers = terms.map((term) => written(term.value.value, term.unit));
  const { value } = compute(formula, terms);
  return { text, withNumbers: withNumbers(numbers, of, write, written(value, unit), style) };
}

/** How the uncertainties of independent terms make that of the figure; `null` where they are not independent, or one is not known. */
export function uncertaintyArithmetic(
  formula: LinearityFormula,
  terms: readonly Term[],
  unit: '%' | 'dB' | 'mm',
  style: NumberStyle,
): Arithmetic | null {
  const { rates } = linearityFormulas[formula] as StepFormula;
  const { standardUncertainty } = compute(formula, terms);
  if (rates === null || standardUncertainty === null) return null;
  const shares = rates(...terms.map((term) => term.value.value))
    .map((rate, i) => ({ rate: Math.abs(rate), term: terms[i], u: terms[i].value.standardUncertainty ?? 0 }))
    .filter(({ rate, u }) => rate > 0 && u > 0);
  if (shares.length === 0) return null;
  const numbers = shares.flatMap(({ rate, term, u }) => [written(rate, '', 2), written(u, term.unit, 2)]);
  const pairs = <T>(of: readonly T[]) => shares.map((_, i) => [of[2 * i], of[2 * i + 1]] as const);
  return {
    text: `u² = sum of [rate · u(term)]² over ${shares.map(({ term }) => term.name).join(' and ')}; the rate is by how much the figure changes for the term`,
    withNumbers: withNumbers(
      numbers,
      (...values) => Math.sqrt(pairs(values).reduce((sum, [rate, u]) => sum + (rate * u) ** 2, 0)),
      (...texts) =>
        `√(${pairs(texts)
          .map(([rate, u]) => `[${rate} · ${u}]²`)
          .join(' + ')})`,
      written(standardUncertainty, unit, 1),
      style,
    ),
  };
}
