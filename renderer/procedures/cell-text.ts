import type { Reading } from '../../core/gate/reading.ts';
import { bareFigure, type Figure, uncertaintyOf } from '../../core/origin/figure.ts';
import { isLowerBound, type ReadingColumn } from '../../core/report/readings-table.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';

/** A figure of a reading as it stands in its cell, its unit in the column's head: `30.009 ± 0.042`, `≥ 132.7`. */
export function cellText(reading: Reading, column: ReadingColumn, figure: Figure | null, style: FigureStyle): string {
  const u = figure === null ? null : uncertaintyOf(figure);
  const bare = bareFigure(figure, style);
  if (column.id === 'amplitude' && figure !== null && isLowerBound(reading)) return `≥ ${bare}`;
  return u === null ? bare : `${bare} ± ${bareFigure(u, style)}`;
}
