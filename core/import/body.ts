import { type Problem, problem } from '../outcome.ts';
import type { DecimalMark, Delimiter } from './import-recipe.ts';
import { readCell } from './number.ts';
import { emptyBlock, type RowBlock, type RowFormat, releaseBlock, scanRows } from './numeric-rows.ts';
import { cellProblems, countOf, shown } from './row-problems.ts';
import { columnOfField, columnOfOpenQuote, type Line, splitLines } from './table.ts';
import { binaryProblem, decodeLatin1, decodeUtf8 } from './text.ts';

/**
 * The numeric body of a file, in two tiers with one result.
 *
 *     bytes ──> scanRows (quick) ──────────────> block of rows ──> sink
 *                  │ odd row      ▲ next row        ▲
 *                  └──> readOdd (careful) ──────────┘   or a problem with its place
 *
 * `push` takes bytes in pieces of any size and keeps none of them; `finish` ends the last line. The careful tier takes over for one
 * row at a time, and for more at once where odd rows follow each other. Problems are collected up to `mostProblems`.
 */

/** What a field is read as. `label`: a number or any text, given a number of its own. */
export type FieldRole = 'number' | 'label' | 'ignored';

export interface BodyFormat {
  readonly fields: number;
  readonly delimiter: Delimiter | null;
  /** `null` where no number with a mark was seen yet: the first one settles it. */
  readonly decimalMark: DecimalMark | null;
  readonly lineEnd: 0x0a | 0x0d;
  readonly blankTail: boolean;
  readonly latin1: boolean;
  readonly roles: readonly FieldRole[];
  readonly names: readonly string[];
  /** Length of the body; `null` where it is not known. */
  readonly expectedBytes: number | null;
}

export interface RowSink {
  /** Takes the block's rows before it is used again; `rowsExpected` is how many there may be in all, `null` where that is not known. */
  take(block: RowBlock, rowsExpected: number | null): void;
  /** The number that stands for a label. */
  labelCode(text: string): number;
}

