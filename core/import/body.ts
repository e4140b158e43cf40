import type { Problem } from '../outcome.ts';
import { type BodyFormat, type RowSink, rowFormatOf } from './body-format.ts';
import { BodyReport } from './body-report.ts';
import { mayMeanThousands } from './dialect.ts';
import type { DecimalMark } from './import-recipe.ts';
import { LastRows } from './last-rows.ts';
import { MarkDoubt } from './mark-doubt.ts';
import { mayBeGrouped, readCell } from './number.ts';
import { emptyBlock, type RowBlock, type RowFormat, releaseBlock, scanRows } from './numeric-rows.ts';
import { isPlainId, mostCaptures } from './row-groups.ts';
import { RowLines } from './row-lines.ts';
import { cellProblems, lengthProblem, shown } from './row-problems.ts';
import { columnOfField, columnOfOpenQuote, type Line, splitLines } from './table.ts';
import { binaryProblem, decodeLatin1, decodeUtf8 } from './text.ts';
import { UnfinishedLine } from './unfinished-line.ts';

/**
 * The numeric body of a file, in two tiers with one result.
 *
 *     bytes ──> scanRows (quick) ──────────────> block of rows ──> sink
 *                  │ odd row      ▲ next row        ▲
 *                  └──> readOdd (careful) ──────────┘   or a problem with its place
 *
 * `push` takes bytes in pieces of any size and keeps none of them; `finish` ends the last line. The careful tier takes over for one
 * row at a time, and for more at once where odd rows follow each other. Problems are collected up to twenty.
 */

