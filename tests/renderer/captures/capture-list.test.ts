import { describe, expect, it } from 'vitest';
import type { Evaluation } from '../../../core/evaluate.ts';
import { problem } from '../../../core/outcome.ts';
import { type CaptureRow, captureRows, concernWords, flagsByCapture } from '../../../renderer/captures/capture-row.ts';
import { filteredRows, rowBeginning, sortedRows } from '../../../renderer/captures/filter-and-sort.ts';
import type { OpenedSource } from '../../../renderer/state/workbench-state.ts';
import { reading } from '../../build/series.ts';

function row(name: string, given: Partial<CaptureRow> = {}): CaptureRow {
  return {
    id: name,
    kind: 'capture',
    file: name,
    name,
    positionMm: null,
    takenAt: null,
    gainDb: null,
    probe: null,
    block: null,
    state: 'ready',
    problem: null,
    moreProblems: 0,
    flags: [],
    ...given,
  };
}

function source(file: string, given: Partial<OpenedSource> = {}, traces: readonly string[] = []): OpenedSource {
  const captures = traces.map((trace) => ({
    id: `${file}#${trace}`,
    file,
    trace,
    positionMm: 4,
    takenAt: null,
    gainDb: 42,
    probe: 'straight probe',
    block: null,
  }));
  return {
    file,
    state: 'ready',
    captures,
    asks: [],
    warnings: [],
    problems: [],
    ...given,
  } as unknown as OpenedSource;
}

const names = (rows: readonly CaptureRow[]) => rows.map(({ name }) => name);

describe('captureRows', () => {
  it('no files, no rows', () => {
    expect(captureRows([], new Map())).toEqual([]);
  });

  it('a capture for each trace, named with the trace only where there are several, with its flags', () => {
    const rows = captureRows(
      [source('one.csv', {}, ['amplitude']), source('two.csv', {}, ['left', 'right'])],
      new Map([['two.csv#right', ['off-peak' as const]]]),
    );
    expect(names(rows)).toEqual(['one.csv', 'two.csv#left', 'two.csv#right']);
    expect(rows.map(({ id }) => id)).toEqual(['one.csv#amplitude', 'two.csv#left', 'two.csv#right']);
    expect(rows.map(({ flags }) => flags)).toEqual([[], [], ['off-peak']]);
    expect(rows[0]).toMatchObject({
      kind: 'capture',
      positionMm: 4,
      gainDb: 42,
      probe: 'straight probe',
      problem: null,
    });
  });

  it.each<[OpenedSource['state'], string | null]>([
    ['broken', 'cannot be read, line 23: a field is missing (and 1 more)'],
    ['asking', 'needs an answer, line 23: a field is missing (and 1 more)'],
    ['missing', 'file not found, line 23: a field is missing (and 1 more)'],
    ['changed', 'file has changed, line 23: a field is missing (and 1 more)'],
    ['ready', null],
  ])('a file without captures stands for itself, %s with its place', (state, words) => {
    const concern = problem('missing-field', { file: 'x.csv', line: 23, column: 2 }, 'a field is missing');
    const asks = [problem('unit', { file: 'x.csv' }, 'the unit is not stated')];
    const [only, ...others] = captureRows([source('x.csv', { state, problems: [concern], asks })], new Map());
    expect([only!.kind, only!.id, others]).toEqual(['file', 'x.csv', []]);
    expect(concernWords(only!)).toBe(words);
  });

  it('a state without a problem, and a problem without a line', () => {
    expect(concernWords(row('x.csv', { state: 'missing' }))).toBe('file not found');
    const asked = problem('unit', { file: 'x.csv' }, 'the unit is not stated');
    expect(concernWords(row('x.csv', { state: 'asking', problem: asked }))).toBe(
      'needs an answer: the unit is not stated',
    );
  });
});

