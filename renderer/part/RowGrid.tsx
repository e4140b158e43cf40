import { useVirtualizer } from '@tanstack/react-virtual';
import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react';
import { bareFigure, uncertaintyOf } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { boundSign, type FigureColumn } from '../../core/report/figure-table.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { isSame } from '../audit/asked.ts';
import { Figure } from '../parts/Figure.tsx';
import styles from '../procedures/ReadingsTable.module.css';
import { type Cell, cellAfter } from '../procedures/reading-rows.ts';
import { useMoreBeside } from '../procedures/use-more-beside.ts';
import own from './Part.module.css';
import type { Order } from './rows.ts';

const rowPx = 30;
const headPx = 64;
/** For a bar that scrolls sideways. */
const sparePx = 18;
const letterRem = 0.475;
const paddingRem = 1;
/** Words have at most so much room; the whole stands in what the row is asked for. */
const mostWordsRem = 14;

interface RowGridProps<Row> {
  readonly label: string;
  readonly rows: readonly Row[];
  readonly columns: readonly FigureColumn<Row>[];
  readonly keyOf: (row: Row) => string;
  /** How a cell of words is written where there is little room; `null`: as it stands. */
  readonly short?: (column: string, words: string) => string;
  readonly order: Order | null;
  readonly onHead: (column: string) => void;
  readonly isSelected: (row: Row) => boolean;
  readonly onSelect: (row: Row) => void;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  /** What stands where there are no rows. */
  readonly nothing: string;
  readonly style: FigureStyle;
}

/** Rows of results, as far as they are seen, with the keys of a grid: arrows go from cell to cell, Space chooses a row. */
export function RowGrid<Row>(props: RowGridProps<Row>) {
  const { label, rows, columns, keyOf, order, onHead, isSelected, onSelect, nothing } = props;
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
  const template = useWidths(props);
  const at: Cell = { row: Math.min(focus.row, rows.length - 1), column: Math.min(focus.column, columns.length - 1) };
  const selectedAt = rows.findIndex(isSelected);

  // What was chosen elsewhere comes into sight.
  useEffect(() => {
    if (selectedAt >= 0) virtual.scrollToIndex(selectedAt, { align: 'auto' });
  }, [selectedAt, virtual]);

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
  return (
    // biome-ignore lint/a11y/useSemanticElements: rows are drawn only as far as they are seen, which a table element cannot have
    <div
      ref={scroller}
      role="grid"
      aria-label={label}
      aria-rowcount={rows.length + 1}
      aria-colcount={columns.length}
      tabIndex={-1}
      className={[styles.grid, own.asHighAsItsRows].join(' ')}
      style={{ height: `min(19rem, ${headPx + Math.max(1, rows.length) * rowPx + sparePx}px)` }}
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
            <button type="button" tabIndex={tab(-1, c)} onClick={() => onHead(column.id)}>
              <span>
                {column.name}
                {order?.column === column.id && <span aria-hidden="true">{order.falling ? ' ↓' : ' ↑'}</span>}
              </span>
              {column.unit ? <span className={styles.unit}>{column.unit}</span> : null}
            </button>
          </div>
        ))}
      </div>
      {rows.length === 0 && <p className={styles.nothing}>{nothing}</p>}
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
                  tabIndex={isAskable(column, row) ? undefined : tab(index, c)}
                  className={[styles.cell, column.unit === null ? '' : styles.number, c === 0 ? styles.first : ''].join(
                    ' ',
                  )}
                >
                  <RowCell {...props} row={row} column={column} tabIndex={tab(index, c)} />
                </div>
              ))}
            </div>
          );
        })}
      </div>
    </div>
  );
}

function isAskable<Row>(column: FigureColumn<Row>, row: Row): boolean {
  return column.unit !== null && column.figure(row) !== null && column.asked(row) !== null;
}

function textOf<Row>(column: FigureColumn<Row>, row: Row, style: FigureStyle): string {
  const figure = column.figure(row);
  if (figure === null) return column.words(row) ?? '–';
  const u = uncertaintyOf(figure);
  const value = `${boundSign(column.bound(row))}${bareFigure(figure, style)}`;
  return u === null ? value : `${value} ± ${bareFigure(u, style)}`;
}

function RowCell<Row>({
  row,
  column,
  short = (_, words) => words,
  asked,
  onAsk,
  tabIndex,
  style,
}: RowGridProps<Row> & {
  readonly row: Row;
  readonly column: FigureColumn<Row>;
  readonly tabIndex: number;
}) {
  if (column.unit === null) {
    const words = column.words(row);
    return words === null ? null : (
      <span className={own.cellWords} title={words}>
        {short(column.id, words)}
      </span>
    );
  }
  const text = textOf(column, row, style);
  const ask = column.figure(row) === null ? null : column.asked(row);
  if (ask === null) return text;
  const name = column.unit === '' ? column.name : `${column.name}, ${column.unit}`;
  return <Figure name={name} text={text} asked={ask} onAsk={onAsk} isAsked={isSame(ask, asked)} tabIndex={tabIndex} />;
}

/** No figure is ever cut off, for it would read as another one: each column is as wide as its longest; words give way. */
function useWidths<Row>({ rows, columns, short = (_, words) => words, style }: RowGridProps<Row>): string {
  return useMemo(
    () =>
      columns
        .map((column, c) => {
          // A name of several words takes two lines.
          const words = column.name.split(' ').map((word) => word.length);
          let longest = Math.max(...words, column.name.length / 2) + 2;
          for (const row of rows) {
            const text = column.unit === null ? short(column.id, column.words(row) ?? '') : textOf(column, row, style);
            longest = Math.max(longest, text.length);
          }
          const rem = Math.round(100 * (longest * letterRem + paddingRem)) / 100;
          if (column.unit !== null) return `${Math.max(4, rem)}rem`;
          return c === 0 ? `min(${rem}rem, max(8rem, 46cqi))` : `${Math.min(mostWordsRem, rem)}rem`;
        })
        .join(' '),
    [rows, columns, short, style],
  );
}
