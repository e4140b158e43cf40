import { useVirtualizer } from '@tanstack/react-virtual';
import { type CSSProperties, type KeyboardEvent, type ReactNode, useEffect, useRef, useState } from 'react';
import styles from './ReadingsTable.module.css';
import { type Cell, cellAfter } from './reading-rows.ts';
import { useMoreBeside } from './use-more-beside.ts';

/** Of each row, in CSS pixels. */
export const rowPx = 30;

interface Column {
  readonly id: string;
  readonly name: string;
  /** `null`: words, `''`: a number without a unit. */
  readonly unit: string | null;
}

interface ResultGridProps<Row, Of extends Column> {
  readonly label: string;
  readonly rows: readonly Row[];
  readonly columns: readonly Of[];
  /** Widths of the columns, as a grid's template has them. */
  readonly template: string;
  readonly keyOf: (row: Row) => string;
  readonly order: { readonly column: string; readonly falling: boolean } | null;
  readonly onHead: (column: Of) => void;
  readonly isSelected: (row: Row) => boolean;
  readonly onSelect: (row: Row) => void;
  /** The row that comes into sight when it becomes another one; −1: none does. */
  readonly inSight?: number;
  /** Whether something within the cell takes the focus, and not the cell itself. */
  readonly hasOwnStop: (row: Row, column: Of) => boolean;
  readonly cell: (row: Row, column: Of, tabIndex: number) => ReactNode;
  /** What stands where there are no rows. */
  readonly nothing: string;
  readonly className?: string;
  readonly style?: CSSProperties;
}

/** Rows of results, as far as they are seen, with the keys of a grid: arrows go from cell to cell, Space chooses a row. */
export function ResultGrid<Row, Of extends Column>(props: ResultGridProps<Row, Of>) {
  const { label, rows, columns, template, keyOf, order, onHead, isSelected, onSelect, inSight = -1 } = props;
  const scroller = useRef<HTMLDivElement>(null);
  const isMoreBeside = useMoreBeside(scroller);
  const [focus, setFocus] = useState<Cell>({ row: -1, column: 0 });
  const wantsFocus = useRef(false);
  const virtual = useVirtualizer({
    count: rows.length,
    getScrollElement: () => scroller.current,
    estimateSize: () => rowPx,
    overscan: 12,
    initialRect: { width: 360, height: 360 },
  });
  const at: Cell = { row: Math.min(focus.row, rows.length - 1), column: Math.min(focus.column, columns.length - 1) };

  useEffect(() => {
    if (inSight >= 0) virtual.scrollToIndex(inSight, { align: 'auto' });
  }, [inSight, virtual]);

  useEffect(() => {
    if (!wantsFocus.current) return;
    const cell = scroller.current?.querySelector<HTMLElement>(`[data-cell="${at.row} ${at.column}"]`);
    if (cell === null || cell === undefined) return;
    wantsFocus.current = false;
    (cell.querySelector('button') ?? cell).focus();
    cell.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  });

  function move(event: KeyboardEvent): void {
    const page = Math.max(1, Math.floor((scroller.current?.clientHeight ?? rowPx) / rowPx) - 2);
    const size = { rows: rows.length, columns: columns.length, page };
    const next = cellAfter(event.key, at, size, event.ctrlKey || event.metaKey);
    const row = rows[at.row];
    if (next === null) {
      if (event.key !== ' ' || row === undefined) return;
      event.preventDefault();
      onSelect(row);
      return;
    }
    event.preventDefault();
    wantsFocus.current = true;
    if (next.row >= 0) virtual.scrollToIndex(next.row);
    setFocus(next);
  }

  const tab = (row: number, column: number) => (at.row === row && at.column === column ? 0 : -1);
  const classOf = (own: string | undefined, column: Of, c: number) =>
    [own, column.unit === null ? '' : styles.number, c === 0 ? styles.first : ''].join(' ');
  return (
    // biome-ignore lint/a11y/useSemanticElements: rows are drawn only as far as they are seen, which a table element cannot have
    <div
      ref={scroller}
      role="grid"
      aria-label={label}
      aria-rowcount={rows.length + 1}
      aria-colcount={columns.length}
      tabIndex={-1}
      className={[styles.grid, props.className ?? ''].join(' ')}
      style={props.style}
      data-more={isMoreBeside || undefined}
      onKeyDown={move}
      onFocus={(event) => {
        const place = (event.target as HTMLElement)
          .closest<HTMLElement>('[data-cell]')
          ?.dataset.cell?.split(' ')
          .map(Number);
        if (place === undefined) return;
        const [row = 0, column = 0] = place;
        if (row !== at.row || column !== at.column) setFocus({ row, column });
      }}
    >
      {/* biome-ignore lint/a11y/useSemanticElements: part of the grid */}
      {/* biome-ignore lint/a11y/useFocusableInteractive: its cells are */}
      <div role="row" aria-rowindex={1} className={styles.head} style={{ gridTemplateColumns: template }}>
        {columns.map((column, c) => (
          // biome-ignore lint/a11y/useSemanticElements: part of the grid
          // biome-ignore lint/a11y/useFocusableInteractive: the button inside is
          <div
            key={column.id}
            role="columnheader"
            aria-sort={order?.column !== column.id ? 'none' : order.falling ? 'descending' : 'ascending'}
            data-cell={`-1 ${c}`}
            className={classOf(styles.headCell, column, c)}
          >
            <button type="button" tabIndex={tab(-1, c)} onClick={() => onHead(column)}>
              <span>
                {column.name}
                {order?.column === column.id && <span aria-hidden="true">{order.falling ? ' ↓' : ' ↑'}</span>}
              </span>
              {column.unit ? <span className={styles.unit}>{column.unit}</span> : null}
            </button>
          </div>
        ))}
      </div>
      {rows.length === 0 && <p className={styles.nothing}>{props.nothing}</p>}
      {/* biome-ignore lint/a11y/useSemanticElements: part of the grid */}
      <div role="rowgroup" className={styles.body} style={{ height: virtual.getTotalSize() }}>
        {virtual.getVirtualItems().map(({ index, start, size }) => {
          const row = rows[index];
          if (row === undefined) return null;
          return (
            // biome-ignore lint/a11y/useSemanticElements: part of the grid
            // biome-ignore lint/a11y/useFocusableInteractive: its cells are
            // biome-ignore lint/a11y/useKeyWithClickEvents: the grid takes the keys
            <div
              key={keyOf(row)}
              role="row"
              aria-rowindex={index + 2}
              aria-selected={isSelected(row)}
              className={styles.row}
              style={{ gridTemplateColumns: template, height: size, transform: `translateY(${start}px)` }}
              onClick={() => onSelect(row)}
            >
              {columns.map((column, c) => (
                // biome-ignore lint/a11y/useSemanticElements: part of the grid
                <div
                  key={column.id}
                  role="gridcell"
                  aria-colindex={c + 1}
                  data-cell={`${index} ${c}`}
                  tabIndex={props.hasOwnStop(row, column) ? undefined : tab(index, c)}
                  className={classOf(styles.cell, column, c)}
                >
                  {props.cell(row, column, tab(index, c))}
                </div>
              ))}
            </div>
          );
        })}
      </div>
    </div>
  );
}
