import type { DecimalMark } from './import-recipe.ts';

export type CellReading =
  | { readonly kind: 'number'; readonly value: number; readonly mark: DecimalMark | null; readonly grouped: boolean }
  | { readonly kind: 'empty' | 'nan' | 'infinite' | 'text' | 'other-mark' | 'ambiguous' };

const plain = /^[+-]?(?:\d+(?:([.,])\d*)?|([.,])\d+)(?:[eE][+-]?\d+)?$/;
const groupedWithFraction =
  /^[+-]?\d{1,3}(?:(?:\.\d{3})+,\d+|(?:,\d{3})+\.\d+|(?:['’\u00a0\u202f\u2009]\d{3})+(?:[.,]\d+)?)$/;
const groupedTwice = /^[+-]?\d{1,3}(?:(?:\.\d{3}){2,}|(?:,\d{3}){2,})$/;
/** A shape in which the one mark may separate thousands as well as decimals. */
const oneGroup = /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/;
const nanWords = /^(?:[+-]?nan|n\/?a|#n\/a|null|none|-{2,}|[+-]?1\.#(?:qnan|ind)|missing)$/i;
const infiniteWords = /^[+-]?(?:inf(?:inity)?|∞|1\.#inf)$/i;

/**
 * Reads one cell as a number, with the file's decimal mark; `null` = not settled yet, so either mark is taken and named in
 * `mark`. Thousands separators are recognised only where they cannot be a decimal mark. `1.234` in a file with decimal
 * commas is `ambiguous`, `0.5` there is `other-mark`: neither is guessed at. Where a person has stated the mark, the other one in
 * that shape can only separate thousands.
 */
export function readCell(cell: string, decimalMark: DecimalMark | null, isMarkStated = false): CellReading {
  if (isPlain(cell)) {
    const mark = decimalMark !== ',' && cell.includes('.') ? '.' : null;
    if (mark !== null || !cell.includes('.')) return { kind: 'number', value: Number(cell), mark, grouped: false };
  }
  const trimmed = cell.trim();
  if (trimmed === '') return { kind: 'empty' };
  const text = trimmed.charCodeAt(0) === 0x2212 ? `-${trimmed.slice(1)}` : trimmed;
  const match = plain.exec(text);
  if (match !== null) {
    const mark = (match[1] ?? match[2] ?? null) as DecimalMark | null;
    if (mark !== null && decimalMark !== null && mark !== decimalMark) {
      if (!oneGroup.test(text)) return { kind: 'other-mark' };
      return isMarkStated
        ? { kind: 'number', value: Number(text.replace(mark, '')), mark: null, grouped: true }
        : { kind: 'ambiguous' };
    }
    const value = Number(mark === ',' ? text.replace(',', '.') : text);
    return Number.isFinite(value) ? { kind: 'number', value, mark, grouped: false } : { kind: 'infinite' };
  }
  if (nanWords.test(text)) return { kind: 'nan' };
  if (infiniteWords.test(text)) return { kind: 'infinite' };
  return readGrouped(text, decimalMark);
}

/** May this number be one with thousands separated, and not with decimals? */
export function mayBeGrouped(cell: string): boolean {
  return oneGroup.test(cell.trim().replace('\u2212', '-'));
}

/** Digits with at most a minus and one point: what nearly all cells are. Nothing else is decided here. */
function isPlain(cell: string): boolean {
  const start = cell.charCodeAt(0) === 0x2d ? 1 : 0;
  let points = 0;
  for (let i = start; i < cell.length; i++) {
    const code = cell.charCodeAt(i);
    if (code === 0x2e) points++;
    else if (code < 0x30 || code > 0x39) return false;
  }
  return points < 2 && cell.length - start - points > 0 && cell.length < 300;
}

function readGrouped(text: string, decimalMark: DecimalMark | null): CellReading {
  if (groupedWithFraction.test(text)) {
    const lastMark = Math.max(text.lastIndexOf('.'), text.lastIndexOf(','));
    const mark = lastMark < 0 ? null : (text[lastMark] as DecimalMark);
    if (mark !== null && decimalMark !== null && mark !== decimalMark) return { kind: 'other-mark' };
    const whole = (lastMark < 0 ? text : text.slice(0, lastMark)).replace(/[^\d+-]/g, '');
    return grouped(Number(lastMark < 0 ? whole : `${whole}.${text.slice(lastMark + 1)}`), mark);
  }
  if (groupedTwice.test(text)) {
    const group = text.includes('.') ? '.' : ',';
    if (decimalMark === group) return { kind: 'text' };
    return grouped(Number(text.replaceAll(group, '')), null);
  }
  return { kind: 'text' };
}

function grouped(value: number, mark: DecimalMark | null): CellReading {
  return Number.isFinite(value) ? { kind: 'number', value, mark, grouped: true } : { kind: 'infinite' };
}
