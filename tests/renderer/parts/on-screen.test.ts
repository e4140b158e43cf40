import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { problem } from '../../../core/outcome.ts';
import { onScreen } from '../../../renderer/parts/on-screen.ts';
import { toldOnce } from '../../../renderer/parts/told-once.ts';

describe('sentences on screen', () => {
  it.each([
    ['State it (--sample-rate 100MHz).', 'State it at ‘Sampling rate’.'],
    [
      'State it (--time-unit us, or --axis distance --axis-velocity 5920).',
      'State it at ‘Unit of time’, or choose ‘distance’ for the axis under ‘Columns …’.',
    ],
    [': state it with --amplitude-unit and --full-screen.', ': state it in Import, under ‘Columns …’ of its file.'],
    ['The unit (of the axis) is not stated.', 'The unit (of the axis) is not stated.'],
  ])('%s', (sentence, expected) => {
    expect(onScreen(sentence)).toBe(expected);
  });

  it.each(['import', 'signal'])('none of core/%s names an option of the command line once it is shown', (room) => {
    const folder = fileURLToPath(new URL(`../../../core/${room}/`, import.meta.url));
    const sentences = readdirSync(folder)
      .filter((name) => name.endsWith('.ts'))
      .flatMap((name) => {
        const source = readFileSync(`${folder}${name}`, 'utf8').replace(/\$\{[^}]*\}/g, 'x');
        return [...source.matchAll(/['`]([A-Z][^'`\n]* \(?--[a-z][^'`\n]*)['`]/g)].map(([, sentence]) => sentence!);
      });
    expect(sentences.length).toBeGreaterThan(0);
    expect(sentences.map(onScreen).filter((sentence) => /--[a-z]/.test(sentence))).toEqual([]);
  });
});

describe('a sentence that stands for several captures', () => {
  const at = (file: string, sentence: string) => problem('any', { file }, sentence);
  it.each([
    ['none', [], []],
    ['one', [at('a.csv', 'it is rectified.')], ['it is rectified (a.csv).']],
    [
      'twice at one place',
      [at('a.csv', 'it is rectified.'), at('a.csv', 'it is rectified.')],
      ['it is rectified (a.csv).'],
    ],
    [
      'three, and another',
      [
        at('a#1', 'it is rectified.'),
        at('b#1', 'it is short'),
        at('a#2', 'it is rectified.'),
        at('a#3', 'it is rectified.'),
      ],
      ['it is rectified (a#1 and 2 more).', 'it is short (b#1).'],
    ],
  ])('%s', (_name, problems, expected) => {
    expect(toldOnce(problems)).toEqual(expected);
  });
});
