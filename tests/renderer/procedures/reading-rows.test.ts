import { describe, expect, it } from 'vitest';
import { flagTexts } from '../../../core/flag.ts';
import { readingColumns } from '../../../core/report/readings-table.ts';
import {
  allRows,
  cellAfter,
  flagCounts,
  nextOrder,
  type RowFilter,
  type RowOrder,
  rowsShown,
  shortNames,
} from '../../../renderer/procedures/reading-rows.ts';
import { reading } from '../../build/series.ts';

const path = (value: number) => ({ value, standardUncertainty: 0.1 });
const rows = [
  reading({ captureId: 'weld/a-10.csv#x', gate: 'root', soundPathMm: path(30), flags: [] }),
  reading({ captureId: 'weld/a-9.csv#x', gate: 'root', soundPathMm: null, flags: ['no-echo'] }),
  reading({ captureId: 'weld/a-1.csv#x', gate: 'cap', soundPathMm: path(28), flags: ['off-peak', 'walking'] }),
  reading({ captureId: 'weld/b.csv#x', gate: 'cap', soundPathMm: path(30), flags: ['off-peak'] }),
];
const captures = new Map();
const columns = readingColumns(rows, captures, { units: 'metric', decimalMark: '.' });
const shown = (order: RowOrder | null, filter: RowFilter = allRows) =>
  rowsShown(rows, columns, captures, order, filter).map(({ captureId }) => captureId.slice(5, -6));

describe('the order of the rows', () => {
  it.each<[string, RowOrder | null, string[]]>([
    ['as they were read', null, ['a-10', 'a-9', 'a-1', 'b']],
    [
      'rising, equal ones as read, what is unknown last',
      { column: 'sound-path', falling: false },
      ['a-1', 'a-10', 'b', 'a-9'],
    ],
    [
      'falling, what is unknown last all the same',
      { column: 'sound-path', falling: true },
      ['a-10', 'b', 'a-1', 'a-9'],
    ],
    ['names by their numbers: 9 before 10', { column: 'capture', falling: false }, ['a-1', 'a-9', 'a-10', 'b']],
    ['by a column that is not there: as read', { column: 'depth', falling: false }, ['a-10', 'a-9', 'a-1', 'b']],
  ])('%s', (_, order, expected) => {
    expect(shown(order)).toEqual(expected);
  });

  it('a head chosen again: rising, falling, as read', () => {
    const rising = nextOrder(null, 'depth');
    const falling = nextOrder(rising, 'depth');
    expect([rising?.falling, falling?.falling, nextOrder(falling, 'depth')]).toEqual([false, true, null]);
    expect(nextOrder(falling, 'time')).toEqual({ column: 'time', falling: false });
  });
});

describe('which rows are wanted', () => {
  it.each<[string, RowFilter, string[]]>([
    ['all', allRows, ['a-10', 'a-9', 'a-1', 'b']],
    ['with any doubt', { words: '', doubt: 'any' }, ['a-9', 'a-1', 'b']],
    ['without a doubt', { words: '', doubt: 'none' }, ['a-10']],
    ['with one doubt', { words: '', doubt: 'walking' }, ['a-1']],
    ['by gate and name, in any case', { words: 'CAP b.csv', doubt: null }, ['b']],
    ['by a doubt in words', { words: 'off peak', doubt: null }, ['a-1', 'b']],
    ['nothing has these words', { words: 'root walking', doubt: null }, []],
  ])('%s', (_, filter, expected) => {
    expect(shown(null, filter)).toEqual(expected);
  });

  it('counts of doubts, most first', () => {
    expect(flagCounts(rows)).toEqual([
      { flag: 'off-peak', count: 2 },
      { flag: 'no-echo', count: 1 },
      { flag: 'walking', count: 1 },
    ]);
    expect(flagCounts([])).toEqual([]);
  });
});

describe('names in a narrow column', () => {
  it.each([
    ['none', [], []],
    ['one alone keeps its name', ['weld/a.csv#x'], ['weld/a.csv#x']],
    ['traces of one file', ['weld/a.csv#one', 'weld/a.csv#two'], ['one', 'two']],
    ['files of one folder with one trace', ['weld/a.csv#x', 'weld/b.csv#x'], ['a.csv', 'b.csv']],
    ['of several folders', ['weld/a.csv#x', 'plate/a.csv#x'], ['weld/a.csv', 'plate/a.csv']],
    [
      'names that begin alike are not cut inside a word',
      ['w/position-1.csv#x', 'w/position-2.csv#y'],
      ['position-1.csv#x', 'position-2.csv#y'],
    ],
  ])('%s', (_, ids, expected) => {
    expect([...shortNames(ids).values()]).toEqual(expected);
  });
});

describe('the focus in the table', () => {
  const size = { rows: 100, columns: 5, page: 10 };
  it.each<[string, boolean, readonly [number, number], readonly [number, number] | null]>([
    ['ArrowDown', false, [-1, 2], [0, 2]],
    ['ArrowUp', false, [0, 2], [-1, 2]],
    ['ArrowUp', false, [-1, 2], [-1, 2]],
    ['ArrowRight', false, [3, 4], [3, 4]],
    ['ArrowLeft', false, [3, 0], [3, 0]],
    ['PageDown', false, [95, 1], [99, 1]],
    ['PageUp', false, [4, 1], [0, 1]],
    ['Home', false, [7, 3], [7, 0]],
    ['End', false, [7, 3], [7, 4]],
    ['Home', true, [7, 3], [0, 3]],
    ['End', true, [7, 3], [99, 3]],
    ['x', false, [7, 3], null],
  ])('%s (control: %s) from %o', (key, isControl, [row, column], expected) => {
    expect(cellAfter(key, { row, column }, size, isControl)).toEqual(
      expected === null ? null : { row: expected[0], column: expected[1] },
    );
  });
  it('an empty table has its head alone', () => {
    expect(cellAfter('ArrowDown', { row: -1, column: 0 }, { ...size, rows: 0 }, false)).toEqual({ row: -1, column: 0 });
  });
});

describe('doubts at the figures', () => {
  it('every doubt that a reading can have is one of the closed list', () => {
    for (const { flags } of rows) for (const flag of flags) expect(flagTexts[flag].advice).not.toBe('');
  });
});
