import type { Reading } from '../../core/gate/reading.ts';
import type { CaptureLookup } from '../../core/report/document.ts';
import type { ReadingColumn } from '../../core/report/readings-table.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { cellText } from './cell-text.ts';
import { flagPlace } from './reading-rows.ts';

/** A figure's letter is not wider than this, in rem at the table's size of letters. */
const letterRem = 0.475;
const paddingRem = 1;
const markRem = 1.25;

const leastRem: Readonly<Partial<Record<ReadingColumn['id'], number>>> = {
  position: 4.25,
  taken: 11,
  gate: 5,
  leg: 3.25,
  'below-peak': 4.75,
  amplitude: 5.75,
  flags: 9,
};

/**
 * The widths of the table's columns, as CSS has them. No figure is ever cut off, for it would read as another one: each column is as wide as its longest.
 * Names of captures may be cut off where there is little room; they have what the table can spare.
 */
export function columnWidths(
  columns: readonly ReadingColumn[],
  readings: readonly Reading[],
  captures: CaptureLookup,
  style: FigureStyle,
  names: Iterable<string>,
): string {
  return columns
    .map((column) => {
      if (column.id === 'capture')
        return `min(${Math.max(5, widthOf(longestOf(names), false))}rem, max(7.25rem, 22cqi))`;
      const least = leastRem[column.id] ?? 5.5;
      if (column.unit === null) return `${least}rem`;
      const texts = readings.map((reading) => {
        const figure = column.figure(reading, captures.get(reading.captureId));
        return figure === null ? '' : cellText(reading, column, figure, style);
      });
      const isMarked = readings.some(({ flags }) => flags.some((flag) => flagPlace[flag] === column.id));
      return `${Math.max(least, widthOf(longestOf(texts), isMarked))}rem`;
    })
    .join(' ');
}

function longestOf(texts: Iterable<string>): number {
  let longest = 0;
  for (const text of texts) longest = Math.max(longest, text.length);
  return longest;
}

function widthOf(letters: number, isMarked: boolean): number {
  return Math.round(100 * (letters * letterRem + paddingRem + (isMarked ? markRem : 0))) / 100;
}
