import { type Problem, problem } from '../outcome.ts';
import { cellsOf, type HeadLines, rowDelimiter } from './head-lines.ts';
import { isNoNumber } from './header.ts';
import type { ImportRecipe } from './import-recipe.ts';
import { readLabel } from './unit-words.ts';

export function noRows(file: string, lines: HeadLines, isWhole: boolean): Problem {
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

function isControl(character: string): boolean {
  const code = character.charCodeAt(0);
  return code < 0x20 && code !== 0x09 && code !== 0x0c;
}

/** The index of the first line of the body: a row of numbers that mostly rows of numbers follow. */
export function findFirstRow(lines: HeadLines, recipe: ImportRecipe, isRow: (text: string) => boolean): number | null {
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
 * A number by itself above a comment, where the rows below it are one number each, may be the first sample or a count of them: it is neither passed over nor read.
 */
export function loneNumberAbove(file: string, lines: HeadLines, first: number, fields: number): Problem | null {
  if (fields !== 1) return null;
  for (let i = 0; i < first - 1; i++) {
    const text = lines.at(i)?.text.trim() ?? '';
    if (!/^[+-]?[\d.,]+$/.test(text) || !/^\s*[#%]/.test(lines.at(i + 1)?.text ?? '')) continue;
    return problem(
      'lone-number',
      { file, line: i + 1, column: 1 },
      'This number stands by itself above a comment: it may be the first sample, or no sample at all. Move the comment above it, or take the number out.',
    );
  }
  return null;
}

/**
 * First rows with a text cell in them are no preamble, and must not be passed over: they are as wide as the rows and hold a number
 * in front, two numbers, or one number right below a header.
 */
function withOddRowsAbove(lines: HeadLines, first: number, from: number): number {
  const delimiter = rowDelimiter(lines.at(first)?.text ?? '');
  if (delimiter === null) return first;
  const cellsAt = (index: number) => cellsOf(lines.at(index)?.text ?? '', delimiter);
  const width = cellsAt(first).length;
  const isOddRow = (index: number) => {
    const cells = cellsAt(index);
    if (cells.length !== width || /^\s*(?:#|[^\s\d+-].*[:=])/.test(cells[0])) return false;
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
