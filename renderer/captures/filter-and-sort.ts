import { comparableSeconds } from '../../core/capture/order-in-time.ts';
import { flagWords } from '../trace/readout.ts';
import { type CaptureRow, stateWords } from './capture-row.ts';

export type SortBy = 'name' | 'time' | 'position';

/** The rows in which each of the words occurs: in the name, the probe, the block, the state or a flag. Case does not matter; no words, all rows. */
export function filteredRows(rows: readonly CaptureRow[], words: string): readonly CaptureRow[] {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  if (wanted.length === 0) return rows;
  return rows.filter((row) => {
    const text = searchable(row);
    return wanted.every((word) => text.includes(word));
  });
}

function searchable({ name, probe, block, state, problem, flags }: CaptureRow): string {
  const concern = state === 'ready' ? '' : `${stateWords[state]} ${problem?.sentence ?? ''}`;
  return [name, probe ?? '', block ?? '', concern, ...flags, ...flags.map(flagWords)].join(' ').toLowerCase();
}

/**
 * The rows in order of name (`position-2` before `position-10`), of the time taken, or of position; what has none comes last, equals stay in order of name.
 * The rows given are not altered.
 */
export function sortedRows(rows: readonly CaptureRow[], by: SortBy): readonly CaptureRow[] {
  const names = rows.map(({ name }) => nameKey(name));
  const values =
    by === 'time'
      ? comparableSeconds(rows.map(({ takenAt }) => takenAt))
      : rows.map(({ positionMm }) => (by === 'position' ? positionMm : null));
  const value = (i: number) => values[i] ?? Number.POSITIVE_INFINITY;
  return rows
    .map((_, i) => i)
    .sort((i, j) => order(value(i), value(j)) || order(names[i]!, names[j]!) || i - j)
    .map((i) => rows[i]!);
}

function order<T extends number | string>(a: T, b: T): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** A name in which whole numbers stand in order of their size. */
function nameKey(name: string): string {
  return name.toLowerCase().replace(/\d+/g, (digits) => digits.padStart(15, '0'));
}

/** The next row, from after `place` and round, whose name begins with what was typed; `place` itself may serve while more is typed of one name. */
export function rowBeginning(rows: readonly CaptureRow[], typed: string, place: number): number | null {
  const begin = typed.toLowerCase();
  const from = begin.length > 1 ? Math.max(0, place) : place + 1;
  for (let i = 0; i < rows.length; i++) {
    const at = (from + i) % rows.length;
    const { name } = rows[at]!;
    const lastPart = name.slice(name.lastIndexOf('/') + 1);
    if (name.toLowerCase().startsWith(begin) || lastPart.toLowerCase().startsWith(begin)) return at;
  }
  return null;
}
