import type { Flag } from '../../core/flag.ts';
import { type FigureColumn, wordsColumn } from '../../core/report/figure-table.ts';
import { flagName } from '../procedures/reading-rows.ts';

/** The columns with doubts in a word or two: there is no room in a row for whole sentences, which stand beside the one that is chosen. */
export function withShortDoubts<Row extends { readonly flags: readonly Flag[] }>(
  columns: readonly FigureColumn<Row>[],
): readonly FigureColumn<Row>[] {
  return columns.map((column) =>
    column.id === 'doubts'
      ? wordsColumn('doubts', column.name, ({ flags }: Row) =>
          flags.length === 0 ? null : flags.map(flagName).join(', '),
        )
      : column,
  );
}