describe('flagsByCapture', () => {
  it('nothing evaluated, no flags', () => {
    expect(flagsByCapture(null).size).toBe(0);
  });

  it('of all gates and of the drift check, each flag once', () => {
    const evaluation = {
      readings: {
        readings: [
          reading({ captureId: 'a', gate: 'root', flags: ['off-peak', 'walking'] }),
          reading({ captureId: 'a', gate: 'cap', flags: ['off-peak'] }),
          reading({ captureId: 'b' }),
        ],
      },
      drift: { checks: [{ captureId: 'a', flags: ['drift'] }] },
    } as unknown as Evaluation;
    expect([...flagsByCapture(evaluation)]).toEqual([['a', ['off-peak', 'walking', 'drift']]]);
  });
});

describe('filteredRows', () => {
  const rows = [
    row('Hole/position-1.csv', { flags: ['off-peak'], probe: 'straight probe 5' }),
    row('hole/position-2.csv', { flags: ['low-signal-to-noise'] }),
    row('gap.csv', {
      kind: 'file',
      state: 'broken',
      problem: problem('gap', { file: 'gap.csv' }, 'Eight are missing'),
    }),
  ];

  it.each<[string, string, string[]]>([
    ['no words', '   ', names(rows)],
    ['a part of the name, whatever its case', 'HOLE', ['Hole/position-1.csv', 'hole/position-2.csv']],
    ['two words that must both occur', 'hole 2', ['hole/position-2.csv']],
    ['a flag as it is written', 'off-peak', ['Hole/position-1.csv']],
    ['a flag in words', 'signal to noise', ['hole/position-2.csv']],
    ['the probe', 'straight', ['Hole/position-1.csv']],
    ['the state', 'cannot be read', ['gap.csv']],
    ['what is wrong', 'eight', ['gap.csv']],
    ['nothing of the kind', 'zebra', []],
    ['a word that would be a pattern', '.*', []],
  ])('%s', (_, words, found) => {
    expect(names(filteredRows(rows, words))).toEqual(found);
  });
});

describe('sortedRows', () => {
  it('by name with numbers in order of size', () => {
    const rows = ['p-10.csv', 'P-2.csv', 'p-1.csv', 'a.csv'].map((name) => row(name));
    expect(names(sortedRows(rows, 'name'))).toEqual(['a.csv', 'p-1.csv', 'P-2.csv', 'p-10.csv']);
    expect(names(rows)).toEqual(['p-10.csv', 'P-2.csv', 'p-1.csv', 'a.csv']);
  });

  it('by position, those without one last, equals in order of name', () => {
    const rows = [row('none'), row('b', { positionMm: 2 }), row('a', { positionMm: 2 }), row('c', { positionMm: -7 })];
    expect(names(sortedRows(rows, 'position'))).toEqual(['c', 'a', 'b', 'none']);
  });

  it('by the instant taken, whatever its offset', () => {
    const rows = [
      row('late', { takenAt: '2026-03-02T08:00:00Z' }),
      row('untold'),
      row('early', { takenAt: '2026-03-02T08:30:00+01:00' }),
    ];
    expect(names(sortedRows(rows, 'time'))).toEqual(['early', 'late', 'untold']);
  });

  it('nothing', () => {
    expect(sortedRows([], 'time')).toEqual([]);
  });
});

describe('rowBeginning: what typing a name leads to', () => {
  const rows = ['check-1.csv', 'check-2.csv', 'hole/position-1.csv', 'plate.csv'].map((name) => row(name));
  it.each<[string, string, number, number | null]>([
    ['the first such', 'p', -1, 2],
    ['the next after the active one', 'c', 0, 1],
    ['round from the end', 'c', 3, 0],
    ['the active one itself, while more of it is typed', 'ch', 1, 1],
    ['the file’s own name within a folder', 'pos', 0, 2],
    ['the folder', 'hole', 0, 2],
    ['whatever the case', 'PL', 0, 3],
    ['none', 'x', 0, null],
  ])('%s', (_, typed, place, found) => {
    expect(rowBeginning(rows, typed, place)).toBe(found);
  });

  it('none among none', () => {
    expect(rowBeginning([], 'a', -1)).toBeNull();
  });
});
