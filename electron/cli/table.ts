/** What a person reads: columns lined up, figures to the right. */
export interface Column {
  readonly title: string;
  readonly align: 'left' | 'right';
}

/** Control characters from files must not steer the terminal: they are shown as their code. */
export function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the ones to be caught
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`);
}

export function table(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  const cells = rows.map((row) => row.map(printable));
  const widths = columns.map((column, i) => Math.max(column.title.length, ...cells.map((row) => row[i].length)));
  const line = (row: readonly string[]): string =>
    row.map((cell, i) => (columns[i].align === 'right' ? cell.padStart(widths[i]) : cell.padEnd(widths[i]))).join('  ').trimEnd();
  return [line(columns.map((column) => column.title)), line(widths.map((width) => '-'.repeat(width))), ...cells.map(line)].join('\n');
}

export const left = (title: string): Column => ({ title, align: 'left' });
export const right = (title: string): Column => ({ title, align: 'right' });
