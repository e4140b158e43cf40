import { describe, expect, it } from 'vitest';
import { initialLayout, layoutFrom } from '../../renderer/settings/layout.ts';
import { initialSettings, settingsFrom } from '../../renderer/settings/settings.ts';
import { filterByWords } from '../../renderer/shell/command-filter.ts';
import { instantWords } from '../../renderer/shell/instant-words.ts';
import { initialPanels, inSight, opened, toggled, withBelowShare, withWidth } from '../../renderer/shell/panels.ts';
import { heldWords } from '../../renderer/shell/StatusLine.tsx';
import { shortcutWords } from '../../renderer/shell/shortcut-words.ts';
import type { State } from '../../renderer/state/workbench-state.ts';

describe('finding a command by some of its letters', () => {
  const labels = [
    'Open captures',
    'Open a review',
    'Save',
    'Save as',
    'Draw a gate',
    'Go to distance calibration',
    'Größe',
  ];
  const found = (typed: string) => filterByWords(labels, (label) => label, typed).map(({ item }) => item);

  it.each([
    ['nothing: all, in their order', '', labels],
    ['blanks alone: the same', '  ', labels],
    ['a word, and not its letters strewn about', 'gate', ['Draw a gate']],
    ['a word’s beginning before its middle', 'sa', ['Save', 'Save as']],
    ['beginnings of words', 'oc', ['Open captures']],
    ['beginnings and runs', 'godis', ['Go to distance calibration']],
    ['the shorter of two that are equal', 'save', ['Save', 'Save as']],
    ['capitals', 'SAVE AS', ['Save as']],
    ['a run from within a word', 'view', ['Open a review']],
    ['letters without their accents', 'gro', ['Größe']],
    ['letters strewn about, where no command has them closer', 'clbrtn', ['Go to distance calibration']],
    ['letters in another order: none', 'evas', []],
    ['letters that no command has: none', 'xyz', []],
    ['more than a command has: none', 'save as as', []],
  ])('%s', (_name, typed, wanted) => {
    expect(found(typed)).toEqual(wanted);
  });

  it('says which letters were meant', () => {
    expect(filterByWords(['Draw a gate'], (label) => label, 'dgate')).toEqual([
      { item: 'Draw a gate', at: [0, 7, 8, 9, 10] },
    ]);
  });
});

describe('shortcuts in words', () => {
  it.each([
    ['$mod+z', 'Ctrl+Z', '⌘Z'],
    ['$mod+Shift+z', 'Ctrl+Shift+Z', '⇧⌘Z'],
    ['$mod+Alt+KeyN', 'Ctrl+Alt+N', '⌥⌘N'],
    ['Alt+Digit1', 'Alt+1', '⌥1'],
    ['Alt+ArrowDown', 'Alt+↓', '⌥↓'],
    ['$mod+,', 'Ctrl+,', '⌘,'],
    ['F1', 'F1', 'F1'],
  ])('%s: %s, on a Mac %s', (shortcut, words, macWords) => {
    expect(shortcutWords(shortcut, false)).toBe(words);
    expect(shortcutWords(shortcut, true)).toBe(macWords);
  });
});

