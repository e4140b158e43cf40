import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import { figure } from '../../core/units/figure.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { FileUnderstood } from '../engine/messages.ts';
import { grouped } from '../parts/grouped.ts';

export const delimiterWords: Readonly<Record<NonNullable<ImportRecipe['delimiter']>, string>> = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
  ' ': 'blanks',
};

export const rectificationWords: Readonly<Record<NonNullable<ImportRecipe['rectification']>, string>> = {
  rf: 'RF',
  full: 'full-wave rectified',
  positive: 'positive half waves',
  negative: 'negative half waves',
  envelope: 'envelope',
};

export const amplitudeWords: Readonly<Record<NonNullable<ImportRecipe['amplitudeUnit']>, string>> = {
  percent: '% of full screen',
  volt: 'volts',
  count: 'counts',
  fraction: 'fraction of full scale',
};

const markWords = { '.': 'decimal point', ',': 'decimal comma' } as const;

/** What was understood of a file, in a line: `comma, decimal point · 24 000 samples at 100 MHz · % of full screen, RF`. */
export function understoodWords(understood: FileUnderstood, style: FigureStyle): string {
  const { delimiter, decimalMark, traces, traceCount } = understood;
  const [first] = traces;
  const written = [delimiter === null ? 'one column' : delimiterWords[delimiter], markWords[decimalMark]].join(', ');
  if (first === undefined) return written;
  const rate = first.stepUs === null ? '' : ` at ${numberWords(1 / first.stepUs, style)} MHz`;
  const many = traceCount > 1 ? `${grouped(traceCount)} traces of ` : '';
  const amplitude = first.amplitudeUnit === null ? 'unit of amplitude not known' : amplitudeWords[first.amplitudeUnit];
  return [
    written,
    `${many}${grouped(first.samples)} samples${rate}`,
    `${amplitude}, ${rectificationWords[first.rectification]}`,
  ].join(' · ');
}

function numberWords(value: number, { decimalMark }: FigureStyle): string {
  const text = figure(value, 4);
  return decimalMark === ',' ? text.replace('.', ',') : text;
}
