import type { Delimiter } from './import-recipe.ts';
import { readCell } from './number.ts';
import { type Line, splitLines } from './table.ts';
import { decodeLatin1, decodeUtf8 } from './text.ts';

/** What may stand in a row of numbers beside the digits. */
const numberCharacters = ' \t\u00a0\u2009\u202f+-\u2212.,;eE"\'’';
const numberWords = /nan|infinity|inf|∞|n\/a|null/i;

/** Lines decoded one by one, as far as they are asked for. */
export class HeadLines {
  latin1: boolean;
  readonly starts: number[] = [0];
  private readonly lines: Line[] = [];
  private readonly bytes: Uint8Array;
  private readonly isWhole: boolean;
  readonly lineEnd: 0x0a | 0x0d;
  /** Where the file's own line end comes next, looked for once: many short lines of the other kind may stand before it. */
  private nextEnd = -1;

  constructor(bytes: Uint8Array, isWhole: boolean, latin1: boolean) {
    this.bytes = bytes;
    this.isWhole = isWhole;
    this.latin1 = latin1;
    this.lineEnd = bytes.indexOf(0x0a) < 0 && bytes.indexOf(0x0d) >= 0 ? 0x0d : 0x0a;
  }

  at(index: number): Line | null {
    while (this.lines.length <= index) {
      const from = this.starts[this.lines.length];
      if (from >= this.bytes.length) return null;
      const end = this.endOfLine(from);
      if (end < 0 && !this.isWhole) return null;
      const to = end < 0 ? this.bytes.length : end;
      this.lines.push({ text: this.decode(from, to), number: this.lines.length + 1 });
      const isPair = this.bytes[to] === 0x0d && this.bytes[to + 1] === 0x0a;
      this.starts.push(to + (isPair ? 2 : 1));
    }
    return this.lines[index];
  }

  /** The first line feed or carriage return; a pair counts as one line end. */
  private endOfLine(from: number): number {
    if (this.nextEnd < from) {
      const found = this.bytes.indexOf(this.lineEnd, from);
      this.nextEnd = found < 0 ? Number.POSITIVE_INFINITY : found;
    }
    const carriage = this.bytes.subarray(from, Math.min(this.nextEnd, this.bytes.length)).indexOf(0x0d);
    if (carriage >= 0) return from + carriage;
    return this.nextEnd === Number.POSITIVE_INFINITY ? -1 : this.nextEnd;
  }

  private decode(from: number, to: number): string {
    const text = this.latin1 ? null : decodeUtf8(this.bytes, from, to);
    if (text !== null) return text;
    this.latin1 = true;
    return decodeLatin1(this.bytes, from, to);
  }
}

export function isNumberLike(text: string): boolean {
  const start = text.charCodeAt(0);
  // A comment mark or a letter that begins no word for a number: most lines of a head.
  if (start === 0x23 || start === 0x25) return false;
  return isOfNumbers(text) || (numberWords.test(text) && isOfNumbers(text.replace(new RegExp(numberWords, 'gi'), '')));
}

function isOfNumbers(text: string): boolean {
  let digits = 0;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code >= 0x30 && code <= 0x39) digits++;
    else if (!numberCharacters.includes(text[i])) return false;
  }
  return digits > 0;
}

/** A row with text in some cells, such as a capture id, and numbers in most. */
export function isTableLike(text: string): boolean {
  if (text.length > 4096) return false;
  const delimiter = rowDelimiter(text);
  if (delimiter === null) return false;
  const cells = cellsOf(text, delimiter);
  const numbers = numbersIn(cells);
  return numbers >= 2 && numbers * 2 >= cells.length;
}

const rowDelimiters: readonly Delimiter[] = [';', '\t', ',', ' '];

/** The delimiter that parts a row into numbers with the fewest other cells: a decimal comma is none. `null` for a line of one cell. */
export function rowDelimiter(text: string): Delimiter | null {
  const trimmed = text.trim();
  const others = (delimiter: Delimiter) => {
    const cells = cellsOf(trimmed, delimiter);
    return cells.length - numbersIn(cells);
  };
  let best: Delimiter | null = null;
  let fewest = Number.POSITIVE_INFINITY;
  for (const candidate of rowDelimiters) {
    if (!trimmed.includes(candidate)) continue;
    const count = others(candidate);
    if (count < fewest) {
      best = candidate;
      fewest = count;
    }
  }
  return best;
}

function numbersIn(cells: readonly string[]): number {
  return cells.filter((cell) => readCell(cell, null).kind === 'number').length;
}

/** The cells of one line with quotation marks taken off; as they stand where those do not close. */
export function cellsOf(text: string, delimiter: Delimiter): readonly string[] {
  return splitLines([{ text, number: 1 }], delimiter)[0] ?? text.split(delimiter);
}

/** The next line above that says something. */
export function lineAbove(lines: HeadLines, index: number): number | null {
  for (let i = index - 1; i >= 0; i--) if (lines.at(i)?.text.trim() !== '') return i;
  return null;
}
