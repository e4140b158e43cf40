/** A table as text: figures are figures, words are words. */
export interface TextTable {
  readonly head: readonly string[];
  /** `null` is an empty cell. A number is written as it stands in the text given for it. */
  readonly rows: readonly (readonly TextCell[])[];
}

export type TextCell = { readonly figure: string } | { readonly words: string } | null;

/** Cells that a spreadsheet would take for a formula begin so; the wide forms of the signs count as the signs in some settings. */
const takenForFormula = /^[=+\-@\t\r\n＝＋－＠]/;
/** What is a figure beyond doubt: it is not guarded, so that a spreadsheet can reckon with it. */
const plainFigure = /^-?\d+(?:[.,]\d+)?(?:[eE][+-]?\d+)?$/;

/**
 * Words that begin like a formula get an apostrophe before them: file names come from outside, and a spreadsheet would run `=…` as it opens the table.
 * Source: OWASP, CSV injection (common practice).
 */
function guarded(cell: TextCell): string {
  if (cell === null) return '';
  const text = 'figure' in cell ? cell.figure : cell.words;
  if ('figure' in cell && plainFigure.test(text)) return text;
  return takenForFormula.test(text) ? `'${text}` : text;
}

/** For the clipboard: tabs between cells, a line for each row; tabs and line ends inside a cell become blanks. */
export function tabbedText({ head, rows }: TextTable): string {
  const line = (cells: readonly string[]) => cells.map((cell) => cell.replace(/[\t\r\n]+/g, ' ')).join('\t');
  const words = head.map((text) => guarded({ words: text }));
  return `${[line(words), ...rows.map((row) => line(row.map(guarded)))].join('\n')}\n`;
}

/** For a file (RFC 4180): with semicolons where the decimal mark is a comma, as spreadsheets of those countries read it. */
export function csvText({ head, rows }: TextTable, decimalMark: '.' | ','): string {
  const separator = decimalMark === ',' ? ';' : ',';
  const quoted = (text: string) =>
    /["\r\n]/.test(text) || text.includes(separator) ? `"${text.replaceAll('"', '""')}"` : text;
  const line = (cells: readonly string[]) => cells.map(quoted).join(separator);
  const words = head.map((text) => guarded({ words: text }));
  return `${[line(words), ...rows.map((row) => line(row.map(guarded)))].join('\r\n')}\r\n`;
}
