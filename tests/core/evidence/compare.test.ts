import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareDocuments, compareLines, compareTables, readCsv } from '../../../core/evidence/compare.ts';
import { cellText, csvText } from '../../../core/report/table-text.ts';

describe('a table against the same worked out anew', () => {
  const anew = 'file,depth_mm\r\n"a,b.csv",15.2\r\nc.csv,7\r\n';
  it.each([
    ['the same', anew, []],
    ['one figure', anew.replace('15.2', '15.3'), [{ row: 2, figure: 'depth_mm', packed: '15.3', anew: '15.2' }]],
    [
      'a figure of other digits',
      anew.replace('15.2', '15.20'),
      [{ row: 2, figure: 'depth_mm', packed: '15.20', anew: '15.2' }],
    ],
    ['a row gone', anew.replace('c.csv,7\r\n', ''), [{ row: 3, figure: null, packed: null, anew: 'c.csv,7' }]],
    ['a row more', `${anew}d,8\r\n`, [{ row: 4, figure: null, packed: 'd,8', anew: null }]],
    ['a column more', anew.replace('7\r\n', '7,9\r\n'), [{ row: 3, figure: 'column 3', packed: '9', anew: null }]],
    [
      'other line ends alone',
      anew.replaceAll('\r\n', '\n'),
      [{ row: 1, figure: null, packed: 'file,depth_mm', anew: 'file,depth_mm\r' }],
    ],
  ])('%s', (_name, packed, differences) => {
    expect(compareTables('t.csv', packed, anew)).toEqual(differences.map((one) => ({ file: 't.csv', ...one })));
  });

  it('lists no more than fifty', () => {
    const many = (value: number) => `x\r\n${`${value}\r\n`.repeat(200)}`;
    expect(compareTables('t.csv', many(1), many(2))).toHaveLength(50);
  });

  it('reads what is written, whatever the words', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.string(), fc.string()), { minLength: 1 }), (rows) => {
        const text = csvText({ head: ['a', 'b'], rows: rows.map((row) => row.map((words) => ({ words }))) }, '.');
        expect(readCsv(text)).toEqual([['a', 'b'], ...rows.map((row) => row.map((words) => cellText({ words })))]);
      }),
    );
  });
});

describe('a document against the same worked out anew', () => {
  const anew = JSON.stringify({ drift: { checks: [{ verdict: 'fail', error_mm: 5.54 }] }, title: 'x' });
  it.each([
    ['the same', anew, []],
    [
      'a figure, by its place',
      anew.replace('5.54', '4.54'),
      [{ row: null, figure: 'drift.checks[0].error_mm', packed: '4.54', anew: '5.54' }],
    ],
    [
      'a verdict',
      anew.replace('fail', 'pass'),
      [{ row: null, figure: 'drift.checks[0].verdict', packed: '"pass"', anew: '"fail"' }],
    ],
    ['a part gone', anew.replace(',"title":"x"', ''), [{ row: null, figure: 'title', packed: null, anew: '"x"' }]],
    ['a part more', anew.replace('"x"', '"x","y":1'), [{ row: null, figure: 'y', packed: '1', anew: null }]],
    [
      'a list in place of a figure',
      anew.replace('5.54', '[5.54]'),
      [{ row: null, figure: 'drift.checks[0].error_mm', packed: '[5.54]', anew: '5.54' }],
    ],
    [
      'blanks alone',
      anew.replace(',"title"', ', "title"'),
      [{ row: 1, figure: null, packed: anew.replace(',"title"', ', "title"'), anew }],
    ],
    ['not JSON', '{', [{ row: 1, figure: null, packed: '{', anew }]],
  ])('%s', (_name, packed, differences) => {
    expect(compareDocuments('r.json', packed, anew)).toEqual(differences.map((one) => ({ file: 'r.json', ...one })));
  });
});

it('two texts: the first line in which they differ', () => {
  expect(compareLines('r.html', 'a\nb\nc', 'a\nx\nc')).toEqual([
    { file: 'r.html', row: 2, figure: null, packed: 'b', anew: 'x' },
  ]);
  expect(compareLines('r.html', 'a', 'a\nb')).toEqual([
    { file: 'r.html', row: 2, figure: null, packed: null, anew: 'b' },
  ]);
});
