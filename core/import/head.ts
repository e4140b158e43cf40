import type { MetadataEntry } from '../capture/capture.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import type { DecimalMark, Delimiter, ImportRecipe } from './import-recipe.ts';
import { readCell } from './number.ts';
import { readPreambleLine } from './preamble.ts';
import { type Line, splitLines } from './table.ts';
import { decodeLatin1, decodeUtf8 } from './text.ts';
import { readLabel } from './unit-words.ts';

/**
 * The beginning of a file: what stands before the first row of numbers, and how the rows are written.
 *
 *     # gain_db: 42            preamble
 *     time_us;amplitude_pct    header
 *     us;%                     units, on some
 *     0,00;1,25                the first row: fields, delimiter and decimal mark follow from it and the next few
 */
export interface Head {
  readonly latin1: boolean;
  readonly delimiter: Delimiter | null;
  readonly decimalMark: DecimalMark | null;
  readonly lineEnd: 0x0a | 0x0d;
  readonly preamble: readonly MetadataEntry[];
  /** One cell for each field, and those that the header has beyond them; `null` where there is no header. */
  readonly header: readonly string[] | null;
  /** Counted from 1; 0 where there is no header. */
  readonly headerLine: number;
  /** The header's line as it stands. */
  readonly headerText: string;
  readonly units: readonly string[] | null;
  readonly unitsLine: number;
  readonly fields: number;
  readonly blankTail: boolean;
  readonly firstLine: number;
  /** Position of the first row's first byte. */
  readonly offset: number;
  /** The first rows, as numbers; `NaN` where a cell is none. */
  readonly firstRows: readonly (readonly number[])[];
  readonly warnings: readonly Problem[];
}

/** Rows from which delimiter and decimal mark are judged. */
const rowsToJudge = 8;
const mostFields = 16384;
/** What may stand in a row of numbers beside the digits. */
const numberCharacters = ' \t\u00a0\u2009\u202f+-\u2212.,;eE"\'’';
const numberWords = /nan|infinity|inf|∞|n\/a|null/i;

/** Lines decoded one by one, as far as they are asked for. */
class HeadLines {
  latin1: boolean;
  readonly starts: number[] = [0];
  private readonly lines: Line[] = [];
  private readonly bytes: Uint8Array;
  private readonly isWhole: boolean;
  readonly lineEnd: 0x0a | 0x0d;

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
    const feed = this.bytes.indexOf(this.lineEnd, from);
    const to = feed < 0 ? this.bytes.length : feed;
    const carriage = this.bytes.subarray(from, to).indexOf(0x0d);
    return carriage >= 0 ? from + carriage : feed;
  }

  private decode(from: number, to: number): string {
    const text = this.latin1 ? null : decodeUtf8(this.bytes, from, to);
    if (text !== null) return text;
    this.latin1 = true;
    return decodeLatin1(this.bytes, from, to);
  }
}

/** The file's first bytes: `isWhole` if there are no more, `isMost` if no more will be looked at. */
export interface HeadBytes {
  readonly bytes: Uint8Array;
  readonly isWhole: boolean;
  readonly isMost: boolean;
}

/** Reads the head. `null`: more bytes are needed to tell (never when `isWhole` or `isMost`). */
export function readHead(file: string, from: HeadBytes, latin1: boolean, recipe: ImportRecipe): Outcome<Head> | null {
  const lines = new HeadLines(from.bytes, from.isWhole, latin1);
  const mustDecide = from.isWhole || from.isMost;
  const plainly = findFirstRow(lines, recipe, isNumberLike);
  const isRow = plainly === null ? isTableLike : isNumberLike;
  const found =
    plainly ?? (mustDecide || lines.at(rowsToSeek) !== null ? findFirstRow(lines, recipe, isTableLike) : null);
  if (found === null) return mustDecide ? failure(noRows(file, lines, from.isWhole)) : null;
  const rows: Line[] = [];
  for (let i = found; rows.length < rowsToJudge; i++) {
    const line = lines.at(i);
    if (line === null) break;
    if (isRow(line.text)) rows.push(line);
  }
  if (!mustDecide && rows.length < rowsToJudge && lines.at(found + 4 * rowsToJudge) === null) return null;
  const above = lineAbove(lines, found);
  const dialect = judgeDialect(file, rows, above === null ? null : lines.at(above), recipe);
  if (!dialect.ok) return dialect;
  return describeHead(file, lines, found, rows, dialect.value, latin1, recipe);
}

