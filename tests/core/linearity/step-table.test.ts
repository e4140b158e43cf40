import { describe, expect, it } from 'vitest';
import { levelsByTable, type StatedSteps } from '../../../core/linearity/step-table.ts';

const capture = (name: string, gainDb: number | null) => ({ captureId: `${name}#amplitude`, file: name, gainDb });
const captures = [capture('a.csv', 40), capture('b.csv', 34), capture('c.csv', 28)];
const table = (states: StatedSteps['states'], rows: readonly [string, number | null][]): StatedSteps => ({
  states,
  rows: rows.map(([name, db]) => ({ capture: name, db })),
});

describe('levelsByTable', () => {
  it.each<[string, StatedSteps, (number | null)[]]>([
    ['no row', table('gain', []), [null, null, null]],
    [
      'gains',
      table('gain', [
        ['a.csv', 40],
        ['b.csv', 34],
        ['c.csv', 28],
      ]),
      [40, 34, 28],
    ],
    ['by trace', table('gain', [['b.csv#amplitude', 34]]), [null, 34, null]],
    [
      'changes',
      table('change', [
        ['a.csv', 0],
        ['b.csv', -6],
        ['c.csv', -12],
      ]),
      [0, -6, -12],
    ],
    [
      'an attenuator, of which the captures know nothing',
      table('attenuator', [
        ['a.csv', 2],
        ['b.csv', 4],
        ['c.csv', 8],
      ]),
      [-2, -4, -8],
    ],
    [
      'nothing that can be used',
      table('gain', [
        ['a.csv', null],
        ['b.csv', 34],
      ]),
      [null, 34, null],
    ],
  ])('%s', (_name, of, levels) => {
    const { levelsDb, faults } = levelsByTable(of, captures);
    expect(levelsDb).toEqual(levels);
    expect(faults).toEqual([]);
  });

  it('takes the captures in the order of the table; those that it does not name follow', () => {
    expect(
      levelsByTable(
        table('gain', [
          ['c.csv', 28],
          ['a.csv', 40],
        ]),
        captures,
      ).order,
    ).toEqual([2, 0, 1]);
  });

  it.each<[string, StatedSteps, number, string, RegExp, (number | null)[]]>([
    [
      'a gain that is not the capture’s',
      table('gain', [
        ['a.csv', 40],
        ['b.csv', 35],
      ]),
      1,
      'step-contradicts-capture',
      /35 dB of gain, and the capture "b\.csv#amplitude" says 34 dB/,
      [40, null, null],
    ],
    [
      'a change that the captures’ gains do not have',
      table('change', [
        ['a.csv', 0],
        ['b.csv', -6],
        ['c.csv', -10],
      ]),
      2,
      'step-contradicts-capture',
      /−10 dB, .* −12 dB .* attenuator_db/,
      [0, -6, null],
    ],
    [
      'a capture that was not given',
      table('gain', [
        ['a.csv', 40],
        ['d.csv', 20],
      ]),
      1,
      'step-without-capture',
      /"d\.csv"/,
      [40, null, null],
    ],
    [
      'a capture named twice',
      table('gain', [
        ['a.csv', 40],
        ['a.csv', 40],
      ]),
      1,
      'step-twice',
      /twice/,
      [null, null, null],
    ],
  ])('%s: said, and the capture has no level', (_name, of, row, code, sentence, levels) => {
    const { levelsDb, faults } = levelsByTable(of, captures);
    expect(faults).toEqual([{ row, code, sentence: expect.stringMatching(sentence) }]);
    expect(levelsDb).toEqual(levels);
  });

  it('a capture that does not say its gain is believed the table', () => {
    expect(levelsByTable(table('gain', [['x.csv', 12]]), [capture('x.csv', null)]).levelsDb).toEqual([12]);
  });
});
