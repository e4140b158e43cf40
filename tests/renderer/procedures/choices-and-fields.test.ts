import { describe, expect, it } from 'vitest';
import type { TraceFacts } from '../../../renderer/engine/messages.ts';
import {
  captureChoices,
  choicesWith,
  chosenInWords,
  toggled,
  withAll,
  withoutAll,
} from '../../../renderer/procedures/capture-choices.ts';
import { outlinePath } from '../../../renderer/procedures/envelope-path.ts';
import {
  percentOfScreen,
  positive,
  readIn,
  readOrNothing,
  shownIn,
} from '../../../renderer/procedures/field-reading.ts';

const capture = (file: string, trace: string, rest: Partial<TraceFacts> = {}): TraceFacts => ({
  id: `${file}#${trace}`,
  file,
  trace,
  sha256: null,
  gainDb: null,
  takenAt: null,
  positionMm: null,
  acrossMm: null,
  probe: null,
  instrument: null,
  block: null,
  temperatureC: null,
  startUs: 0,
  stepUs: 0.01,
  sampleCount: 10,
  rectification: 'rf',
  amplitudeUnit: 'percent',
  extremaPercent: { minimum: 0, maximum: 1 },
  ...rest,
});
const choices = captureChoices([
  capture('block.csv', 'x', { block: 'quadrant 3', probe: 'angle 17' }),
  capture('weld.csv', 'one', { positionMm: 5 }),
  capture('weld.csv', 'two'),
]);

describe('captures to choose from', () => {
  it('a file with one capture is one choice; one with several is a choice with its captures below', () => {
    expect(choices.map(({ reference, detail }) => [reference, detail])).toEqual([
      ['block.csv', 'quadrant 3 · angle 17'],
      ['weld.csv', '2 captures'],
      ['weld.csv#one', 'at 5 mm'],
      ['weld.csv#two', ''],
    ]);
    expect(captureChoices([])).toEqual([]);
  });
  it('words are looked for in names and details', () => {
    expect(choicesWith(choices, 'QUADRANT block').map(({ reference }) => reference)).toEqual(['block.csv']);
    expect(choicesWith(choices, ' ')).toBe(choices);
  });
  it.each([
    ['a capture takes the place of its whole file', ['weld.csv'], 2, true, ['weld.csv#one']],
    ['a whole file takes the place of its captures', ['weld.csv#one', 'block.csv'], 1, true, ['block.csv', 'weld.csv']],
    ['taken out', ['weld.csv', 'block.csv'], 0, false, ['weld.csv']],
  ])('%s', (_, chosen, index, isChosen, expected) => {
    expect(toggled(chosen, choices[index]!, isChosen)).toEqual(expected);
  });
  it.each([
    ['all, each file whole', [], '', ['block.csv', 'weld.csv']],
    ['a whole file in place of its captures', ['weld.csv#one'], '', ['block.csv', 'weld.csv']],
    ['those with the words, beside what was chosen', ['weld.csv#two'], 'block', ['weld.csv#two', 'block.csv']],
    ['one capture by its detail', ['block.csv'], 'at 5', ['block.csv', 'weld.csv#one']],
    ['no capture of a file that is chosen whole', ['weld.csv'], 'at 5', ['weld.csv']],
  ])('chosen at once: %s', (_, chosen, words, expected) => {
    expect(withAll(chosen, choicesWith(choices, words))).toEqual(expected);
  });
  it('taken out at once: files with all their captures, and no others', () => {
    expect(withoutAll(['block.csv', 'weld.csv#one'], choicesWith(choices, 'weld'))).toEqual(['block.csv']);
    expect(withoutAll(['weld.csv'], choicesWith(choices, 'at 5'))).toEqual(['weld.csv']);
    expect(withoutAll(['block.csv', 'weld.csv'], choices)).toEqual([]);
  });
  it.each([
    [[], 'Choose'],
    [['a.csv'], 'a.csv'],
    [['a.csv', 'b.csv'], 'a.csv and b.csv'],
    [['a.csv', 'b.csv', 'c.csv'], '3 files'],
    [['a.csv#1', 'a.csv#2', 'b.csv'], '3 captures of 2 files'],
  ])('%o in words', (chosen, expected) => {
    expect(chosenInWords(chosen, 'Choose')).toBe(expected);
  });
});

describe('numbers in fields', () => {
  const inch = { units: 'inch', decimalMark: ',' } as const;
  const metric = { units: 'metric', decimalMark: '.' } as const;
  it.each([
    [100, '100'],
    [10.02, '10.02'],
    [null, ''],
  ])('%s mm is shown as %s', (value, text) => {
    expect(shownIn('length', metric)(value)).toBe(text);
  });
  it('25.4 mm is one inch, and an inch typed is 25.4 mm', () => {
    expect(shownIn('length', inch)(12.7)).toBe('0,5');
    expect(readIn('length', inch, positive)('0,5')).toEqual({ ok: true, value: 12.7 });
    expect(readIn('length', metric, positive)('0.5in')).toEqual({ ok: true, value: 12.7 });
  });
  it.each([
    ['', 'is not a'],
    ['0', 'above 0'],
    ['101', 'at most 100 %'],
    ['1,5', 'write decimals with a point'],
  ])('"%s" % is refused with what to do', (words, sentence) => {
    const read = readIn('percent', metric, percentOfScreen)(words);
    expect(read.ok ? '' : read.sentence).toMatch(sentence);
  });
  it('an empty field is no number where none is needed', () => {
    expect(readOrNothing('length', metric, positive)('  ')).toEqual({ ok: true, value: null });
    expect(readOrNothing('length', metric, positive)('-1').ok).toBe(false);
  });
});

describe('the outline of a small trace', () => {
  it('of nothing is empty', () => {
    expect(outlinePath([], [], 100)).toBe('');
  });
  it('runs along the highest values and back along the lowest, the highest at the top', () => {
    expect(outlinePath([-1, 0], [1, 1], 100)).toBe('M0,0.00L1,0.00L1,50.00L0,100.00Z');
  });
  it('a flat trace is a line and no division by nothing', () => {
    expect(outlinePath([3, 3], [3, 3], 100)).not.toMatch(/NaN|Infinity/);
  });
});
