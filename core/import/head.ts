import type { MetadataEntry } from '../capture/capture.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import { type Dialect, judgeDialect, mayMeanThousands, numbersOf } from './dialect.ts';
import { findFirstRow, loneNumberAbove, noRows } from './first-row.ts';
import { HeadLines, isNumberLike, isTableLike, lineAbove } from './head-lines.ts';
import { findHeader, headerMismatch, isUnitsRow } from './header.ts';
import type { DecimalMark, Delimiter, ImportRecipe } from './import-recipe.ts';
import { mayBeGrouped } from './number.ts';
import { type RowBlock, scanRows } from './numeric-rows.ts';
import { readPreambleLine } from './preamble.ts';
import type { Line } from './table.ts';
import { decodeLatin1 } from './text.ts';

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
  /** Did no number of the first rows show that the mark separates no thousands? */
  readonly isMarkDoubtful: boolean;
  readonly lineEnd: 0x0a | 0x0d;
  readonly preamble: readonly MetadataEntry[];
  /** One cell for each field, and those that the header has beyond them; `null` where there is no header. */
  readonly header: readonly string[] | null;
  /** Counted from 1; 0 where there is no header. */
  readonly headerLine: number;
  /** The header's line as it stands. */
  readonly headerText: string;
  readonly units: readonly string[] | null;
  readonly unitsText: string | null;
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
/** The file's first bytes: `isWhole` if there are no more, `isMost` if no more will be looked at. */
export interface HeadBytes {
  readonly bytes: Uint8Array;
  readonly isWhole: boolean;
  readonly isMost: boolean;
}

/** Reads the head. `null`: more bytes are needed to tell (never when `isWhole` or `isMost`). */
export function readHead(file: string, from: HeadBytes, latin1: boolean, recipe: ImportRecipe): Outcome<Head> | null {
  const lines = new HeadLines(from.bytes, from.isWhole, latin1);
  const alike = headLikeLast(lines, from.bytes, latin1, recipe);
  if (alike !== null) return success(alike);
  const head = judgeHead(file, from, lines, latin1, recipe);
  last = head?.ok ? remember(head.value, latin1, recipe) : null;
  return head;
}