describe('the panels', () => {
  it('stand side by side where there is room, and each closes by itself', () => {
    expect(inSight(initialPanels, 'wide')).toEqual({ captures: true, trace: true, procedures: true });
    const closed = toggled(initialPanels, 'captures', 'wide');
    expect(inSight(closed, 'wide')).toEqual({ captures: false, trace: true, procedures: true });
    expect(toggled(closed, 'captures', 'wide')).toEqual(initialPanels);
  });

  it('take turns beside the trace where there is less', () => {
    expect(inSight(initialPanels, 'middle')).toEqual({ captures: false, trace: true, procedures: false });
    const captures = toggled(initialPanels, 'captures', 'middle');
    expect(inSight(captures, 'middle')).toEqual({ captures: true, trace: true, procedures: false });
    expect(inSight(toggled(captures, 'procedures', 'middle'), 'middle').captures).toBe(false);
  });

  it('stand alone where there is little', () => {
    const procedures = toggled(initialPanels, 'procedures', 'narrow');
    expect(inSight(procedures, 'narrow')).toEqual({ captures: false, trace: false, procedures: true });
    expect(inSight(toggled(procedures, 'procedures', 'narrow'), 'narrow').trace).toBe(true);
  });

  it('are as they were when the window is made wide again', () => {
    const narrow = toggled(toggled(initialPanels, 'captures', 'wide'), 'procedures', 'narrow');
    expect(inSight(narrow, 'wide')).toEqual({ captures: false, trace: true, procedures: true });
  });

  it('open where they are wanted, and stay where they are open', () => {
    expect(inSight(opened(initialPanels, 'procedures', 'middle'), 'middle').procedures).toBe(true);
    expect(opened(initialPanels, 'procedures', 'wide')).toBe(initialPanels);
  });

  it.each([
    ['wider', 300, 300],
    ['no wider than is of use', 4000, 480],
    ['no narrower than can be read', 3, 200],
    ['on whole pixels', 250.4, 250],
  ])('become %s', (_name, asked, width) => {
    expect(withWidth(initialPanels, 'captures', asked).widths).toEqual({ captures: width, procedures: 380 });
  });

  it('leave both the trace and the series a height', () => {
    expect(withBelowShare(initialPanels, 0.99).belowShare).toBe(0.7);
    expect(withBelowShare(initialPanels, -1).belowShare).toBe(0.2);
  });
});

describe('what the status line says is held', () => {
  const held = (captures: number, ...states: string[]) =>
    heldWords({
      captures: new Map(Array.from({ length: captures }, (_, i) => [`${i}`, {}])),
      files: new Map(states.map((state, i) => [`${i}`, { state }])),
    } as unknown as Pick<State, 'captures' | 'files'>);

  it.each([
    [0, [], 'No captures yet'],
    [1, ['ready'], '1 capture in 1 file'],
    [51, ['ready', 'ready'], '51 captures in 2 files'],
    [
      1,
      ['ready', 'asking', 'broken', 'missing', 'missing', 'changed'],
      '1 capture in 6 files · 1 file asks something · 1 cannot be read · 2 missing · 1 changed since',
    ],
    [0, ['asking', 'asking'], '0 captures in 2 files · 2 files ask something'],
  ])('%i captures, files %j: %s', (captures, states, words) => {
    expect(held(captures, ...states)).toBe(words);
  });
});

describe('settings as they were kept', () => {
  it.each([
    ['nothing', null],
    ['an empty text', ''],
    ['what is not JSON', '{'],
    ['a list', '[]'],
    ['a number', '3'],
    ['null', 'null'],
    ['other names', '{"colour": "dark"}'],
    ['values that there are not', '{"theme": "sepia", "units": 3, "decimalMark": ";"}'],
  ])('%s is as at first', (_name, text) => {
    expect(settingsFrom(text)).toEqual(initialSettings);
  });

  it('each setting stands by itself', () => {
    expect(settingsFrom('{"theme": "dark", "units": "furlong", "decimalMark": ","}')).toEqual({
      theme: 'dark',
      units: 'metric',
      decimalMark: ',',
    });
  });
});

describe('the layout as it was kept', () => {
  it.each([
    ['nothing', null],
    ['a text', 'wide'],
    ['other names', { columns: 3 }],
    ['columns of no width', { panels: { widths: { captures: -5, procedures: 1e9 }, belowShare: Number.NaN } }],
    ['values that there are not', { panels: { open: { captures: 'yes' }, only: 'trace' }, captureOrder: 'colour' }],
    ['an order without a column', { readingOrder: { falling: true } }],
  ])('%s is as at first', (_name, value) => {
    expect(layoutFrom(value)).toEqual(initialLayout);
  });

  it('comes back as it was left', () => {
    const left = {
      panels: {
        open: { captures: false, procedures: true },
        only: 'procedures',
        series: false,
        widths: { captures: 300, procedures: 500 },
        belowShare: 0.55,
      },
      captureOrder: 'time',
      readingOrder: { column: 'amplitude', falling: true },
      picture: 'section',
    } as const;
    expect(layoutFrom(JSON.parse(JSON.stringify(left)))).toEqual(left);
  });
});

it('an instant is said in the person’s own time, and what is none stands as it is', () => {
  expect(instantWords('2026-03-02T06:05:00Z')).toMatch(/^2 Mar 2026, \d{2}:\d{2}$/);
  expect(instantWords('in the morning')).toBe('in the morning');
});
