import { unknown } from '../../core/units/format-quantity.ts';
import { withUnseen } from '../../core/visible-text.ts';

/** What a person reads: columns lined up, figures to the right. */
export interface Column {
  readonly title: string;
  readonly align: 'left' | 'right';
}

/**
 * What cannot be seen must steer neither the terminal nor the order of its letters: it is shown as its code. A line end from a file is shown so too, since what
 * stands behind it would look like a line of our own.
 */
export function printable(text: string): string {
  return withUnseen(text, (code) => (code.length > 4 ? `\\u{${code}}` : `\\u${code}`));
}

/** The same for words of our own, whose line ends are meant: where a text was put into them as it came, it still cannot steer the terminal. */
export function printableLines(text: string): string {
  return text.split('\n').map(printable).join('\n');
}

/** A document as JSON that steers no terminal either: what cannot be seen is escaped, so that a reader of JSON has the very same text. */
export function printableJson(document: unknown): string {
  return withUnseen(JSON.stringify(document), (_code, character) =>
    Array.from(
      { length: character.length },
      (_, i) => `\\u${character.charCodeAt(i).toString(16).padStart(4, '0')}`,
    ).join(''),
  );
}

/** So many rows make one table: what is longer is set page by page, each with its own head. */
export const rowsOnPage = 1000;

/** Rows with a head over each page of them, in which columns that have nothing to show there are left out. */
export function table(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  const pages: string[] = [];
  for (let first = 0; first === 0 || first < rows.length; first += rowsOnPage)
    pages.push(page(columns, rows.slice(first, first + rowsOnPage)));
  return pages.join('\n\n');
}

function page(allColumns: readonly Column[], allRows: readonly (readonly string[])[]): string {
  const shown = allColumns.map((_, i) => allRows.some((row) => row[i] !== '' && row[i] !== unknown));
  const columns = allColumns
    .filter((_, i) => shown[i] || allRows.length === 0)
    .map(({ title, align }) => ({ title: printable(title), align }));
  const cells = allRows.map((row) => row.filter((_, i) => shown[i]).map(printable));
  const widths = columns.map((column, i) => Math.max(column.title.length, ...cells.map((row) => row[i].length)));
  const line = (row: readonly string[]): string =>
    row
      .map((cell, i) => (columns[i].align === 'right' ? cell.padStart(widths[i]) : cell.padEnd(widths[i])))
      .join('  ')
      .trimEnd();
  return [
    line(columns.map((column) => column.title)),
    line(widths.map((width) => '-'.repeat(width))),
    ...cells.map(line),
  ].join('\n');
}

export const left = (title: string): Column => ({ title, align: 'left' });
export const right = (title: string): Column => ({ title, align: 'right' });