function judgeHead(
  file: string,
  from: HeadBytes,
  lines: HeadLines,
  latin1: boolean,
  recipe: ImportRecipe,
): Outcome<Head> | null {
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

/** Lines after which a body of plain numbers is no longer expected. */
const rowsToSeek = 256;

function describeHead(
  file: string,
  lines: HeadLines,
  first: number,
  rows: readonly Line[],
  dialect: Dialect,
  latin1: boolean,
  recipe: ImportRecipe,
): Outcome<Head> {
  const { delimiter, decimalMark, isMarkDoubtful, fields, blankTail } = dialect;
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
  const lone = headerLine === 0 ? loneNumberAbove(file, lines, first, fields) : null;
  if (lone !== null) return failure(lone);
  const mismatch = headerMismatch(file, header.value, dialect, first + 1, recipe);
  if (mismatch !== null) return failure(mismatch);
  const preamble = preambleOf(lines, headerLine > 0 ? headerLine - 1 : first, delimiter);
  const warnings: Problem[] = [];
  if (lines.latin1 && !latin1 && recipe.encoding === null) {
    warnings.push(problem('encoding-latin-1', { file }, 'The file is not valid UTF-8; it was read as Latin-1.'));
  }
  return success({
    latin1: lines.latin1,
    delimiter,
    decimalMark,
    isMarkDoubtful,
    lineEnd: lines.lineEnd,
    preamble,
    header: cells,
    headerLine,
    headerText: headerLine === 0 ? '' : (lines.at(headerLine - 1)?.text ?? ''),
    units,
    unitsText: unitsLine === 0 ? null : (lines.at(unitsLine - 1)?.text ?? null),
    unitsLine,
    fields,
    blankTail,
    firstLine: first + 1,
    offset: lines.starts[first],
    firstRows: numbersOf(dialect.cells, decimalMark, recipe.decimalMark !== null, rows.length),
    warnings,
  });
}

function preambleOf(lines: HeadLines, end: number, delimiter: Delimiter | null): readonly MetadataEntry[] {
  const preamble: MetadataEntry[] = [];
  for (let i = 0; i < end; i++) {
    const line = lines.at(i);
    const entry = line === null ? null : readPreambleLine(line, delimiter);
    if (entry !== null) preamble.push(entry);
  }
  return preamble;
}

/** The head of the last file, where it was plain enough to recognise another of its shape by. */
interface LastHead {
  readonly head: Head;
  readonly unitsText: string | null;
  readonly latin1: boolean;
  readonly recipe: ImportRecipe;
}

let last: LastHead | null = null;

/**
 * A head is worth remembering if nothing in it was doubtful: decimal points, a header (no comment, not of units alone) right
 * above the rows, enough rows without an odd cell. It then decides the next file's head if that has the same header.
 */
function remember(head: Head, latin1: boolean, recipe: ImportRecipe): LastHead | null {
  const { header, headerText, headerLine, unitsLine, firstLine, decimalMark, delimiter } = head;
  const isPlain =
    header !== null &&
    decimalMark === '.' &&
    !head.isMarkDoubtful &&
    delimiter !== null &&
    recipe.headerLine === null &&
    !head.blankTail &&
    head.warnings.length === 0 &&
    headerLine < firstLine &&
    (unitsLine > 0 ? unitsLine === headerLine + 1 && firstLine === unitsLine + 1 : firstLine === headerLine + 1) &&
    !/^\s*(?:#|%|\/\/)/.test(headerText) &&
    (unitsLine > 0 || !isUnitsRow(header)) &&
    head.firstRows.length === rowsToJudge &&
    head.firstRows.every((row) => row.every((value) => !Number.isNaN(value)));
  return isPlain ? { head, unitsText: head.unitsText, latin1, recipe } : null;
}

/**
 * The head of a file whose comments are followed by the last file's header and by rows that the quick tier takes as they are, with a
 * decimal point in them. Such rows hold only digits, signs, points and that one delimiter, so judging them afresh could only give
 * the last file's dialect again: files of a batch need it just once. `null` for any other file.
 */
function headLikeLast(lines: HeadLines, bytes: Uint8Array, latin1: boolean, recipe: ImportRecipe): Head | null {
  if (last === null || last.recipe !== recipe || last.latin1 !== latin1) return null;
  const { head, unitsText } = last;
  if (lines.lineEnd !== head.lineEnd) return null;
  let headerAt = 0;
  while (lines.at(headerAt)?.text.startsWith('#')) headerAt++;
  if (lines.at(headerAt)?.text !== head.headerText) return null;
  if (unitsText !== null && lines.at(headerAt + 1)?.text !== unitsText) return null;
  const first = headerAt + (unitsText === null ? 1 : 2);
  const offset = lines.starts[first];
  const end = endOfRows(bytes, offset, head.lineEnd);
  if (end === null || bytes.subarray(offset, end).indexOf(0x2e) < 0) return null;
  if (mayMeanThousands('.', head.delimiter) && !showsDecimals(bytes.subarray(offset, end))) return null;
  const { fields, blankTail, lineEnd } = head;
  const block: RowBlock = { values: new Float64Array(fields * rowsToJudge), capacity: rowsToJudge, rows: 0 };
  // In the order in which the body's reader writes its own: one kind of object, so that the scan is compiled once.
  const format = { fields, delimiter: head.delimiter?.charCodeAt(0) ?? 0, decimalMark: 0x2e, lineEnd, blankTail };
  if (scanRows(bytes, offset, end, format, block) !== end || lines.latin1 !== head.latin1) return null;
  return {
    ...head,
    preamble: preambleOf(lines, headerAt, head.delimiter),
    headerLine: headerAt + 1,
    unitsLine: unitsText === null ? 0 : headerAt + 2,
    firstLine: first + 1,
    offset,
    firstRows: rowsOf(block, fields),
  };
}

/** Does a point stand in these rows where it separates no thousands? */
function showsDecimals(rows: Uint8Array): boolean {
  const cells = decodeLatin1(rows, 0, rows.length).split(/[;\s]+/);
  return cells.some((cell) => cell.includes('.') && !mayBeGrouped(cell));
}

function rowsOf(block: RowBlock, fields: number): number[][] {
  const rows: number[][] = [];
  for (let row = 0; row < block.rows; row++) {
    const values: number[] = [];
    for (let field = 0; field < fields; field++) values.push(block.values[row * fields + field]);
    rows.push(values);
  }
  return rows;
}

/** The position behind the rows to judge; `null` where there are fewer. */
function endOfRows(bytes: Uint8Array, from: number, lineEnd: number): number | null {
  let end = from;
  for (let row = 0; row < rowsToJudge; row++) {
    end = bytes.indexOf(lineEnd, end) + 1;
    if (end === 0) return null;
  }
  return end;
}
