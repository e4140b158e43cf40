import { type Problem, problem } from '../outcome.ts';
import type { BodyFormat } from './body-format.ts';
import type { DecimalMark } from './import-recipe.ts';
import { mayBeGrouped } from './number.ts';
import { shown } from './row-problems.ts';
import { type Line, splitLines } from './table.ts';

/**
 * A mark that was only seen where it may separate thousands: `1,234` is 1.234 or 1234. It is sought in the rows until one number shows
 * which, as `0,5` does; a file in which none does must be asked about.
 */
export class MarkDoubt {
  private readonly format: BodyFormat;
  private first: { readonly line: number; readonly field: number; readonly cell: string } | null = null;

  constructor(format: BodyFormat) {
    this.format = format;
  }

  isSettledBy(lines: readonly Line[], mark: DecimalMark | null): boolean {
    const { delimiter, roles } = this.format;
    if (mark === null) return false;
    const rows = splitLines(lines, delimiter);
    for (let i = 0; i < lines.length; i++) {
      if (/^\s*[#%/!]/.test(lines[i].text)) continue;
      for (const [field, cell] of (rows[i] ?? []).entries()) {
        if (roles[field] !== 'number' || !cell.includes(mark)) continue;
        if (!mayBeGrouped(cell)) return true;
        this.first ??= { line: lines[i].number, field, cell };
      }
    }
    return false;
  }

  problem(file: string, mark: DecimalMark | null): Problem | null {
    const { first } = this;
    if (first === null || mark === null) return null;
    const { line, field, cell } = first;
    const name = this.format.names[field];
    const text = shown(cell);
    return problem(
      'ambiguous-thousands',
      { file, line },
      `‘${text}’ in ${name ? `‘${shown(name)}’` : `column ${field + 1}`} may be ${text.replace(mark, '')} or ${text.replace(mark, '.')}: no number of this file shows whether its mark separates thousands or decimals. State the decimal mark (--decimal-mark ${mark === ',' ? 'comma, or point' : 'point, or comma'} where it separates thousands).`,
    );
  }
}