/** Longer lines are no table of samples. */
export const longestLine = 8 * 1024 * 1024;
const mostProblems = 20;
const mostLinesAtOnce = 1024;
const tailLength = 1024;
const commentLine = /^\s*(?:#|%|\/\/|!)/;

export class BodyReader {
  readonly problems: Problem[] = [];
  readonly warnings: Problem[] = [];
  /** Comment lines between or behind the rows. */
  readonly notes: Line[] = [];
  decimalMark: DecimalMark | null;
  /** Nothing more is read: what follows could not be trusted. */
  isStopped = false;
  private readonly file: string;
  private readonly format: BodyFormat;
  private readonly sink: RowSink;
  private readonly isQuick: boolean;
  private rowFormat: RowFormat;
  private readonly block: RowBlock;
  private rowsGiven = 0;
  private bytesRead = 0;
  private latin1: boolean;
  /** Number of the line that comes next, and what it would be if rows simply followed each other. */
  private line: number;
  private lineOfNextRow = -1;
  private readonly breakRows: number[] = [];
  private readonly breakLines: number[] = [];
  private rest: Uint8Array[] = [];
  private restLength = 0;
  private tail: Uint8Array = new Uint8Array(0);
  private linesAtOnce = 1;
  private blankRow: Line | null = null;
  private readonly warned = new Set<string>();

  constructor(file: string, format: BodyFormat, firstLine: number, sink: RowSink, tier: 'quick' | 'careful' = 'quick') {
    this.file = file;
    this.format = format;
    this.decimalMark = format.decimalMark;
    this.latin1 = format.latin1;
    this.line = firstLine;
    this.sink = sink;
    this.isQuick = tier === 'quick';
    this.rowFormat = rowFormatOf(format, format.decimalMark);
    this.block = emptyBlock(format.fields);
  }

  get rows(): number {
    return this.rowsGiven;
  }

  push(bytes: Uint8Array): void {
    if (this.isStopped) return;
    const { lineEnd } = this.format;
    let from = 0;
    if (this.restLength > 0) {
      const end = bytes.indexOf(lineEnd);
      if (end < 0) {
        this.keepRest(bytes);
        return;
      }
      from = end + 1;
      const whole = this.takeRest(bytes.subarray(0, from));
      this.read(whole, 0, whole.length);
    }
    const to = bytes.lastIndexOf(lineEnd) + 1;
    if (to > from) this.read(bytes, from, to);
    if (to < bytes.length) this.keepRest(bytes.subarray(Math.max(from, to)));
  }

  finish(): void {
    if (this.restLength > 0 && !this.isStopped) {
      const last = this.takeRest(new Uint8Array(0));
      this.readLines(this.linesOf(last, 0, last.length), true);
    }
    this.give();
    releaseBlock(this.block);
    if (this.blankRow !== null) {
      this.warnOnce(
        'blank-last-row',
        this.blankRow.number,
        'The last row holds only delimiters; it was not taken for a sample.',
      );
    }
  }

  /** The line of a row, both in the file's order. */
  lineOfRow(row: number): number {
    let low = 0;
    let high = this.breakRows.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.breakRows[middle] <= row) low = middle;
      else high = middle - 1;
    }
    return this.breakLines[low] + row - this.breakRows[low];
  }

  private keepRest(bytes: Uint8Array): void {
    if (this.restLength + bytes.length > longestLine) {
      this.report(
        'line-too-long',
        this.line,
        1,
        `This line is longer than ${longestLine / 1024 / 1024} MB: no table of samples has such a line. Check that the file is CSV text with one row for each sample.`,
      );
      this.isStopped = true;
      return;
    }
    this.rest.push(bytes.slice());
    this.restLength += bytes.length;
  }

  private takeRest(end: Uint8Array): Uint8Array {
    const whole = new Uint8Array(this.restLength + end.length);
    let at = 0;
    for (const piece of [...this.rest, end]) {
      whole.set(piece, at);
      at += piece.length;
    }
    this.rest = [];
    this.restLength = 0;
    return whole;
  }

  /** Reads whole lines. */
  private read(bytes: Uint8Array, from: number, to: number): void {
    let at = from;
    while (at < to && !this.isStopped) {
      at = this.isQuick ? this.scan(bytes, at, to) : this.readOdd(bytes, at, to);
    }
    this.keepTail(bytes, from, to);
  }

  /** The quick tier as far as it goes, then the odd row or rows it stopped at. */
  private scan(bytes: Uint8Array, from: number, to: number): number {
    const before = this.block.rows;
    const at = scanRows(bytes, from, to, this.rowFormat, this.block);
    const taken = this.block.rows - before;
    this.bytesRead += at - from;
    if (taken > 0) {
      this.noteRows(taken);
      this.linesAtOnce = 1;
    }
    if (this.block.rows === this.block.capacity) {
      this.give();
      return at;
    }
    return at < to ? this.readOdd(bytes, at, to) : at;
  }

  private noteRows(count: number): void {
    this.reportBlankRow();
    if (this.line !== this.lineOfNextRow) {
      this.breakRows.push(this.rowsGiven + this.block.rows - count);
      this.breakLines.push(this.line);
    }
    this.line += count;
    this.lineOfNextRow = this.line;
  }

  private give(): void {
    if (this.block.rows === 0) return;
    this.sink.take(this.block, this.rowsExpected());
    this.rowsGiven += this.block.rows;
    this.block.rows = 0;
  }

  /** By the mean length of the rows so far. */
  private rowsExpected(): number | null {
    const { expectedBytes } = this.format;
    const rows = this.rowsGiven + this.block.rows;
    return expectedBytes === null || this.bytesRead === 0 ? null : Math.ceil((rows / this.bytesRead) * expectedBytes);
  }

  private readOdd(bytes: Uint8Array, from: number, to: number): number {
    let at = from;
    const lines: Line[] = [];
    let number = this.line;
    for (let i = 0; i < this.linesAtOnce && at < to; i++) {
      const end = bytes.indexOf(this.format.lineEnd, at);
      for (const line of this.linesOf(bytes, at, end, number)) {
        lines.push(line);
        number = line.number + 1;
      }
      at = end + 1;
    }
    this.bytesRead += at - from;
    this.linesAtOnce = Math.min(mostLinesAtOnce, this.linesAtOnce * 2);
    this.readLines(lines, false);
    return at;
  }

  /** The text of one line; more than one where another kind of line end stands inside it. */
  private linesOf(bytes: Uint8Array, from: number, to: number, number = this.line): Line[] {
    const text = this.decode(bytes, from, to);
    const own = this.format.lineEnd === 0x0a ? text.replace(/\r+$/, '') : text.replace(/^\n/, '');
    return own.split(/\r\n|\r|\n/).map((piece, i) => ({ text: piece, number: number + i }));
  }

  private decode(bytes: Uint8Array, from: number, to: number): string {
    const text = this.latin1 ? null : decodeUtf8(bytes, from, to);
    if (text !== null) return text;
    if (!this.latin1) {
      this.latin1 = true;
      this.warnOnce('encoding-latin-1', this.line, 'This line is not valid UTF-8; it was read as Latin-1.');
    }
    return decodeLatin1(bytes, from, to);
  }

  private readLines(lines: readonly Line[], isUnterminated: boolean): void {
    const rows = splitLines(lines, this.format.delimiter);
    for (let i = 0; i < lines.length && !this.isStopped; i++) {
      this.line = lines[i].number;
      if (this.block.rows === this.block.capacity) this.give();
      this.readRow(lines[i], rows[i], isUnterminated && i === lines.length - 1);
      this.line = lines[i].number + 1;
    }
  }

  private readRow(line: Line, cells: readonly string[] | null, isUnterminated: boolean): void {
    const zeroAt = line.text.indexOf('\u0000');
    if (zeroAt >= 0) {
      this.problems.push(binaryProblem(this.file, line.number, zeroAt + 1));
      this.isStopped = true;
      return;
    }
    if (commentLine.test(line.text)) {
      this.notes.push(line);
      return;
    }
    if (cells === null) {
      const column = columnOfOpenQuote(line.text, this.format.delimiter);
      this.report(
        'unterminated-quote',
        line.number,
        column,
        'A quotation mark opens here and is not closed on this line. Close it, or take it out.',
      );
      return;
    }
    if (cells.every((cell) => cell.trim() === '')) {
      if (cells.length > 1) this.blankRow ??= line;
      return;
    }
    this.reportBlankRow();
    if (!this.hasRightLength(line, cells, isUnterminated)) return;
    this.readCells(line, cells, isUnterminated);
  }

  /** A row of delimiters alone is no harm at the end, but one that others follow lacks its values. */
  private reportBlankRow(): void {
    if (this.blankRow === null) return;
    this.report(
      'empty-field',
      this.blankRow.number,
      1,
      'This row is empty, but more rows follow it. Export the waveform again, or delete the row if it is no sample.',
    );
    this.blankRow = null;
  }

  private hasRightLength(line: Line, cells: readonly string[], isUnterminated: boolean): boolean {
    const { fields, blankTail, delimiter } = this.format;
    const hasTail = cells.length === fields + 1 && cells[fields].trim() === '';
    if (blankTail ? hasTail || (cells.length === fields && !isUnterminated) : cells.length === fields) return true;
    if (cells.length <= fields) {
      if (isUnterminated) this.reportTruncated(line);
      else {
        this.report(
          'too-few-fields',
          line.number,
          line.text.length + 1,
          `This row has ${countOf(cells.length)}, the others have ${fields}. Export the waveform again, or complete the row.`,
        );
      }
      return false;
    }
    const doubled = delimiter === ',' && cells.length === 2 * fields;
    this.report(
      'too-many-fields',
      line.number,
      columnOfField(line.text, delimiter, fields),
      `This row has ${countOf(cells.length)}, the others have ${fields}. ${doubled ? 'If commas are its decimal marks, the delimiter must be another.' : 'Take out what does not belong to it, or export the waveform again.'}`,
    );
    return false;
  }

  private readCells(line: Line, cells: readonly string[], isUnterminated: boolean): void {
    const { fields, roles } = this.format;
    const { values } = this.block;
    const base = this.block.rows * fields;
    let isGood = true;
    for (let field = 0; field < fields; field++) {
      const role = roles[field];
      if (role === 'ignored') {
        values[base + field] = 0;
        continue;
      }
      const reading = readCell(cells[field], this.decimalMark);
      if (reading.kind === 'number') {
        values[base + field] = reading.value;
        if (reading.mark !== null && this.decimalMark === null) this.settleMark(reading.mark);
        if (reading.grouped) {
          this.warnOnce(
            'thousands-separators',
            line.number,
            `Thousands separators were taken out of numbers such as ‘${shown(cells[field])}’ here.`,
          );
        }
      } else if (role === 'label' && reading.kind !== 'empty') {
        values[base + field] = this.sink.labelCode(cells[field].trim());
      } else {
        isGood = false;
        if (isUnterminated && reading.kind !== 'nan' && reading.kind !== 'infinite') this.reportTruncated(line);
        else this.reportCell(line, field, cells[field], reading.kind);
        if (isUnterminated) break;
      }
    }
    if (!isGood) return;
    if (isUnterminated) this.doubtLastValue(line, cells[fields - 1]);
    this.block.rows++;
    this.noteRows(1);
  }

  private settleMark(mark: DecimalMark): void {
    this.decimalMark = mark;
    this.rowFormat = rowFormatOf(this.format, mark);
  }

  private reportCell(line: Line, field: number, cell: string, kind: keyof typeof cellProblems): void {
    const { code, sentence } = cellProblems[kind];
    const column = columnOfField(line.text, this.format.delimiter, field);
    this.report(code, line.number, column, sentence(shown(cell), this.nameOf(field)));
  }

  private nameOf(field: number): string {
    const name = this.format.names[field];
    return name === undefined || name === '' ? `field ${field + 1}` : `‘${shown(name)}’ (field ${field + 1})`;
  }

  private reportTruncated(line: Line): void {
    this.report(
      'truncated-last-line',
      line.number,
      line.text.length + 1,
      'The file ends in the middle of this row: it was cut off. Export the waveform again, or delete the row if the rest is known to be whole.',
    );
  }

  /** A last value without a line end may be cut within its digits: doubtful where all rows before it write more decimals. */
  private doubtLastValue(line: Line, cell: string): void {
    const text = this.decode(this.tail, 0, this.tail.length);
    const rows = text
      .split(/[\r\n]+/)
      .slice(1)
      .filter((row) => row !== '');
    const decimals = new Set(rows.map((row) => decimalsOf(row, this.format.delimiter, this.decimalMark)));
    const own = decimalsOf(cell, null, this.decimalMark);
    const usual = decimals.size === 1 ? [...decimals][0] : 0;
    if (rows.length >= 24 && usual >= 3 && own < usual) {
      this.warnOnce(
        'last-value-may-be-cut',
        line.number,
        `The file ends without a line end, and its last value has ${own} decimals where the rows before have ${usual}: it may be cut off.`,
      );
    }
  }

  private keepTail(bytes: Uint8Array, from: number, to: number): void {
    if (to - from >= tailLength) {
      this.tail = bytes.slice(to - tailLength, to);
      return;
    }
    const kept = this.tail.subarray(Math.max(0, this.tail.length + (to - from) - tailLength));
    const joined = new Uint8Array(kept.length + to - from);
    joined.set(kept);
    joined.set(bytes.subarray(from, to), kept.length);
    this.tail = joined;
  }

  private report(code: string, line: number, column: number | null, sentence: string): void {
    this.problems.push(problem(code, { file: this.file, line, column }, sentence));
    if (this.problems.length === mostProblems - 1) {
      this.problems.push(
        problem(
          'more-problems',
          { file: this.file, line, column: null },
          `After ${mostProblems - 1} problems reading stopped here; there may be more. Mend these first.`,
        ),
      );
      this.isStopped = true;
    }
  }

  private warnOnce(code: string, line: number, sentence: string): void {
    if (this.warned.has(code)) return;
    this.warned.add(code);
    this.warnings.push(problem(code, { file: this.file, line, column: null }, sentence));
  }
}

function rowFormatOf(format: BodyFormat, mark: DecimalMark | null): RowFormat {
  return {
    fields: format.fields,
    // A file of one field has no delimiter: the line feed never stands inside a line.
    delimiter: (format.delimiter ?? '\n').charCodeAt(0),
    decimalMark: mark === null ? 0 : mark.charCodeAt(0),
    lineEnd: format.lineEnd,
    blankTail: format.blankTail,
  };
}

/** Decimals of the row's last value. */
function decimalsOf(row: string, delimiter: Delimiter | null, mark: DecimalMark | null): number {
  const text = row.trimEnd();
  const value = delimiter === null ? text : text.slice(text.lastIndexOf(delimiter) + 1);
  const at = mark === null ? -1 : value.lastIndexOf(mark);
  return at < 0 ? 0 : value.length - at - 1;
}
