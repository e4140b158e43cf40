import { useMemo } from 'react';
import type { Reading } from '../../core/gate/reading.ts';
import type { ReadingColumn } from '../../core/report/readings-table.ts';
import { columnWidths } from './column-widths.ts';
import { ReadingCell } from './ReadingCell.tsx';
import type { ReadingsTableProps } from './ReadingsTable.tsx';
import { ResultGrid } from './ResultGrid.tsx';
import { shortNames } from './reading-rows.ts';

/** The readings in rows; Space or a click chooses a reading's capture. */
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
  const names = useMemo(() => shortNames(readings.map(({ captureId }) => captureId)), [readings]);
  const template = useMemo(
    () => columnWidths(columns, readings, captures, style, names.values()),
    [columns, readings, captures, style, names],
  );
  return (
    <ResultGrid
      label="Readings"
      rows={rows}
      columns={columns}
      template={template}
      keyOf={({ captureId, gate }) => `${captureId} ${gate}`}
      order={order}
      onHead={onHead}
      isSelected={({ captureId }) => captureId === selected}
      onSelect={({ captureId, gate }) => onSelect(captureId, gate)}
      hasOwnStop={(_, column) => column.asked !== null}
      cell={(reading, column, tabIndex) => (
        <ReadingCell {...{ reading, column, captures, names, style, asked, onAsk, tabIndex }} />
      )}
      nothing={readings.length === 0 ? 'Nothing has been read yet.' : 'No reading has these words and doubts.'}
    />
  );
}
