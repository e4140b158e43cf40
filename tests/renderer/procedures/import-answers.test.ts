import { describe, expect, it } from 'vitest';
import { importBytes } from '../../../core/import/import-file.ts';
import { inferEverything } from '../../../core/import/import-recipe.ts';
import { problem } from '../../../core/outcome.ts';
import { answerFields, groupedByShape, sameShape } from '../../../renderer/procedures/import-answers.ts';
import { understoodWords } from '../../../renderer/procedures/understood-words.ts';
import type { OpenedSource } from '../../../renderer/state/workbench-state.ts';

/** A file as the workbench has it, of this text. */
function opened(file: string, text: string): OpenedSource {
  const imported = importBytes(file, new TextEncoder().encode(text), inferEverything, null);
  const nothing = { file, sha256: null, inReview: true, recipe: inferEverything, captures: [], found: null };
  if (!imported.ok)
    return { ...nothing, state: 'broken', understood: null, asks: [], warnings: [], problems: imported.problems };
  const { asks, warnings } = imported.value;
  return {
    ...nothing,
    state: asks.length > 0 ? 'asking' : 'ready',
    understood: { ...imported.value, traceCount: imported.value.traces.length },
    asks,
    warnings,
    problems: [],
  };
}

const rows = (separator: string) =>
  Array.from({ length: 40 }, (_, i) => `${(20 + i * 0.02).toFixed(2)}${separator}${(i % 7) - 3}`).join('\n');
const known = opened('a.csv', `time_us,amplitude_pct\n${rows(',')}`);
const like = opened('b.csv', `time_us,amplitude_pct\n${rows(',')}`);
const other = opened('c.csv', `time_us;amplitude_pct\n${rows(';')}`);
const asking = opened('d.csv', `time,amplitude\n${rows(',')}`);
const askingToo = opened('e.csv', `time,amplitude\n${rows(',')}`);
const broken = opened('f.csv', '');

describe('files of one shape', () => {
  const all = [known, like, other, asking, askingToo, broken];
  it('one recipe serves those that are written alike and ask alike', () => {
    expect(sameShape(all, known)).toEqual(['a.csv', 'b.csv']);
    expect(sameShape(all, asking)).toEqual(['d.csv', 'e.csv']);
    expect(sameShape(all, other)).toEqual(['c.csv']);
  });
  it('stand together, once', () => {
    expect(groupedByShape(all).map(({ files }) => files.map(({ file }) => file))).toEqual([
      ['a.csv', 'b.csv'],
      ['c.csv'],
      ['d.csv', 'e.csv'],
      ['f.csv'],
    ]);
    expect(groupedByShape([])).toEqual([]);
  });
});

describe('what a question is answered with', () => {
  it('a field for each unit that is not stated', () => {
    expect(answerFields(asking)).toEqual(['timeUnit', 'amplitudeUnit']);
    expect(answerFields(known)).toEqual([]);
    expect(answerFields(broken)).toEqual([]);
  });
  it.each([
    ['a mark that may separate thousands', ['time_ns;a_pct', (i: number) => `1,${200 + i};${i % 7}`], ['decimalMark']],
    ['a unit that gives no sampling rate', ['time_us,a_pct', (i: number) => `${i * 10},${(i % 7) - 3}`], ['timeUnit']],
    [
      'a stated rate that the axis contradicts',
      ['# sample rate: 50 MHz\ntime_us,a_pct', (i: number) => `${i / 100},${(i % 7) - 3}`],
      ['timeUnit', 'sampleRateMHz'],
    ],
    [
      'heights beyond all screens',
      ['time_us,a_pct', (i: number) => `${i / 100},${(i % 7) * 900 - 2700}`],
      ['amplitudeUnit'],
    ],
    ['an offset', ['time_us,a_pct', (i: number) => `${i / 100},${50 + (i % 7)}`], ['zeroLevel', 'rectification']],
    ['one side alone', ['time_us,a_pct', (i: number) => `${i / 100},${i === 20 ? -50 : -(i % 2)}`], ['rectification']],
    [
      'a stated rate that a distance axis contradicts: no unit of time, which would make a time of it',
      [
        '# velocity (m/s): 5920\n# sample rate: 50 MHz\npath_mm,a_pct',
        (i: number) => `${(i * 0.0296).toFixed(4)},${(i % 7) - 3}`,
      ],
      ['distanceUnit', 'sampleRateMHz'],
    ],
    [
      'an increment that gives no sampling rate',
      ['X,CH1,Start,Increment\nSequence,%,0,0.01', (i: number) => `${i},${(i % 7) - 3}`],
      ['sampleRateMHz'],
    ],
    ['two columns of time', ['time_us,t_us,a_pct', (i: number) => `${i / 100},${i / 50},${(i % 7) - 3}`], []],
  ] as const)('%s', (_name, [header, row], expected) => {
    const text = `${header}\n${Array.from({ length: 40 }, (_, i) => row(i)).join('\n')}\n`;
    const source = opened('a.csv', text);
    expect(source.state).toBe('asking');
    expect(answerFields(source)).toEqual(expected);
  });
  it('a question asked twice has one field', () => {
    const ask = problem('full-screen-not-stated', { file: 'a' }, '');
    expect(answerFields({ asks: [ask, ask], problems: [] })).toEqual(['fullScreen']);
  });
});

describe('what was understood, in a line', () => {
  it.each([
    ['known', known, 'comma, decimal point · 40 samples at 50 MHz · % of full screen, RF'],
    ['asking', asking, 'comma, decimal point · 40 samples · unit of amplitude not known, RF'],
  ])('%s', (_, file, expected) => {
    expect(understoodWords(file.understood!, { units: 'metric', decimalMark: '.' })).toBe(expected);
  });
});
