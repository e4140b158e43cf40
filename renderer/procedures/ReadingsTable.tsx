import { useVirtualizer } from '@tanstack/react-virtual';
import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { Flag } from '../../core/flag.ts';
import type { Reading } from '../../core/gate/reading.ts';
import { bareFigure, type Figure as FigureOf, uncertaintyOf } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { CaptureLookup } from '../../core/report/document.ts';
import { isLowerBound, type ReadingColumn, readingColumns, readingsText } from '../../core/report/readings-table.ts';
import type { TextTable } from '../../core/report/table-text.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { Field } from '../parts/Field.tsx';
import { Figure } from '../parts/Figure.tsx';
import { Icon } from '../parts/Icon.tsx';
import styles from './ReadingsTable.module.css';
import {
  type Cell,
  cellAfter,
  flagCounts,
  flagName,
  flagPlace,
  flagSentence,
  nextOrder,
  type RowFilter,
  type RowOrder,
  rowsShown,
  shortNames,
} from './reading-rows.ts';

export interface ReadingsTableProps {
  readonly readings: readonly Reading[];
  readonly captures: CaptureLookup;
  readonly style: FigureStyle;
  readonly order: RowOrder | null;
  readonly onOrder: (order: RowOrder | null) => void;
  readonly filter: RowFilter;
  readonly onFilter: (filter: RowFilter) => void;
  readonly selected: CaptureId | null;
  readonly onSelect: (captureId: CaptureId, gate: string) => void;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  /** The rows as they stand, as text for the clipboard; resolves to whether it took them. */
  readonly onCopy: (table: TextTable) => Promise<boolean>;
  readonly onSave: (table: TextTable) => void;
}

const rowPx = 30;
const widths: Readonly<Partial<Record<ReadingColumn['id'], string>>> = {
  capture: '7.5rem',
  position: '4.75rem',
  // `2.36203 ± 0.00045`: with as many digits as a good calibration in inches has.
  'sound-path': '9.25rem',
  depth: '9.25rem',
  'surface-distance': '9.25rem',
  taken: '11rem',
  gate: '5rem',
  leg: '3.25rem',
  'below-peak': '4.75rem',
  amplitude: '5.75rem',
  flags: '9rem',
};

/** Readings as a table: each figure can be asked, each doubt stands at the figure it concerns and in words at the row's end. */
export function ReadingsTable(props: ReadingsTableProps) {
  const { readings, captures, style, order, filter, onOrder, onFilter } = props;
  const columns = useMemo(() => readingColumns(readings, captures, style), [readings, captures, style]);
  const rows = useMemo(
    () => rowsShown(readings, columns, captures, order, filter),
    [readings, columns, captures, order, filter],
  );
  // One gate for all rows is no news; the text for a spreadsheet has it all the same.
  const isOneGate = new Set(readings.map(({ gate }) => gate)).size === 1;
  const inSight = useMemo(
    () => doubtsBeside(columns.filter(({ id }) => id !== 'gate' || !isOneGate)),
    [columns, isOneGate],
  );
  return (
    <div className={styles.frame}>
      <div className={styles.tools}>
        <Field
          label="Filter readings"
          hideLabel
          placeholder="Filter by capture, gate, doubt"
          value={filter.words}
          onChange={(words) => onFilter({ ...filter, words })}
        />
        <DoubtChoice {...props} />
        <CopyAndSave {...props} rows={rows} columns={columns} />
      </div>
      <Grid {...props} columns={inSight} rows={rows} onHead={(column) => onOrder(nextOrder(order, column.id))} />
      <p className={styles.count} role="status">
        {rows.length === readings.length ? `${rows.length} readings` : `${rows.length} of ${readings.length} readings`}
      </p>
    </div>
  );
}

/** Doubts in words stand beside the heights, not at the far end where nobody scrolls. */
function doubtsBeside(columns: readonly ReadingColumn[]): readonly ReadingColumn[] {
  const doubts = columns.filter(({ id }) => id === 'flags');
  const others = columns.filter(({ id }) => id !== 'flags');
  const after = Math.max(...['amplitude', 'below-peak'].map((id) => others.findIndex((column) => column.id === id)));
  return [...others.slice(0, after + 1), ...doubts, ...others.slice(after + 1)];
}

