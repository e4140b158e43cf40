import type { Delimiter } from './import-recipe.ts';
import { columnOfField } from './table.ts';

/** What a cell can be in place of a number: its code, and its sentence from the cell and the name of its column. */
export const cellProblems = {
  empty: {
    code: 'empty-field',
    sentence: (_cell: string, name: string) =>
      `There is no value in ${name} here. Export the waveform again, or complete the row.`,
  },
  nan: {
    code: 'not-a-number',
    sentence: (cell: string, name: string) =>
      `${name} is ‘${cell}’ here: not a number. Samples without a value cannot be measured; export the waveform again.`,
  },
  infinite: {
    code: 'infinite',
    sentence: (cell: string, name: string) =>
      `${name} is ‘${cell}’ here: infinite, or out of range. Capture again with a range or gain that holds the signal.`,
  },
  text: {
    code: 'text-in-number',
    sentence: (cell: string, name: string) =>
      `${name} is ‘${cell}’ here, which is no number. Mend the cell, or say which columns hold the waveform.`,
  },
  'other-mark': {
    code: 'mixed-decimal-marks',
    sentence: (cell: string, name: string) =>
      `${name} is ‘${cell}’ here, with another decimal mark than the rest of the file. Export with one decimal mark throughout.`,
  },
  ambiguous: {
    code: 'ambiguous-number',
    sentence: (cell: string, name: string) =>
      `${name} is ‘${cell}’ here: the mark may separate thousands or decimals. State the file’s decimal mark (--decimal-mark point or comma), or export without thousands separators.`,
  },
} as const;

/** What is wrong with a row of another number of fields than the others have, and the column where that begins. */
export function lengthProblem(
  text: string,
  found: number,
  fields: number,
  delimiter: Delimiter | null,
): { readonly code: string; readonly column: number; readonly sentence: string } {
  if (found <= fields) {
    return {
      code: 'too-few-fields',
      column: text.length + 1,
      sentence: `This row has ${countOf(found)}, the others have ${fields}. Export the waveform again, or complete the row.`,
    };
  }
  const doubled = delimiter === ',' && found === 2 * fields;
  return {
    code: 'too-many-fields',
    column: columnOfField(text, delimiter, fields),
    sentence: `This row has ${countOf(found)}, the others have ${fields}. ${doubled ? 'If commas are its decimal marks, the delimiter must be another.' : 'Take out what does not belong to it, or export the waveform again.'}`,
  };
}

function countOf(fields: number): string {
  return fields === 1 ? '1 field' : `${fields} fields`;
}

/** A cell, or the beginning of a long one, as a sentence shows it. */
export function shown(cell: string): string {
  const text = cell.trim();
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}
