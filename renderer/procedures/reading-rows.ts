import { type Flag, flagTexts } from '../../core/flag.ts';
import type { Reading } from '../../core/gate/reading.ts';
import type { CaptureLookup } from '../../core/report/document.ts';
import type { ReadingColumn, ReadingColumnId } from '../../core/report/readings-table.ts';

/** By what the rows are put in order; `null`: as they were read. */
export interface RowOrder {
  readonly column: ReadingColumnId;
  readonly falling: boolean;
}

/** Which rows are wanted. */
export interface RowFilter {
  readonly words: string;
  /** `any`: with a doubt of any kind; `none`: without one; a flag: with that one; `null`: all. */
  readonly doubt: Flag | 'any' | 'none' | null;
}

export const allRows: RowFilter = { words: '', doubt: null };

/** The rows that are wanted, in the order wanted. Equal rows keep the order in which they were read, and what is unknown goes last both ways. */
export function rowsShown(
  readings: readonly Reading[],
  columns: readonly ReadingColumn[],
  captures: CaptureLookup,
  order: RowOrder | null,
  filter: RowFilter,
): readonly Reading[] {
  const wanted = readings.filter((reading) => isWanted(reading, filter));
  const column = order === null ? undefined : columns.find(({ id }) => id === order.column);
  if (order === null || column === undefined) return wanted;
  const keyed = wanted.map((reading) => ({ reading, key: column.order(reading, captures.get(reading.captureId)) }));
  const sign = order.falling ? -1 : 1;
  return keyed
    .sort((a, b) => {
      if (a.key === null || b.key === null) return Number(a.key === null) - Number(b.key === null);
      return sign * compare(a.key, b.key);
    })
    .map(({ reading }) => reading);
}

const natural = new Intl.Collator('en', { numeric: true });

function compare(a: number | string, b: number | string): number {
  return typeof a === 'number' && typeof b === 'number' ? a - b : natural.compare(String(a), String(b));
}

function isWanted({ captureId, gate, flags }: Reading, { words, doubt }: RowFilter): boolean {
  if (doubt === 'any' && flags.length === 0) return false;
  if (doubt === 'none' && flags.length > 0) return false;
  if (doubt !== null && doubt !== 'any' && doubt !== 'none' && !flags.includes(doubt)) return false;
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  if (wanted.length === 0) return true;
  const text = `${captureId} ${gate} ${flags.map(flagName).join(' ')}`.toLowerCase();
  return wanted.every((word) => text.includes(word));
}

/** A flag in a few words: its own name, written as words. */
export function flagName(flag: Flag): string {
  return flag.replaceAll('-', ' ');
}

/** At which figure of a row a flag is shown. */
export const flagPlace: Readonly<Partial<Record<Flag, ReadingColumnId>>> = {
  'off-peak': 'below-peak',
  saturated: 'amplitude',
  'no-echo': 'amplitude',
  'low-signal-to-noise': 'amplitude',
  walking: 'sound-path',
  'ambiguous-echo': 'time',
  'cut-by-gate': 'amplitude',
  'in-dead-zone': 'time',
  'cut-by-band': 'amplitude',
  'half-wave': 'amplitude',
  'outside-record': 'gate',
  'outside-curve': 'sound-path',
  'no-gain': 'gain',
  'distance-implausible': 'sound-path',
  'in-near-field': 'sound-path',
  'attenuation-implausible': 'amplitude',
};

/** How many rows have each flag, most first. */
export function flagCounts(readings: readonly Reading[]): readonly { readonly flag: Flag; readonly count: number }[] {
  const counts = new Map<Flag, number>();
  for (const { flags } of readings) for (const flag of flags) counts.set(flag, (counts.get(flag) ?? 0) + 1);
  return [...counts].map(([flag, count]) => ({ flag, count })).sort((a, b) => b.count - a.count);
}

export function flagSentence(flag: Flag): string {
  return `${flagTexts[flag].sentence} ${flagTexts[flag].advice}`;
}

/** The next order when a column's head is chosen: rising, falling, as read. */
export function nextOrder(order: RowOrder | null, column: ReadingColumnId): RowOrder | null {
  if (order?.column !== column) return { column, falling: false };
  return order.falling ? null : { column, falling: true };
}

export interface Cell {
  readonly row: number;
  readonly column: number;
}

/** Where the focus goes inside the table on a key; `null` where the key moves nothing. Row -1 is the head. */
export function cellAfter(
  key: string,
  { row, column }: Cell,
  size: { readonly rows: number; readonly columns: number; readonly page: number },
  isControl: boolean,
): Cell | null {
  const to = (r: number, c: number): Cell => ({
    row: Math.max(-1, Math.min(size.rows - 1, r)),
    column: Math.max(0, Math.min(size.columns - 1, c)),
  });
  switch (key) {
    case 'ArrowUp':
      return to(row - 1, column);
    case 'ArrowDown':
      return to(row + 1, column);
    case 'ArrowLeft':
      return to(row, column - 1);
    case 'ArrowRight':
      return to(row, column + 1);
    case 'PageUp':
      return to(Math.max(0, row - size.page), column);
    case 'PageDown':
      return to(row + size.page, column);
    case 'Home':
      return isControl ? to(0, column) : to(row, 0);
    case 'End':
      return isControl ? to(size.rows - 1, column) : to(row, size.columns - 1);
    default:
      return null;
  }
}

/**
 * What tells captures apart in a narrow column: their names without what all begin with (a folder, a file) and without a trace that all are called.
 * `plate-weld/first-leg.csv#capture_01` among its like is `capture_01`; one capture alone keeps its name whole.
 */
export function shortNames(ids: readonly string[]): ReadonlyMap<string, string> {
  const distinct = [...new Set(ids)];
  if (distinct.length < 2) return new Map(distinct.map((id) => [id, id]));
  const [first = ''] = distinct;
  let common = first.length;
  for (const id of distinct) while (!id.startsWith(first.slice(0, common))) common -= 1;
  const from = Math.max(first.lastIndexOf('/', common - 1), first.lastIndexOf('#', common - 1)) + 1;
  const trace = first.slice(first.indexOf('#'));
  const isShared =
    trace.length > 1 && trace.length < first.length && distinct.every((id) => id.slice(id.indexOf('#')) === trace);
  return new Map(distinct.map((id) => [id, id.slice(from, isShared ? id.length - trace.length : id.length)]));
}
