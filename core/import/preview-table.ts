import type { ImportRecipe } from './import-recipe.ts';
import { type Line, splitLines } from './table.ts';

/** What a column of the file was taken for. */
export type ColumnMeaning = 'time' | 'distance' | 'sample-number' | 'amplitude' | 'capture' | 'not-read';

export interface PreviewColumn {
  /** Counted from 1. */
  readonly position: number;
  /** The header's cell; empty where it has none. */
  readonly name: string;
  readonly meaning: ColumnMeaning;
}

/** The beginning of a file as rows and columns. */
export interface PreviewTable {
  /** Lines before the columns' names, as they stand. */
  readonly preamble: readonly Line[];
  readonly columns: readonly PreviewColumn[];
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

/**
 * Lays the first lines of a file out as the recipe reads them.
 * @param recipe completed by the import: columns by their positions, the header's line @param mostRows so many rows of values at the most
 */
export function previewTable(lines: readonly string[], recipe: ImportRecipe, mostRows: number): PreviewTable {
  const numbered = lines.map((text, i): Line => ({ text, number: i + 1 }));
  const headerLine = recipe.headerLine ?? 0;
  const header = headerLine > 0 ? (cellsOf(numbered.slice(headerLine - 1, headerLine), recipe)[0] ?? []) : [];
  const body = numbered.slice(headerLine).filter(({ text }) => text.trim() !== '' && !text.startsWith('#'));
  const rows = cellsOf(body, recipe).map((cells, i) => ({ line: body[i].number, cells }));
  const from =
    headerLine > 0 ? 0 : rows.findIndex(({ cells }) => cells.every((cell) => /^[\s\d+\-.,eE"]*$/.test(cell)));
  const values = rows.slice(Math.max(0, from), Math.max(0, from) + mostRows);
  const width = Math.max(header.length, 0, ...values.map(({ cells }) => cells.length));
  return {
    preamble: numbered.slice(0, headerLine > 0 ? headerLine - 1 : (values[0]?.line ?? 1) - 1),
    columns: Array.from({ length: width }, (_, field) => ({
      position: field + 1,
      name: (header[field] ?? '').trim(),
      meaning: meaningOf(field + 1, (header[field] ?? '').trim(), recipe),
    })),
    rows: values,
  };
}

function cellsOf(lines: readonly Line[], recipe: ImportRecipe): string[][] {
  return splitLines(lines, recipe.delimiter).map((cells, i) =>
    cells === null ? [lines[i].text] : cells.map((cell) => cell.trim()),
  );
}

function meaningOf(position: number, name: string, { columns, axis }: ImportRecipe): ColumnMeaning {
  const isMeant = (reference: string | number | null) => reference === position || (name !== '' && reference === name);
  if (isMeant(columns.axis)) return axis ?? 'sample-number';
  if (isMeant(columns.captureId)) return 'capture';
  return (columns.amplitudes ?? []).some(isMeant) ? 'amplitude' : 'not-read';
}
