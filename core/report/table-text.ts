import { visibleText } from '../visible-text.ts';

/** A table as text: figures are figures, words are words. */
export interface TextTable {
  readonly head: readonly string[];
  /** `null` is an empty cell. A number is written as it stands in the text given for it. */
  readonly rows: readonly (readonly TextCell[])[];
}

export type TextCell = { readonly figure: string } | { readonly words: string } | null;

/** Signs that begin a formula, or a call of another program; their wide and small forms count as the signs in some settings. */
const sign = '[=+\\-@|＝＋－＠｜﹦﹢﹣﹫]';
/** What stands before a sign and is taken off by some: blanks, and quotation marks, which are the form of the table and not part of the cell. */
const before = `[\\s"'\u2018\u2019\u201c\u201d]*`;
const beginsFormula = new RegExp(`^(?:[\\t\\n]|${before}${sign})`, 'u');
/** Words that begin with a figure, `-6 dB below the peak`, and hold nothing that could call or reach anything, up to where a table may be split. */
const figureFirst = '[+-]?\\d[^,;\\t\\n|=+@&^*<>!(\\[]*(?:[,;\\t\\n]|$)';
/** A table may be split where another country's would: what stands behind such a mark begins a cell then. */
const formulaWithin = new RegExp(`(?<=[,;\\t\\n|] *)(?! |${figureFirst})(?=${before}${sign})`, 'gu');
/** What is a figure beyond doubt: it is not guarded, so that a spreadsheet can reckon with it. */
const plainFigure = /^-?\d+(?:[.,]\d+)?(?:[eE][+-]?\d+)?$/;

/**
 * A cell as it is written, before the form of the table. Words that begin like a formula get an apostrophe before them, and so does what would begin like one
 * if the table were split at another mark: names come from outside, and a spreadsheet would run `=…` as it opens the table. What cannot be seen in words is
 * named. Source: OWASP, CSV injection (common practice).
 */
export function cellText(cell: TextCell): string {
  if (cell === null) return '';
  if ('figure' in cell && plainFigure.test(cell.figure)) return cell.figure;
  const text = visibleText('figure' in cell ? cell.figure : cell.words).replace(formulaWithin, "'");
  return beginsFormula.test(text) ? `'${text}` : text;
}

/**
 * For the clipboard: tabs between cells, a line for each row; tabs and line ends inside a cell become blanks. A cell that begins with a quotation mark would
 * swallow those behind it, up to the next mark, and has an apostrophe before it.
 */
export function tabbedText({ head, rows }: TextTable): string {
  const line = (cells: readonly string[]) =>
    cells.map((cell) => cell.replace(/[\t\n]+/g, ' ').replace(/^"/, `'"`)).join('\t');
  const words = head.map((text) => cellText({ words: text }));
  return `${[line(words), ...rows.map((row) => line(row.map(cellText)))].join('\n')}\n`;
}

/** For a file (RFC 4180): with semicolons where the decimal mark is a comma, as spreadsheets of those countries read it. */
export function csvText({ head, rows }: TextTable, decimalMark: '.' | ','): string {
  const separator = decimalMark === ',' ? ';' : ',';
  const quoted = (text: string) =>
    /["\n]/.test(text) || text.includes(separator) ? `"${text.replaceAll('"', '""')}"` : text;
  const line = (cells: readonly string[]) => cells.map(quoted).join(separator);
  const words = head.map((text) => cellText({ words: text }));
  return `${[line(words), ...rows.map((row) => line(row.map(cellText)))].join('\r\n')}\r\n`;
}
