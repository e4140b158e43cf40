import type { FigureColumn } from '../../core/report/figure-table.ts';

/** By what the rows are put in order; `null`: as they were found. */
export interface Order {
  readonly column: string;
  readonly falling: boolean;
}

/** The next order when a column's head is chosen: rising, falling, as found. */
export function nextOrder(order: Order | null, column: string): Order | null {
  if (order?.column !== column) return { column, falling: false };
  return order.falling ? null : { column, falling: true };
}

const natural = new Intl.Collator('en', { numeric: true });

/** The rows in the order wanted. Equal rows keep the order in which they were found, and what is unknown goes last both ways. */
export function ordered<Row>(
  rows: readonly Row[],
  columns: readonly FigureColumn<Row>[],
  order: Order | null,
): readonly Row[] {
  const column = order === null ? undefined : columns.find(({ id }) => id === order.column);
  if (order === null || column === undefined) return rows;
  const sign = order.falling ? -1 : 1;
  return rows
    .map((row) => ({ row, key: column.order(row) }))
    .sort((a, b) => {
      if (a.key === null || b.key === null) return Number(a.key === null) - Number(b.key === null);
      return sign * compared(a.key, b.key);
    })
    .map(({ row }) => row);
}

function compared(a: number | string, b: number | string): number {
  return typeof a === 'number' && typeof b === 'number' ? a - b : natural.compare(String(a), String(b));
}

/** The rows in whose words all of these stand. */
export function withWords<Row>(
  rows: readonly Row[],
  columns: readonly FigureColumn<Row>[],
  words: string,
): readonly Row[] {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  if (wanted.length === 0) return rows;
  return rows.filter((row) => {
    const text = columns
      .map((column) => column.words(row) ?? '')
      .join(' ')
      .toLowerCase();
    return wanted.every((word) => text.includes(word));
  });
}