function noRows(file: string, lines: HeadLines, isWhole: boolean): Problem {
  const first = lines.at(0);
  const hasControls = first !== null && [...first.text.slice(0, 256)].some(isControl);
  return hasControls
    ? problem(
        'binary-file',
        { file, line: 1, column: 1 },
        'The file begins with bytes that no text has: it is a binary or a damaged file. Export the waveform as CSV text.',
      )
    : problem(
        'no-numeric-rows',
        { file, line: 1, column: 1 },
        `There is no row of numbers in ${isWhole ? 'this file' : 'the beginning of this file'}. Check that it is the exported waveform, and that the export had finished.`,
      );
}

/** Lines after which a body of plain numbers is no longer expected. */
const rowsToSeek = 256;

function isControl(character: string): boolean {
  const code = character.charCodeAt(0);
  return code < 0x20 && code !== 0x09 && code !== 0x0c;
}

function isNumberLike(text: string): boolean {
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
function isTableLike(text: string): boolean {
  const delimiter = [';', '\t', ','].find((candidate) => text.includes(candidate));
  if (delimiter === undefined || text.length > 4096) return false;
  const cells = text.split(delimiter);
  const numbers = cells.filter((cell) => readCell(cell, null).kind === 'number').length;
  return numbers >= 2 && numbers * 2 >= cells.length;
}

/** The index of the first line of the body: a row of numbers that mostly rows of numbers follow. */
function findFirstRow(lines: HeadLines, recipe: ImportRecipe, isRow: (text: string) => boolean): number | null {
  const from = recipe.headerLine ?? 0;
  for (let i = from; ; i++) {
    const line = lines.at(i);
    if (line === null) return null;
    if (!isRow(line.text)) continue;
    let alike = 0;
    let others = 0;
    for (let next = i + 1; next <= i + 8; next++) {
      const follower = lines.at(next);
      if (follower === null) break;
      if (follower.text.trim() === '') continue;
      if (isRow(follower.text)) alike++;
      else others++;
    }
    if (alike < others) continue;
    const next = lines.at(i + 1);
    const isLoneNumber =
      next !== null && next.text.trim() !== '' && !isRow(next.text) && alike > 0 && !/[,;\t ]/.test(line.text.trim());
    if (isLoneNumber) continue;
    return withOddRowsAbove(lines, i, from);
  }
}

/**
 * First rows with a text cell in them are no preamble, and must not be passed over: they are as wide as the rows and hold a number
 * in front, two numbers, or one number right below a header.
 */
function withOddRowsAbove(lines: HeadLines, first: number, from: number): number {
  const delimiter = [';', '\t', ','].find((candidate) => lines.at(first)?.text.includes(candidate));
  if (delimiter === undefined) return first;
  const cellsAt = (index: number) => lines.at(index)?.text.split(delimiter) ?? [];
  const width = cellsAt(first).length;
  const isOddRow = (index: number) => {
    const cells = cellsAt(index);
    if (cells.length !== width || /[:=#]/.test(cells[0])) return false;
    const numbers = cells.filter((cell) => !isNoNumber(cell)).length;
    if (!isNoNumber(cells[0]) || numbers > 1) return true;
    const above = index > from ? cellsAt(index - 1) : [];
    return (
      numbers === 1 &&
      above.length === width &&
      above.every(isNoNumber) &&
      above.some((cell) => readLabel(cell).unit !== null)
    );
  };
  let start = first;
  while (start > from && isOddRow(start - 1)) start--;
  return start;
}

function lineAbove(lines: HeadLines, index: number): number | null {
  for (let i = index - 1; i >= 0; i--) if (lines.at(i)?.text.trim() !== '') return i;
  return null;
}

interface Dialect {
  readonly delimiter: Delimiter | null;
  readonly decimalMark: DecimalMark | null;
  readonly fields: number;
  readonly blankTail: boolean;
  readonly cells: readonly (readonly string[])[];
}

function judgeDialect(file: string, rows: readonly Line[], above: Line | null, recipe: ImportRecipe): Outcome<Dialect> {
  const candidates: readonly (Delimiter | null)[] =
    recipe.delimiter !== null ? [recipe.delimiter] : [';', '\t', ',', ' ', null];
  const present = candidates.filter((delimiter) => mayDelimit(delimiter, rows, recipe));
  for (const allowsTexts of [false, true]) {
    for (const delimiter of present) {
      const dialect = tryDelimiter(rows, delimiter, recipe.decimalMark, allowsTexts);
      if (dialect === null) continue;
      return delimiter === ',' && recipe.delimiter === null
        ? doubtCommas(file, dialect, rows, above, recipe)
        : success(dialect);
    }
  }
  return success(forceDelimiter(rows, recipe));
}

function mayDelimit(delimiter: Delimiter | null, rows: readonly Line[], recipe: ImportRecipe): boolean {
  if (delimiter === null) return true;
  const isDecimalMark = delimiter === ',' && recipe.decimalMark === ',' && recipe.delimiter === null;
  if (isDecimalMark && !rows.some(({ text }) => text.includes('"'))) return false;
  return rows.some(({ text }) => text.trim().includes(delimiter) || (delimiter === ' ' && text.trim().includes('\t')));
}

/** The reading of the rows with one delimiter; `null` unless most of their cells are numbers. */
function tryDelimiter(
  rows: readonly Line[],
  delimiter: Delimiter | null,
  given: DecimalMark | null,
  allowsTexts: boolean,
): Dialect | null {
  const split = splitLines(rows, delimiter).filter((cells) => cells !== null);
  let good = 0;
  let mark = given;
  for (const cells of split) {
    let texts = 0;
    for (const cell of cells) {
      const reading = readCell(cell, null);
      if (reading.kind === 'text') texts++;
      if (reading.kind === 'number') mark ??= reading.mark;
    }
    if (texts <= (allowsTexts ? cells.length / 2 : 0)) good++;
  }
  if (good * 2 <= rows.length && good < rows.length) return null;
  return { delimiter, decimalMark: mark, cells: split, ...usualLength(split) };
}

function forceDelimiter(rows: readonly Line[], recipe: ImportRecipe): Dialect {
  const split = splitLines(rows, recipe.delimiter).filter((cells) => cells !== null);
  return { delimiter: recipe.delimiter, decimalMark: recipe.decimalMark, cells: split, ...usualLength(split) };
}

/** The number of fields that most rows have; a last cell that is blank in most of them is none. */
function usualLength(split: readonly (readonly string[])[]): { fields: number; blankTail: boolean } {
  const counts = new Map<number, number>();
  for (const cells of split) counts.set(cells.length, (counts.get(cells.length) ?? 0) + 1);
  const length = [...counts].reduce((best, entry) => (entry[1] > best[1] ? entry : best), [1, 0])[0];
  const blank = split.filter((cells) => cells.length === length && cells[length - 1].trim() === '').length;
  const blankTail = length > 1 && blank * 2 > split.filter((cells) => cells.length === length).length;
  return { fields: blankTail ? length - 1 : length, blankTail };
}

/** Commas alone, and no point anywhere: are they delimiters, or decimal marks, or both? */
function doubtCommas(
  file: string,
  dialect: Dialect,
  rows: readonly Line[],
  above: Line | null,
  recipe: ImportRecipe,
): Outcome<Dialect> {
  if (rows.some(({ text }) => /["'.]/.test(text))) return success(dialect);
  const headerCells =
    above === null || /\d/.test(above.text[0] ?? '')
      ? null
      : splitLines([{ ...above, text: above.text.replace(/^\s*#\s*/, '') }], ',')[0];
  const place = { file, line: rows[0].number, column: 1 };
  if (headerCells !== null && headerCells.length > 1) {
    if (headerCells.length * 2 !== dialect.fields) return success(dialect);
    return failure(
      problem(
        'decimal-comma-and-delimiter',
        place,
        `The header has ${headerCells.length} columns, and the rows twice as many commas: the comma is both delimiter and decimal mark here, which cannot be told apart. Export with semicolons, or with decimal points.`,
      ),
    );
  }
  if (headerCells !== null && dialect.fields === 2 && readLabel(headerCells[0]).unit !== null) {
    return success({ ...dialect, delimiter: null, decimalMark: ',', fields: 1, cells: rows.map(({ text }) => [text]) });
  }
  const looksLikeDecimals = dialect.cells.some((cells) =>
    cells.some((cell, field) => field % 2 === 1 && /^\s*0\d/.test(cell)),
  );
  if (looksLikeDecimals && recipe.decimalMark === null) {
    return failure(
      problem(
        'ambiguous-commas',
        place,
        'The commas of this file may be decimal marks or delimiters, and nothing in it tells which. State the delimiter and the decimal mark.',
      ),
    );
  }
  return success(dialect);
}

function describeHead(
  file: string,
  lines: HeadLines,
  first: number,
  rows: readonly Line[],
  dialect: Dialect,
  latin1: boolean,
  recipe: ImportRecipe,
): Outcome<Head> {
  const { delimiter, decimalMark, fields, blankTail } = dialect;
  if (fields > mostFields) {
    return failure(
      problem(
        'too-many-columns',
        { file, line: first + 1, column: 1 },
        `There are ${fields} columns; at most ${mostFields} are read. If the samples stand along the row, export with one row for each sample.`,
      ),
    );
  }
  const header = findHeader(lines, first, dialect, recipe);
  if (!header.ok) return header;
  const { headerLine, cells, units, unitsLine } = header.value;
  const preamble: MetadataEntry[] = [];
  const preambleEnd = headerLine > 0 ? headerLine - 1 : first;
  for (let i = 0; i < preambleEnd; i++) {
    const line = lines.at(i);
    const entry = line === null ? null : readPreambleLine(line, delimiter);
    if (entry !== null) preamble.push(entry);
  }
  const warnings: Problem[] = [];
  if (lines.latin1 && !latin1 && recipe.encoding === null) {
    warnings.push(problem('encoding-latin-1', { file }, 'The file is not valid UTF-8; it was read as Latin-1.'));
  }
  if (decimalMark === ',' && recipe.decimalMark === null && mayBeThousands(dialect.cells)) {
    warnings.push(
      problem(
        'decimal-comma-assumed',
        { file, line: first + 1 },
        'The commas were taken for decimal marks; they could separate thousands. State the decimal mark if so.',
      ),
    );
  }
  return success({
    latin1: lines.latin1,
    delimiter,
    decimalMark,
    lineEnd: lines.lineEnd,
    preamble,
    header: cells,
    headerLine,
    headerText: headerLine === 0 ? '' : (lines.at(headerLine - 1)?.text ?? ''),
    units,
    unitsLine,
    fields,
    blankTail,
    firstLine: first + 1,
    offset: lines.starts[first],
    firstRows: numbersOf(dialect.cells, decimalMark, rows.length),
    warnings,
  });
}

function mayBeThousands(cells: readonly (readonly string[])[]): boolean {
  const withComma = cells.flat().filter((cell) => cell.includes(','));
  return withComma.length > 0 && withComma.every((cell) => /^\s*[+-]?[1-9]\d{0,2},\d{3}\s*$/.test(cell));
}

function numbersOf(cells: readonly (readonly string[])[], mark: DecimalMark | null, most: number): number[][] {
  return cells.slice(0, most).map((row) =>
    row.map((cell) => {
      const reading = readCell(cell, mark);
      return reading.kind === 'number' ? reading.value : Number.NaN;
    }),
  );
}

interface Header {
  readonly headerLine: number;
  readonly cells: readonly string[] | null;
  readonly units: readonly string[] | null;
  readonly unitsLine: number;
}

const noHeader: Header = { headerLine: 0, cells: null, units: null, unitsLine: 0 };

function findHeader(lines: HeadLines, first: number, dialect: Dialect, recipe: ImportRecipe): Outcome<Header> {
  if (recipe.headerLine === 0) return success(noHeader);
  const cellsAt = (index: number) => headerCells(lines.at(index), dialect);
  if (recipe.headerLine !== null) {
    const index = recipe.headerLine - 1;
    const unitsAt = first - 1 > index && isUnitsRow(cellsAt(first - 1)) ? first - 1 : null;
    return success(headerOf(index, cellsAt(index) ?? [], unitsAt, cellsAt));
  }
  const above = lineAbove(lines, first);
  if (above === null) return success(noHeader);
  const cells = cellsAt(above);
  if (cells === null) return success(noHeader);
  const higher = lineAbove(lines, above);
  if (isUnitsRow(cells) && higher !== null) {
    const names = cellsAt(higher);
    if (names !== null && names.length >= cells.length - 1 && isHeader(lines.at(higher), names, dialect)) {
      return success(headerOf(higher, names, above, cellsAt));
    }
  }
  return success(isHeader(lines.at(above), cells, dialect) ? headerOf(above, cells, null, cellsAt) : noHeader);
}

function headerOf(
  index: number,
  cells: readonly string[],
  unitsAt: number | null,
  cellsAt: (index: number) => readonly string[] | null,
): Header {
  return {
    headerLine: index + 1,
    cells,
    units: unitsAt === null ? null : cellsAt(unitsAt),
    unitsLine: unitsAt === null ? 0 : unitsAt + 1,
  };
}

/** The cells of a line above the rows, a comment mark before them taken off; `null` where its quotation marks do not close. */
function headerCells(line: Line | null, dialect: Dialect): readonly string[] | null {
  if (line === null) return null;
  const text = line.text.replace(/^\s*(?:#|\/\/)\s*/, '');
  const cells = splitLines([{ text, number: line.number }], dialect.delimiter)[0];
  return cells === null ? null : cells.map((cell) => cell.trim());
}

function isNoNumber(cell: string): boolean {
  return readCell(cell, null).kind !== 'number';
}

/** A row such as `Sequence,Volt,Volt,-1.4e-3,2e-6`: units, and numbers under a start and an increment. */
function isUnitsRow(cells: readonly string[] | null): cells is readonly string[] {
  if (cells === null) return false;
  const filled = cells.filter((cell) => cell !== '');
  return (
    filled.length > 0 &&
    isNoNumber(filled[0]) &&
    filled.every((cell) => !isNoNumber(cell) || readLabel(cell).words === '')
  );
}

function isHeader(line: Line | null, cells: readonly string[], dialect: Dialect): boolean {
  if (line === null || !cells.every(isNoNumber) || cells.every((cell) => cell === '')) return false;
  const isComment = /^\s*(?:#|\/\/)/.test(line.text);
  if (isComment)
    return (
      cells.length === dialect.fields &&
      (dialect.fields > 1 || !/[:=]/.test(line.text)) &&
      cells.some((cell) => readLabel(cell).unit !== null)
    );
  return dialect.fields === 1 ? !/[:=,;]\s*[-\d]/.test(line.text) : cells.length > 1;
}
