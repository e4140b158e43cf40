import type { DecimalMark, Delimiter } from './import-recipe.ts';
import type { RowBlock, RowFormat } from './numeric-rows.ts';

/** What a field is read as. `label`: a number or any text, given a number of its own. */
export type FieldRole = 'number' | 'label' | 'ignored';

export interface BodyFormat {
  readonly fields: number;
  readonly delimiter: Delimiter | null;
  /** `null` where no number with a mark was seen yet: the first one settles it. */
  readonly decimalMark: DecimalMark | null;
  /** By a person: the other mark then separates thousands. */
  readonly isMarkStated: boolean;
  /** May the mark, by the rows seen so far, separate thousands as well? */
  readonly isMarkDoubtful: boolean;
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
  /** The row, counted from the file's first, with which there are more captures than can be held; `null` while there are not. */
  readonly fullAtRow: number | null;
  /** The number that stands for a label. */
  labelCode(text: string): number;
}

export function rowFormatOf(format: BodyFormat, mark: DecimalMark | null): RowFormat {
  return {
    fields: format.fields,
    // A file of one field has no delimiter: the line feed never stands inside a line.
    delimiter: (format.delimiter ?? '\n').charCodeAt(0),
    decimalMark: mark === null ? 0 : mark.charCodeAt(0),
    lineEnd: format.lineEnd,
    blankTail: format.blankTail,
  };
}
