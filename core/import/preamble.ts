import type { MetadataEntry } from '../capture/capture.ts';
import type { Delimiter } from './import-recipe.ts';
import { type Line, splitLines } from './table.ts';

const commentMark = /^\s*(?:#+|%+|\/\/+|!+|;+|\*+)\s*/;

/** Lines that were read before, by delimiter: the files of a batch have most of theirs in common. */
const known = new Map<Delimiter | null, Map<string, MetadataEntry | null>>();
const mostKnown = 1024;

/**
 * One preamble line as a key and a value, in the forms `# key: value`, `key=value`, `key,value`, quoted or not; whichever
 * separator comes first counts. A line of free text is kept under the key `note`. `null` for a line that says nothing.
 */
export function readPreambleLine(line: Line, delimiter: Delimiter | null): MetadataEntry | null {
  let lines = known.get(delimiter);
  if (lines === undefined || lines.size >= mostKnown) {
    lines = new Map();
    known.set(delimiter, lines);
  }
  let entry = lines.get(line.text);
  if (entry === undefined) {
    entry = takeApart(line, delimiter);
    lines.set(line.text, entry);
  }
  return entry;
}

function takeApart(line: Line, delimiter: Delimiter | null): MetadataEntry | null {
  const isComment = commentMark.test(line.text);
  const text = line.text.replace(commentMark, '').trim();
  if (/^[\s,;"]*$/.test(text)) return null;
  const separator = /[:=,;\t]/.exec(isQuoted(text) ? '' : text);
  if (separator !== null && /[:=]/.test(separator[0])) {
    return keyed(text.slice(0, separator.index), text.slice(separator.index + 1)) ?? note(text);
  }
  const cellSeparator = separator?.[0] ?? (delimiter === ' ' ? null : delimiter);
  if (cellSeparator === null || !text.includes(cellSeparator)) return note(bare(text));
  const cells = splitLines([{ text, number: line.number }], cellSeparator as Delimiter)[0];
  if (cells === null || cells.length < 2 || (isComment && isFreeText(cells))) return note(text);
  return keyed(cells[0], withoutBlankTail(cells.slice(1)).join(cellSeparator)) ?? note(text);
}

function isQuoted(text: string): boolean {
  return text.startsWith('"');
}

function isFreeText(cells: readonly string[]): boolean {
  return cells.length > 2 || cells[0].trim().split(/\s+/).length > 3;
}

/** Without the blanks, delimiters and quotation marks around it. */
function bare(text: string): string {
  let from = 0;
  let to = text.length;
  while (from < to && /[\s,;"]/.test(text[from])) from++;
  while (to > from && /[\s,;"]/.test(text[to - 1])) to--;
  return text.slice(from, to);
}

/** Longer ones are no keys but text. */
const longestKey = 80;

function keyed(key: string, value: string): MetadataEntry | null {
  if (key.length > 2 * longestKey) return null;
  const name = unquoted(key).replace(/[\s:=]+$/, '');
  return /^[\p{L}_°]/u.test(name) && name.length <= longestKey ? { key: name, value: unquoted(value) } : null;
}

function note(text: string): MetadataEntry {
  return { key: 'note', value: unquoted(text) };
}

function unquoted(text: string): string {
  return text
    .trim()
    .replace(/^"(.*)"$/, '$1')
    .trim();
}

function withoutBlankTail(cells: readonly string[]): readonly string[] {
  let length = cells.length;
  while (length > 1 && cells[length - 1].trim() === '') length--;
  return cells.slice(0, length);
}