function DoubtChoice({ readings, filter, onFilter }: ReadingsTableProps) {
  const doubtful = readings.filter((reading) => reading.flags.length > 0).length;
  const options = [
    { id: 'all', label: 'All readings' },
    { id: 'any', label: `With a doubt (${doubtful})` },
    { id: 'none', label: `Without a doubt (${readings.length - doubtful})` },
    ...flagCounts(readings).map(({ flag, count }) => ({ id: flag as string, label: `${flagName(flag)} (${count})` })),
  ];
  return (
    <Choice
      label="Doubts"
      hideLabel
      options={options}
      chosen={filter.doubt ?? 'all'}
      onChoose={(id) => onFilter({ ...filter, doubt: id === 'all' ? null : (id as Flag | 'any' | 'none') })}
    />
  );
}

interface Shown {
  readonly rows: readonly Reading[];
  readonly columns: readonly ReadingColumn[];
}

function CopyAndSave({ rows, columns, captures, style, onCopy, onSave }: ReadingsTableProps & Shown) {
  const [copied, setCopied] = useState<string | null>(null);
  useEffect(() => {
    if (copied === null) return;
    const timer = setTimeout(() => setCopied(null), 4000);
    return () => clearTimeout(timer);
  }, [copied]);
  const table = () => readingsText(rows, columns, captures, style);
  return (
    <>
      <Button
        isDisabled={rows.length === 0}
        onPress={() =>
          void onCopy(table()).then((done) =>
            setCopied(done ? `Copied ${rows.length} rows` : 'The clipboard refused it'),
          )
        }
      >
        <Icon name="copy" />
        <span aria-live="polite">{copied ?? 'Copy'}</span>
      </Button>
      <Button isDisabled={rows.length === 0} onPress={() => onSave(table())}>
        <Icon name="save" />
        Save as CSV
      </Button>
    </>
  );
}

function Grid({
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
}: ReadingsTableProps & Shown & { readonly onHead: (column: ReadingColumn) => void }) {
  const scroller = useRef<HTMLDivElement>(null);
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
  const template = columns.map(({ id }) => widths[id] ?? '5.5rem').join(' ');
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
                  <CellContent
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

function CellContent({
  reading,
  column,
  captures,
  names,
  style,
  asked,
  onAsk,
  tabIndex,
}: {
  readonly reading: Reading;
  readonly column: ReadingColumn;
  readonly captures: CaptureLookup;
  readonly names: ReadonlyMap<string, string>;
  readonly style: FigureStyle;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly tabIndex: number;
}) {
  const capture = captures.get(reading.captureId);
  if (column.id === 'flags') return <Flags flags={reading.flags} />;
  if (column.unit === null) {
    const words = String(column.order(reading, capture) ?? '');
    // The end of a long name tells it from its neighbours: the beginning gives way.
    return (
      <span className={styles.name} title={words}>
        <bdi>{column.id === 'capture' ? (names.get(words) ?? words) : words}</bdi>
      </span>
    );
  }
  const figure = column.figure(reading, capture);
  const doubts = reading.flags.filter((flag) => flagPlace[flag] === column.id);
  const mark =
    doubts.length === 0 ? null : (
      <span
        className={styles.mark}
        role="img"
        aria-label={doubts.map(flagName).join(', ')}
        title={doubts.map(flagSentence).join('\n')}
      >
        <Icon name="doubt" />
      </span>
    );
  // Where a doubt is all there is, it stands in the figure's place.
  const text =
    figure === null && doubts.length > 0 ? doubts.map(flagName).join(', ') : cellText(reading, column, figure, style);
  if (column.asked === null) {
    return (
      <>
        {mark}
        {text}
      </>
    );
  }
  const own: FigureAsked = { kind: 'reading', captureId: reading.captureId, gate: reading.gate, figure: column.asked };
  const isAsked =
    asked?.kind === 'reading' &&
    asked.captureId === own.captureId &&
    asked.gate === own.gate &&
    asked.figure === own.figure;
  return (
    <>
      {mark}
      <Figure
        name={`${column.name}, ${column.unit}`}
        text={text}
        asked={own}
        onAsk={onAsk}
        isAsked={isAsked}
        tabIndex={tabIndex}
      />
    </>
  );
}

function cellText(reading: Reading, column: ReadingColumn, figure: FigureOf | null, style: FigureStyle): string {
  const u = figure === null ? null : uncertaintyOf(figure);
  const bare = bareFigure(figure, style);
  if (column.id === 'amplitude' && figure !== null && isLowerBound(reading)) return `≥ ${bare}`;
  return u === null ? bare : `${bare} ± ${bareFigure(u, style)}`;
}

function Flags({ flags }: { readonly flags: readonly Flag[] }) {
  if (flags.length === 0) return null;
  return (
    <span className={styles.flags} title={flags.map(flagSentence).join('\n')}>
      {flags.map(flagName).join(', ')}
    </span>
  );
}
