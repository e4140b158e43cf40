import type { ImportedFile } from '../../../core/import/import-file.ts';
import { slowNumber } from './slow-number.ts';

/**
 * Reads a waveform file as its conventions stand in the README, one line and one string after the other. It is told how the
 * file was understood (encoding, delimiter, decimal mark, which columns), and says what then stands in it: so a value that was lost,
 * made up, shifted or rounded otherwise shows, whatever way the program took through the bytes.
 */
export interface SlowLine {
  readonly text: string;
  /** Counted from 1. */
  readonly number: number;
}

export interface SlowRow {
  readonly line: number;
  readonly cells: readonly string[];
}

/** Lines end with LF, CR or both; what is not valid in UTF-8 is Latin-1 from its line on. */
export function slowLines(bytes: Uint8Array, encoding: ImportedFile['encoding']): SlowLine[] {
  const lines =
    encoding === 'utf-16le' || encoding === 'utf-16be'
      ? splitText(new TextDecoder(encoding, { ignoreBOM: false }).decode(bytes))
      : splitBytes(bytes, encoding);
  if (lines.length > 0 && lines[lines.length - 1] === '') lines.pop();
  return lines.map((text, i) => ({ text, number: i + 1 }));
}

function splitText(text: string): string[] {
  return text.split(/\r\n|\r|\n/);
}

function splitBytes(bytes: Uint8Array, encoding: 'utf-8' | 'latin-1'): string[] {
  const hasMark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  const lines: string[] = [];
  const strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
  let isLatin1 = encoding === 'latin-1' && !hasMark;
  const take = (from: number, to: number) => {
    const line = bytes.subarray(from, to);
    if (!isLatin1) {
      try {
        lines.push(strict.decode(line));
        return;
      } catch {
        isLatin1 = true;
      }
    }
    lines.push(Buffer.from(line).toString('latin1'));
  };
  let from = encoding === 'utf-8' && hasMark ? 3 : 0;
  for (let at = from; at < bytes.length; at++) {
    if (bytes[at] !== 0x0a && bytes[at] !== 0x0d) continue;
    take(from, at);
    if (bytes[at] === 0x0d && bytes[at + 1] === 0x0a) at++;
    from = at + 1;
  }
  take(from, bytes.length);
  return lines;
}

/** The cells of a line; `null` where quotation marks are not as RFC 4180 has them. */
export function slowCells(text: string, delimiter: string | null): string[] | null {
  const line = delimiter === ' ' ? text.trim().replace(/[ \t]+/g, ' ') : text;
  const cells: string[] = [];
  let at = 0;
  for (;;) {
    if (line[at] === '"') {
      let cell = '';
      for (at++; ; at++) {
        if (at >= line.length) return null;
        if (line[at] !== '"') cell += line[at];
        else if (line[at + 1] === '"') {
          cell += '"';
          at++;
        } else break;
      }
      at++;
      // Blanks behind a closed quotation mark say nothing.
      let next = at;
      while (line[next] === ' ' && delimiter !== ' ') next++;
      if (next < line.length && line[next] !== delimiter) return null;
      at = next;
      cells.push(cell);
    } else {
      let end = delimiter === null ? line.length : line.indexOf(delimiter, at);
      if (end < 0) end = line.length;
      cells.push(line.slice(at, end));
      at = end;
    }
    if (at >= line.length) return cells;
    at++;
    if (at === line.length) {
      cells.push('');
      return cells;
    }
  }
}

const comment = /^\s*(?:#|%|\/\/|!)/;

export interface SlowBody {
  readonly rows: readonly SlowRow[];
  /** Lines that are no rows of samples and should be, each with a sentence. */
  readonly odd: readonly { readonly line: number; readonly sentence: string }[];
}

/** The rows of samples. `wanted` are the fields that are read, from 0; all rows are as long as the last one. */
export function slowRows(
  lines: readonly SlowLine[],
  from: number,
  file: Pick<ImportedFile, 'delimiter' | 'decimalMark'>,
  wanted: readonly { readonly field: number; readonly isLabel: boolean }[],
  told: { readonly decimalMark: '.' | ',' | null } = { decimalMark: null },
): SlowBody {
  const rows: SlowRow[] = [];
  const odd: { line: number; sentence: string }[] = [];
  let blankAt = 0;
  for (const line of lines.slice(from)) {
    if (line.text.trim() === '' || comment.test(line.text)) continue;
    const cells = slowCells(line.text, file.delimiter);
    if (cells?.every((cell) => cell.trim() === '')) {
      blankAt = line.number;
      continue;
    }
    const isRow =
      cells !== null &&
      wanted.every(({ field, isLabel }) => isRead(cells[field], isLabel, file, told.decimalMark !== null));
    if (!isRow)
      odd.push({ line: line.number, sentence: `is no row of samples: ${JSON.stringify(line.text.slice(0, 60))}` });
    else if (blankAt > 0) odd.push({ line: blankAt, sentence: 'is empty, and more rows follow it' });
    blankAt = isRow ? 0 : blankAt;
    if (isRow) rows.push({ line: line.number, cells });
  }
  const last = rows.at(-1);
  for (const row of rows)
    if (last !== undefined && filled(row) !== filled(last) && row.cells.length !== last.cells.length)
      odd.push({ line: row.line, sentence: `has ${row.cells.length} cells, the last row ${last.cells.length}` });
  return { rows, odd };
}

/** A blank last cell is none. */
function filled({ cells }: SlowRow): number {
  return cells[cells.length - 1].trim() === '' ? cells.length - 1 : cells.length;
}

function isRead(
  cell: string | undefined,
  isLabel: boolean,
  file: Pick<ImportedFile, 'decimalMark'>,
  isMarkTold: boolean,
): boolean {
  if (cell === undefined) return false;
  return isLabel ? cell.trim() !== '' : slowNumber(cell, file.decimalMark, isMarkTold) !== null;
}
