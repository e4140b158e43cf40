import { describe, expect, it } from 'vitest';
import {
  gainRows,
  inForm,
  isGiven,
  meantBy,
  noTwoEcho,
  tableOf,
  withStatedGain,
} from '../../../renderer/audit/linearity-decision.ts';
import type { TraceFacts } from '../../../renderer/engine/messages.ts';

const capture = (file: string, trace: string, gainDb: number | null): TraceFacts =>
  ({ id: `${file}#${trace}`, file, trace, gainDb }) as TraceFacts;

const captures = [capture('a.csv', '1', 40), capture('a.csv', '2', 46), capture('b.csv', '1', null)];

describe('the captures that a check means', () => {
  it.each([
    ['a file with all its captures', ['a.csv'], ['a.csv#1', 'a.csv#2']],
    ['one capture of a file', ['a.csv#2'], ['a.csv#2']],
    ['in the review’s order, whatever that of the references', ['b.csv', 'a.csv#1'], ['a.csv#1', 'b.csv#1']],
    ['none', ['c.csv'], []],
  ])('%s', (_, references, ids) => {
    expect(meantBy(references, captures).map(({ id }) => id)).toEqual(ids);
  });
});

describe('the rows of gains', () => {
  it('without a table are the captures, with what each says', () => {
    expect(gainRows(null, captures).map(({ row, ownDb, statedDb }) => [row, ownDb, statedDb])).toEqual([
      [null, 40, null],
      [null, 46, null],
      [null, null, null],
    ]);
  });

  it('with a table are its rows, then the captures that it does not name; a row that means none stays', () => {
    const steps = {
      states: 'gain' as const,
      rows: [
        { capture: 'gone.csv', db: 30 },
        { capture: 'b.csv', db: 52 },
      ],
    };
    expect(gainRows(steps, captures).map(({ row, capture: name, captureId }) => [row, name, captureId])).toEqual([
      [0, 'gone.csv', null],
      [1, 'b.csv', 'b.csv#1'],
      [null, 'a.csv#1', 'a.csv#1'],
      [null, 'a.csv#2', 'a.csv#2'],
    ]);
  });

  it.each([
    ['the gain as the captures say it', 'gain' as const, [40, 46, null]],
    ['the change from the first of them', 'change' as const, [0, 6, null]],
    ['nothing of an attenuator, of which they know nothing', 'attenuator' as const, [null, null, null]],
  ])('a new table states %s', (_, states, dbs) => {
    expect(tableOf(captures, states).rows.map(({ db }) => db)).toEqual(dbs);
  });

  it('another figure stands in its row, and one for a capture not named yet in a row of its own', () => {
    const steps = tableOf(captures.slice(0, 2), 'gain');
    const rows = gainRows(steps, captures);
    expect(withStatedGain(steps, rows[1]!, 47).rows.map(({ db }) => db)).toEqual([40, 47]);
    expect(withStatedGain(steps, rows[2]!, 52).rows).toEqual([...steps.rows, { capture: 'b.csv#1', db: 52 }]);
  });
});

describe('the other form of the screen-height check', () => {
  const twoEcho = {
    ...noTwoEcho,
    captures: ['a.csv'],
    larger: { fromUs: 10, toUs: 12 },
    rule: { kind: 'published' as const, name: 'asme-v-appendix-i' },
  };

  it('keeps captures and window, and no rule of the first', () => {
    const stepped = inForm(twoEcho, 'stepped-gain');
    expect(stepped).toMatchObject({ captures: ['a.csv'], window: { fromUs: 10, toUs: 12 }, rule: null, steps: null });
    expect(inForm(stepped, 'two-echo')).toMatchObject({ larger: { fromUs: 10, toUs: 12 }, rule: null });
  });

  it('is the same where it is the form already', () => {
    expect(inForm(twoEcho, 'two-echo')).toBe(twoEcho);
  });

  it('a window is given as soon as it has a width', () => {
    expect([isGiven(noTwoEcho.larger), isGiven(twoEcho.larger)]).toEqual([false, true]);
  });
});