/** Longer lines are no table of samples. */
export const longestLine = 8 * 1024 * 1024;
const mostLinesAtOnce = 1024;
const commentLine = /^\s*(?:#|%|\/\/|!)/;

export class BodyReader {
  /** Comment lines between or behind the rows. */
  readonly notes: Line[] = [];
  decimalMark: DecimalMark | null;
  /** Nothing more is read: what follows could not be trusted. */
  isStopped = false;
  private readonly file: string;
  private readonly told: BodyReport;
  private readonly format: BodyFormat;
  private readonly sink: RowSink;
  private isQuick: boolean;
  private rowFormat: RowFormat;
  private readonly block: RowBlock;
  private rowsGiven = 0;
  private bytesRead = 0;
  private latin1: boolean;
  /** Number of the line that comes next. */
  private line: number;
  private readonly rowLines = new RowLines();
  private readonly rest = new UnfinishedLine();
  private readonly lastRows = new LastRows();
  private markDoubt: MarkDoubt | null;
  private linesAtOnce = 1;
  private blankRow: Line | null = null;

  constructor(file: string, format: BodyFormat, firstLine: number, sink: RowSink, tier: 'quick' | 'careful' = 'quick') {
    this.file = file;
    this.told = new BodyReport(file);
    this.format = format;
    this.decimalMark = format.decimalMark;
    this.markDoubt = format.isMarkDoubtful ? new MarkDoubt(format) : null;
    this.latin1 = format.latin1;
    this.line = firstLine;
    this.sink = sink;
    this.isQuick = tier === 'quick';
    this.rowFormat = rowFormatOf(format, format.decimalMark);
    this.block = emptyBlock(format.fields);
  }

  get problems(): readonly Problem[] {
    return this.told.problems;
  }

  get warnings(): readonly Problem[] {
    return this.told.warnings;
  }

  /** Where a mark stands that separates thousands or decimals, and no row tells which; `null` where it is known. */
  get doubtfulMark(): Problem | null {
    return this.markDoubt?.problem(this.file, this.decimalMark) ?? null;
  }

  get rows(): number {
    return this.rowsGiven;
  }

  push(bytes: Uint8Array): void {
    if (this.isStopped) return;
    const { lineEnd } = this.format;
    let from = 0;
    if (this.rest.length > 0) {
      const end = bytes.indexOf(lineEnd);
      if (end < 0) {
        this.keepRest(bytes);
        return;
      }
      from = end + 1;
      const whole = this.rest.take(bytes.subarray(0, from));
      this.read(whole, 0, whole.length);
    }
    const to = bytes.lastIndexOf(lineEnd) + 1;
    if (to > from) this.read(bytes, from, to);
    if (to < bytes.length) this.keepRest(bytes.subarray(Math.max(from, to)));
  }

  finish(): void {
    if (this.rest.length > 0 && !this.isStopped) {
      const last = this.rest.take(new Uint8Array(0));
      const lines = this.linesOf(last, 0, last.length);
      this.readLines(lines, true);
      this.lookAtMarks(lines);
    }
    this.give();
    releaseBlock(this.block);
    if (this.blankRow !== null) {
      this.told.warnOnce(
        'blank-last-row',
        this.blankRow.number,
        'The last row holds only delimiters; it was not taken for a sample.',
      );
    }
  }

  /** The line of a row, both in the file's order. */
  lineOfRow(row: number): number {
    return this.rowLines.of(row);
  }

  private keepRest(bytes: Uint8Array): void {
    if (this.rest.length + bytes.length > longestLine) {
      this.report(
        'line-too-long',
        this.line,
        1,
        `This line is longer than ${longestLine / 1024 / 1024} MB: no table of samples has such a line. Check that the file is CSV text with one row for each sample.`,
      );
      this.isStopped = true;
      return;
    }
    this.rest.add(bytes);
  }

  /** Reads whole lines. */
  private read(bytes: Uint8Array, from: number, to: number): void {
    let at = from;
    const firstLine = this.line;
    while (at < to && !this.isStopped) {
      at = this.isQuick ? this.scan(bytes, at, to) : this.readOdd(bytes, at, to);
    }
    this.lookAtRows(bytes, from, to, firstLine);
    this.lastRows.keep(bytes, from, to);
  }

  /** The quick tier as far as it goes, then the odd row or rows it stopped at. */
  private scan(bytes: Uint8Array, from: number, to: number): number {
    const before = this.block.rows;
    let at = scanRows(bytes, from, to, this.rowFormat, this.block);
    const plain = this.rowsOfPlainIds(before);
    if (plain < this.block.rows) {
      // From here on ids are read as they are written.
      this.isQuick = false;
      this.block.rows = plain;
      at = behindLines(bytes, from, plain - before, this.format.lineEnd);
    }
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

  private lookAtRows(bytes: Uint8Array, from: number, to: number, firstLine: number): void {
    let number = firstLine;
    for (let at = from; at < to && this.markDoubt !== null; ) {
      const end = bytes.indexOf(this.format.lineEnd, at) + 1;
      const lines = this.linesOf(bytes, at, end, number);
      this.lookAtMarks(lines);
      number += lines.length - (lines.at(-1)?.text === '' ? 1 : 0);
      at = end;
    }
  }

  private lookAtMarks(lines: readonly Line[]): void {
    if (this.markDoubt?.isSettledBy(lines, this.decimalMark) === true) this.markDoubt = null;
  }

  /** The rows up to the first one whose capture id is more than a small whole number. */
  private rowsOfPlainIds(from: number): number {
    const { rows, values } = this.block;
    const { fields, roles } = this.format;
    const field = roles.indexOf('label');
    if (field >= 0) for (let row = from; row < rows; row++) if (!isPlainId(values[row * fields + field])) return row;
    return rows;
  }

  private noteRows(count: number): void {
    this.reportBlankRow();
    this.rowLines.note(this.rowsGiven + this.block.rows - count, this.line, count);
    this.line += count;
  }

  private give(): void {
    if (this.block.rows === 0) return;
    this.sink.take(this.block, this.rowsExpected());
    this.rowsGiven += this.block.rows;
    this.block.rows = 0;
    if (this.sink.fullAtRow === null || this.isStopped) return;
    this.report(
      'too-many-captures',
      this.rowLines.of(this.sink.fullAtRow),
      1,
      `Here begins capture ${mostCaptures + 1} of this file; at most ${mostCaptures} are read of one. Export them in several files.`,
    );
    this.isStopped = true;
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
    const own = this.format.lineEnd === 0x0a ? text.replace(/\r$/, '') : text.replace(/^\n/, '');
    return own.split(/\r\n|\r|\n/).map((piece, i) => ({ text: piece, number: number + i }));
  }

  private decode(bytes: Uint8Array, from: number, to: number): string {
    const text = this.latin1 ? null : decodeUtf8(bytes, from, to);
    if (text !== null) return text;
    if (!this.latin1) {
      this.latin1 = true;
      this.told.warnOnce('encoding-latin-1', this.line, 'This line is not valid UTF-8; it was read as Latin-1.');
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
      this.told.problems.push(binaryProblem(this.file, line.number, zeroAt + 1));
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
    if (cells.length <= fields && isUnterminated) {
      this.reportTruncated(line);
      return false;
    }
    const { code, column, sentence } = lengthProblem(line.text, cells.length, fields, delimiter);
    this.report(code, line.number, column, sentence);
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
      const reading = readCell(cells[field], this.decimalMark, this.format.isMarkStated);
      if (reading.kind === 'number' && (role !== 'label' || isPlainId(reading.value))) {
        values[base + field] = reading.value;
        if (reading.mark !== null && this.decimalMark === null) this.settleMark(reading.mark, cells[field]);
        if (reading.grouped) {
          this.told.warnOnce(
            'thousands-separators',
            line.number,
            `Thousands separators were taken out of numbers such as ‘${shown(cells[field])}’ here.`,
          );
        }
      } else if (role === 'label' && reading.kind !== 'empty') {
        values[base + field] = this.sink.labelCode(cells[field].trim());
      } else if (reading.kind !== 'number') {
        isGood = false;
        if (isUnterminated && (reading.kind === 'empty' || reading.kind === 'text')) this.reportTruncated(line);
        else this.reportCell(line, field, cells[field], reading.kind);
        if (isUnterminated) break;
      }
    }
    if (!isGood) return;
    if (isUnterminated) this.doubtLastValue(line, cells[fields - 1]);
    this.block.rows++;
    this.noteRows(1);
  }

  private settleMark(mark: DecimalMark, cell: string): void {
    this.decimalMark = mark;
    if (mayBeGrouped(cell) && mayMeanThousands(mark, this.format.delimiter))
      this.markDoubt = new MarkDoubt(this.format);
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

  private doubtLastValue(line: Line, cell: string): void {
    const cut = this.lastRows.cutValue(cell, this.format.delimiter, this.decimalMark, (bytes, from, to) =>
      this.decode(bytes, from, to),
    );
    if (cut === null) return;
    this.told.warnOnce(
      'last-value-may-be-cut',
      line.number,
      `The file ends without a line end, and its last value has ${cut.own} decimals where the rows before have ${cut.usual}: it may be cut off.`,
    );
  }

  private report(code: string, line: number, column: number | null, sentence: string): void {
    if (this.told.add(code, line, column, sentence)) this.isStopped = true;
  }
}

/** The position behind so many lines. */
function behindLines(bytes: Uint8Array, from: number, lines: number, lineEnd: number): number {
  let at = from;
  for (let i = 0; i < lines; i++) at = bytes.indexOf(lineEnd, at) + 1;
  return at;
}
