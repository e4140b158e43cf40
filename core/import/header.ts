import { type Outcome, type Problem, problem, success } from '../outcome.ts';
import type { Dialect } from './dialect.ts';
import { type HeadLines, lineAbove } from './head-lines.ts';
import type { ImportRecipe } from './import-recipe.ts';
import { readCell } from './number.ts';
import { type Line, splitLines } from './table.ts';
import { readLabel } from './unit-words.ts';

/** The lines of names and units above the rows; line 0 where there is none. */
export interface Header {
  readonly headerLine: number;
  readonly cells: readonly string[] | null;
  readonly units: readonly string[] | null;
  readonly unitsLine: number;
}

const noHeader: Header = { headerLine: 0, cells: null, units: null, unitsLine: 0 };

export function findHeader(lines: HeadLines, first: number, dialect: Dialect, recipe: ImportRecipe): Outcome<Header> {
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

/**
 * Names that are more or fewer than the fields would stand over the wrong columns. A blank last cell names nothing, and a start and an
 * increment may stand behind the names. A person who states the header's line vouches for it.
 */
export function headerMismatch(
  file: string,
  { cells, units }: Header,
  { fields, delimiter }: Dialect,
  line: number,
  recipe: ImportRecipe,
): Problem | null {
  if (cells === null || recipe.headerLine !== null) return null;
  const isBeside = (cell: string, field: number) =>
    cell === '' || /^(?:start|increment)$/.test(readLabel(cell).words) || !isNoNumber(units?.[field] ?? '');
  if (cells.length >= fields && cells.every((cell, field) => field < fields || isBeside(cell, field))) return null;
  const advice =
    delimiter === ','
      ? 'Commas may be decimal marks here, or separate thousands: export with semicolons, or without them'
      : 'Give each column one name';
  return problem(
    'header-and-rows-differ',
    { file, line, column: 1 },
    `The header has ${cells.length} names, this row has ${fields === 1 ? '1 field' : `${fields} fields`}: which name belongs to which cannot be told. ${advice}, or state the line of the names (--header-line; 0 for none).`,
  );
}

/** The cells of a line above the rows, a comment mark before them taken off; `null` where its quotation marks do not close. */
function headerCells(line: Line | null, dialect: Dialect): readonly string[] | null {
  if (line === null) return null;
  const text = line.text.replace(/^\s*(?:#|\/\/)\s*/, '');
  const cells = splitLines([{ text, number: line.number }], dialect.delimiter)[0];
  return cells === null ? null : cells.map((cell) => cell.trim());
}

export function isNoNumber(cell: string): boolean {
  return readCell(cell, null).kind !== 'number';
}

/** A row such as `Sequence,Volt,Volt,-1.4e-3,2e-6`: units, and numbers under a start and an increment. */
export function isUnitsRow(cells: readonly string[] | null): cells is readonly string[] {
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
