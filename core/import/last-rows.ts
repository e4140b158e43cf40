import type { DecimalMark, Delimiter } from './import-recipe.ts';

const tailLength = 1024;
/** From so many rows of the same number of decimals, with so many decimals, one that has fewer is odd. */
const enoughRows = 24;
const enoughDecimals = 3;

/** The last rows that were read, as far as 1,024 bytes hold them. */
export class LastRows {
  private tail: Uint8Array = new Uint8Array(0);

  /** Whole lines; no part of `bytes` is kept. */
  keep(bytes: Uint8Array, from: number, to: number): void {
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

  /**
   * A last value without a line end may be cut within its digits: doubtful where all rows before it write more decimals.
   * @returns the decimals it has, and those that the rows before have; `null` where nothing is odd
   */
  cutValue(
    cell: string,
    delimiter: Delimiter | null,
    mark: DecimalMark | null,
    decode: (bytes: Uint8Array, from: number, to: number) => string,
  ): { readonly own: number; readonly usual: number } | null {
    const rows = decode(this.tail, 0, this.tail.length)
      .split(/[\r\n]+/)
      .slice(1)
      .filter((row) => row !== '');
    const decimals = new Set(rows.map((row) => decimalsOf(row, delimiter, mark)));
    const own = decimalsOf(cell, null, mark);
    const usual = decimals.size === 1 ? [...decimals][0] : 0;
    return rows.length >= enoughRows && usual >= enoughDecimals && own < usual ? { own, usual } : null;
  }
}

/** Decimals of the row's last value. */
function decimalsOf(row: string, delimiter: Delimiter | null, mark: DecimalMark | null): number {
  const text = row.trimEnd();
  const value = delimiter === null ? text : text.slice(text.lastIndexOf(delimiter) + 1);
  const at = mark === null ? -1 : value.lastIndexOf(mark);
  return at < 0 ? 0 : value.length - at - 1;
}
