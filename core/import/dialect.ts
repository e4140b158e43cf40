import { failure, type Outcome, problem, success } from '../outcome.ts';
import type { DecimalMark, Delimiter, ImportRecipe } from './import-recipe.ts';
import { mayBeGrouped, readCell } from './number.ts';
import { type Line, splitLines } from './table.ts';
import { readLabel } from './unit-words.ts';

/** How rows are written, and the cells of those it was judged from. */
export interface Dialect {
  readonly delimiter: Delimiter | null;
  readonly decimalMark: DecimalMark | null;
  /** Does the mark stand in none of these rows where it could not separate thousands? */
  readonly isMarkDoubtful: boolean;
  readonly fields: number;
  readonly blankTail: boolean;
  readonly cells: readonly (readonly string[])[];
}

/** Delimiter and decimal mark from the first rows; the line above them helps where there are only commas. */
export function judgeDialect(
  file: string,
  rows: readonly Line[],
  above: Line | null,
  recipe: ImportRecipe,
): Outcome<Dialect> {
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
  let sure: DecimalMark | null = null;
  let possible: DecimalMark | null = null;
  for (const cells of split) {
    let texts = 0;
    for (const cell of cells) {
      const reading = readCell(cell, null);
      if (reading.kind === 'text') texts++;
      if (reading.kind !== 'number' || reading.mark === null) continue;
      if (mayBeGrouped(cell)) possible ??= reading.mark;
      else sure ??= reading.mark;
    }
    if (texts <= (allowsTexts ? cells.length / 2 : 0)) good++;
  }
  if (good * 2 <= rows.length && good < rows.length) return null;
  const decimalMark = given ?? sure ?? possible;
  const isMarkDoubtful = given === null && sure === null && mayMeanThousands(possible, delimiter);
  return { delimiter, decimalMark, isMarkDoubtful, cells: split, ...usualLength(split) };
}

/** Between commas a point is decimal: where points separate thousands, the comma is the decimal mark, and no delimiter. */
export function mayMeanThousands(mark: DecimalMark | null, delimiter: Delimiter | null): boolean {
  return mark === ',' || (mark === '.' && delimiter !== ',');
}

function forceDelimiter(rows: readonly Line[], recipe: ImportRecipe): Dialect {
  const split = splitLines(rows, recipe.delimiter).filter((cells) => cells !== null);
  const { delimiter, decimalMark } = recipe;
  return { delimiter, decimalMark, isMarkDoubtful: false, cells: split, ...usualLength(split) };
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
    const cells = rows.map(({ text }) => [text]);
    const isMarkDoubtful = rows.every(({ text }) => mayBeGrouped(text));
    return success({ ...dialect, delimiter: null, decimalMark: ',', isMarkDoubtful, fields: 1, cells });
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

/** The cells as numbers; `NaN` where one is none. */
export function numbersOf(
  cells: readonly (readonly string[])[],
  mark: DecimalMark | null,
  isMarkStated: boolean,
  most: number,
): number[][] {
  return cells.slice(0, most).map((row) =>
    row.map((cell) => {
      const reading = readCell(cell, mark, isMarkStated);
      return reading.kind === 'number' ? reading.value : Number.NaN;
    }),
  );
}
