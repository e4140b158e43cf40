import { useMemo } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { Reading } from '../../core/gate/reading.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { CaptureLookup } from '../../core/report/document.ts';
import { type ReadingColumn, readingColumns } from '../../core/report/readings-table.ts';
import type { TextTable } from '../../core/report/table-text.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { ReadingsGrid } from './ReadingsGrid.tsx';
import styles from './ReadingsTable.module.css';
import { ReadingsTools } from './ReadingsTools.tsx';
import { nextOrder, type RowFilter, type RowOrder, rowsShown } from './reading-rows.ts';

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

/** Readings as a table: each figure can be asked, each doubt stands at the figure it concerns and in words at the row's end. */
export function ReadingsTable(props: ReadingsTableProps) {
  const { readings, captures, style, order, filter, onOrder } = props;
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
      <ReadingsTools {...props} rows={rows} columns={columns} />
      <ReadingsGrid
        {...props}
        columns={inSight}
        rows={rows}
        onHead={(column) => onOrder(nextOrder(order, column.id))}
      />
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
