import { useVirtualizer } from '@tanstack/react-virtual';
import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react';
import type { Reading } from '../../core/gate/reading.ts';
import type { ReadingColumn } from '../../core/report/readings-table.ts';
import { columnWidths } from './column-widths.ts';
import { ReadingCell } from './ReadingCell.tsx';
import styles from './ReadingsTable.module.css';
import type { ReadingsTableProps } from './ReadingsTable.tsx';
import { type Cell, cellAfter, shortNames } from './reading-rows.ts';
import { useMoreBeside } from './use-more-beside.ts';

const rowPx = 30;
/** The rows, as far as they are seen, with the keys of a grid: arrows go from cell to cell, Space chooses the row's capture. */
export function ReadingsGrid({
  rows,
  columns,
  readings,
  captures,
  style,
  order,
  selected,
  onSelect,
  asked,
  onAsk,
  onHead,
}: ReadingsTableProps & {
  readonly rows: readonly Reading[];
  readonly columns: readonly ReadingColumn[];
  readonly onHead: (column: ReadingColumn) => void;
}) {
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
  const names = useMemo(() => shortNames(readings.map(({ captureId }) => captureId)), [readings]);
  const template = useMemo(
    () => columnWidths(columns, readings, captures, style, names.values()),
    [columns, readings, captures, style, names],
  );
  const at: Cell = { row: Math.min(focus.row, rows.length - 1), column: Math.min(focus.column, columns.length - 1) };

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
    if (next === null) {
      const reading = rows[at.row];
      if (event.key === ' ' && reading !== undefined) {
        event.preventDefault();
        onSelect(reading.captureId, reading.gate);
      }
      return;
    }
    event.preventDefault();
    wantsFocus.current = true;
    if (next.row >= 0) virtual.scrollToIndex(next.row);
    setFocus(next);
  }

  const tab = (row: number, column: number) => (at.row === row && at.column === column ? 0 : -1);
  return (
    // biome-ignore lint/a11y/useSemanticElements: rows are drawn only as far as they are seen, which a table element cannot have
    <div
      ref={scroller}
      role="grid"
      aria-label="Readings"
      aria-rowcount={rows.length + 1}
      aria-colcount={columns.length}
      tabIndex={-1}
      className={styles.grid}
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
            className={[styles.headCell, column.unit === null ? '' : styles.number, c === 0 ? styles.first : ''].join(
              ' ',
            )}
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
      {rows.length === 0 && (
        <p className={styles.nothing}>
          {readings.length === 0 ? 'Nothing has been read yet.' : 'No reading has these words and doubts.'}
        </p>
      )}
      {/* biome-ignore lint/a11y/useSemanticElements: part of the grid */}
      <div role="rowgroup" className={styles.body} style={{ height: virtual.getTotalSize() }}>
        {virtual.getVirtualItems().map(({ index, start, size }) => {
          const reading = rows[index];
          if (reading === undefined) return null;
          return (
            // biome-ignore lint/a11y/useSemanticElements: part of the grid
            // biome-ignore lint/a11y/useFocusableInteractive: its cells are
            // biome-ignore lint/a11y/useKeyWithClickEvents: the grid takes the keys
            <div
              key={`${reading.captureId} ${reading.gate}`}
              role="row"
              aria-rowindex={index + 2}
              aria-selected={reading.captureId === selected}
              className={styles.row}
              style={{ gridTemplateColumns: template, height: size, transform: `translateY(${start}px)` }}
              onClick={() => onSelect(reading.captureId, reading.gate)}
            >
              {columns.map((column, c) => (
                // biome-ignore lint/a11y/useSemanticElements: part of the grid
                <div
                  key={column.id}
                  role="gridcell"
                  aria-colindex={c + 1}
                  data-cell={`${index} ${c}`}
                  tabIndex={column.asked === null ? tab(index, c) : undefined}
                  className={[styles.cell, column.unit === null ? '' : styles.number, c === 0 ? styles.first : ''].join(
                    ' ',
                  )}
                >
                  <ReadingCell
                    reading={reading}
                    column={column}
                    captures={captures}
                    names={names}
                    style={style}
                    asked={asked}
                    onAsk={onAsk}
                    tabIndex={tab(index, c)}
                  />
                </div>
              ))}
            </div>
          );
        })}
      </div>
    </div>
  );
}
