import { unknown } from '../../core/units/format-quantity.ts';

/** What a person reads: columns lined up, figures to the right. */
export interface Column {
  readonly title: string;
  readonly align: 'left' | 'right';
}

/** Control and format characters from files must not steer the terminal or the order of its letters: they are shown as their code. */
export function printable(text: string): string {
  return text.replace(
    /[\p{Cc}\p{Cf}\u2028\u2029]/gu,
    (c) => `\\u${(c.codePointAt(0) ?? 0).toString(16).padStart(4, '0')}`,
  );
}

/** Columns in which nothing stands in any row are left out. */
export function table(allColumns: readonly Column[], allRows: readonly (readonly string[])[]): string {
  const shown = allColumns.map((_, i) => allRows.some((row) => row[i] !== '' && row[i] !== unknown));
  const columns = allColumns.filter((_, i) => shown[i] || allRows.length === 0);
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
