import { bareFigure, type Figure, uncertaintyOf } from '../origin/figure.ts';
import type { FigureAsked } from '../origin.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { TextCell, TextTable } from './table-text.ts';

/** A figure that is a bound: the true one is at least, or at most, so large. */
export type Bound = 'at-least' | 'at-most' | null;

/** A column of a table whose rows are results of one kind. */
export interface FigureColumn<Row> {
  readonly id: string;
  readonly name: string;
  /** `null` for words. */
  readonly unit: string | null;
  /** `null` where there is none, and for words. */
  readonly figure: (row: Row) => Figure | null;
  readonly bound: (row: Row) => Bound;
  /** Words of a column of words; of a column of figures what stands in place of one that is missing. */
  readonly words: (row: Row) => string | null;
  /** What rows are put in order by; `null` goes last. */
  readonly order: (row: Row) => number | string | null;
  /** What can be asked of the figure. */
  readonly asked: (row: Row) => FigureAsked | null;
}

const none = () => null;

/** A column of words. */
export function wordsColumn<Row>(id: string, name: string, words: (row: Row) => string | null): FigureColumn<Row> {
  return { id, name, unit: null, figure: none, bound: none, words, order: words, asked: none };
}

/** A column of figures, put in order by their values. */
export function figureColumn<Row>(
  id: string,
  name: string,
  unit: string,
  figure: (row: Row) => Figure | null,
  rest: Partial<Pick<FigureColumn<Row>, 'bound' | 'words' | 'asked'>> = {},
): FigureColumn<Row> {
  return {
    id,
    name,
    unit,
    figure,
    bound: none,
    words: none,
    order: (row) => figure(row)?.value ?? null,
    asked: none,
    ...rest,
  };
}

/** Only the columns that some row has anything for, and those that always stand. */
export function filledColumns<Row>(
  columns: readonly FigureColumn<Row>[],
  rows: readonly Row[],
  always: ReadonlySet<string>,
): readonly FigureColumn<Row>[] {
  return columns.filter(
    ({ id, figure, words }) => always.has(id) || rows.some((row) => figure(row) !== null || words(row) !== null),
  );
}

const boundWords = { 'at-least': 'at least', 'at-most': 'at most' } as const;

/** The sign that stands before a bound: `≥`, `≤`, or nothing. */
export function boundSign(bound: Bound): string {
  return bound === null ? '' : bound === 'at-least' ? '≥ ' : '≤ ';
}

/**
 * The rows as text, in the order given. A figure with an uncertainty takes two columns, and where any of a column is a bound a third says so, so that a
 * spreadsheet does not reckon with a bound as with a figure. What stands in place of a missing figure is left to the table: the cell is empty.
 */
export function figureTableText<Row>(
  rows: readonly Row[],
  columns: readonly FigureColumn<Row>[],
  style: FigureStyle,
): TextTable {
  const parts = columns.flatMap((column): { readonly head: string; readonly cell: (row: Row) => TextCell }[] => {
    const head = `${column.name}${column.unit ? ` (${column.unit})` : ''}`;
    if (column.unit === null) return [{ head, cell: (row) => wordsCell(column.words(row)) }];
    const plain = {
      head,
      cell: (row: Row) => {
        const figure = column.figure(row);
        return figure === null ? null : { figure: bareFigure(figure, style) };
      },
    };
    const u = {
      head: `u of ${head}`,
      cell: (row: Row) => {
        const figure = column.figure(row);
        const known = figure === null ? null : uncertaintyOf(figure);
        return known === null ? null : { figure: bareFigure(known, style) };
      },
    };
    const bound = {
      head: `${column.name}, bound`,
      cell: (row: Row) => {
        const known = column.bound(row);
        return known === null || column.figure(row) === null ? null : { words: boundWords[known] };
      },
    };
    const hasU = rows.some((row) => column.figure(row)?.standardUncertainty != null);
    const hasBound = rows.some((row) => column.bound(row) !== null && column.figure(row) !== null);
    return [plain, ...(hasU ? [u] : []), ...(hasBound ? [bound] : [])];
  });
  return { head: parts.map(({ head }) => head), rows: rows.map((row) => parts.map(({ cell }) => cell(row))) };
}

function wordsCell(words: string | null): TextCell {
  return words === null ? null : { words };
}
