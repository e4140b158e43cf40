import Papa from 'papaparse';
import type { Delimiter } from './import-recipe.ts';

/** One line of the file: its text without the line end, and its number counted from 1. */
export interface Line {
  readonly text: string;
  readonly number: number;
}

/** The cells of each line, quotation marks taken off; `null` where a quotation mark opens and is not closed on its line. */
export function splitLines(lines: readonly Line[], delimiter: Delimiter | null): readonly (readonly string[] | null)[] {
  if (delimiter === ' ') return lines.map(({ text }) => splitAtBlanks(text));
  const separator = delimiter ?? noSeparator;
  if (!lines.some(({ text }) => text.includes('"'))) return lines.map(({ text }) => text.split(separator));
  const together = parse(lines.map(({ text }) => text).join('\n'), separator);
  if (together !== null && together.length === lines.length) return together;
  return lines.map(({ text }) => splitQuoted(text, separator));
}

/** A character that no text has: a line of one cell. */
const noSeparator = '\u001f';

/** Runs of blanks count as one delimiter; a unit in brackets stays with its name. */
function splitAtBlanks(text: string): readonly string[] | null {
  const single = text
    .trim()
    .replace(/[ \t]+/g, ' ')
    .replace(/ (?=[([])/g, '\u00a0');
  return single.includes('"') ? splitQuoted(single, ' ') : single.split(' ');
}

function splitQuoted(text: string, separator: string): readonly string[] | null {
  if (!text.includes('"')) return text.split(separator);
  const rows = parse(text, separator);
  return rows === null || rows.length !== 1 ? null : rows[0];
}

/** `null` where a quotation mark is not closed, or is followed by something other than a delimiter. */
function parse(text: string, delimiter: string): string[][] | null {
  const parsed = Papa.parse<string[]>(text, { delimiter, newline: '\n' });
  return parsed.errors.some(({ type }) => type === 'Quotes') ? null : parsed.data;
}

/** The column, counted from 1 in characters, at which a field (counted from 0) begins; the line's end where there is no such field. */
export function columnOfField(text: string, delimiter: Delimiter | null, field: number): number {
  let at = 0;
  const isBlank = (i: number) => text[i] === ' ' || text[i] === '\t';
  if (delimiter === ' ') while (at < text.length && isBlank(at)) at++;
  for (let f = 0; f < field; f++) {
    if (text[at] === '"') at = closingQuote(text, at) + 1;
    while (at < text.length && (delimiter === ' ' ? !isBlank(at) : text[at] !== delimiter)) at++;
    if (at >= text.length) return text.length + 1;
    at++;
    if (delimiter === ' ') while (at < text.length && isBlank(at)) at++;
  }
  return at + 1;
}

function closingQuote(text: string, from: number): number {
  for (let at = from + 1; at < text.length; at++) {
    if (text[at] !== '"') continue;
    if (text[at + 1] !== '"') return at;
    at++;
  }
  return text.length;
}

/** Where the quotation mark stands that is not closed on its line, counted from 1. */
export function columnOfOpenQuote(text: string, delimiter: Delimiter | null): number {
  for (let at = text.indexOf('"'); at >= 0; at = text.indexOf('"', at + 1)) {
    const before = text.slice(Math.max(0, at - 64), at).trimEnd();
    if (before !== '' && before.at(-1) !== delimiter && delimiter !== ' ') continue;
    const close = closingQuote(text, at);
    const after = text.slice(close + 1, close + 64).trimStart();
    if (close >= text.length || (after !== '' && after[0] !== delimiter && delimiter !== ' ')) return at + 1;
    at = close;
  }
  return text.length + 1;
}
