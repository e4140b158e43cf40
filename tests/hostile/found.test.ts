import { Command } from 'commander';
import { describe, expect, it } from 'vitest';
import { readZipDirectory, readZipEntry } from '../../core/evidence/read-zip.ts';
import { importBytes } from '../../core/import/import-file.ts';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import { inferEverything } from '../../core/import/import-recipe.ts';
import { readManifest } from '../../core/import/manifest.ts';
import { openReview } from '../../core/review/open-review.ts';
import { emptyReview } from '../../core/review/review.ts';
import { readStatedProbes } from '../../core/review/stated-probes.ts';
import { addDistanceCommands } from '../../electron/cli/distance-commands.ts';
import { findInputs } from '../../electron/cli/inputs.ts';
import { addProbeCommands } from '../../electron/cli/probe-commands.ts';
import { Refusal } from '../../electron/cli/refusal.ts';
import { sourceOf, zipBytes } from '../build/zip.ts';
import { bytesOf, importText, plainFile, plainRows, problemsOf, readText } from '../core/import/csv-bytes.ts';

// What inputs that were made by chance and held against a slow reader have shown, each as small as it can be.

const rowsOf = (ids: readonly string[], delimiter: string, mark = '.') =>
  ids.map((id, i) => [id, `0.0${i >> 1}`.replace('.', mark), `${(i % 5) - 2}.5`.replace('.', mark)].join(delimiter));
const longForm = (rows: readonly string[], delimiter: string) =>
  `${['capture', 'time_us', 'a_pct'].join(delimiter)}\n${rows.join('\n')}\n`;
const inTurn = (one: string, other: string) => Array.from({ length: 12 }, (_, i) => (i % 2 === 0 ? one : other));

describe('the captures of one file', () => {
  it.each([
    ['whose numbers differ in the last of sixteen digits', '9007199254740992', '9007199254740993'],
    ['whose numbers are times of day to the millisecond', '20260302060500123', '20260302060500124'],
    ['whose numbers are far below zero', '-1125899906842624', '-1125899906842625'],
    ['one with a number far below zero and one with a name', '-1125899906842624', 'shot'],
    ['whose numbers have decimals', '1.25', '1.5'],
  ])('stay apart and keep their names: %s', (_name, one, other) => {
    const file = readText(longForm(rowsOf(inTurn(one, other), ','), ','));
    expect(file.captures.map(({ trace, waveform }) => [trace, waveform.samples.length])).toEqual([
      [one, 6],
      [other, 6],
    ]);
  });

  it.each([
    ['with all cells quoted', 'x', '2', '\t', '.', '"'],
    ['with names between blanks, and decimal commas', 'x', '2', ' ', ',', ''],
  ])('are all found: %s', (_name, one, other, delimiter, mark, quote) => {
    const rows = rowsOf(inTurn(one, other), delimiter, mark).map((row) =>
      row
        .split(delimiter)
        .map((cell) => quote + cell + quote)
        .join(delimiter),
    );
    const { traces } = readText(longForm(rows, delimiter));
    expect(traces.map(({ name, samples }) => [name, samples])).toEqual([
      ['x', 6],
      ['2', 6],
    ]);
  });

  it('of which the first has a name, and is no preamble of the second', () => {
    const ids = [...Array(12).fill('"x"'), ...Array(12).fill('2')];
    const rows = ids.map((id, i) => `${id},"0.${String(10 + (i % 12))}","${(i % 5) - 2}"`);
    expect(readText(longForm(rows, ',')).traces.map(({ name, samples }) => [name, samples])).toEqual([
      ['x', 12],
      ['2', 12],
    ]);
  });

  it('are a hundred thousand at the most', () => {
    const rows = Array.from({ length: 100_001 }, (_, i) => `${i},0,1`);
    expect(problemsOf(importText(longForm(rows, ',')))).toEqual(['too-many-captures 100002:1']);
    expect(problemsOf(importText(longForm(rows.slice(1), ',')))).toHaveLength(20);
  });

  it('whose names a person takes for the amplitude: text is no number', () => {
    const recipe = { columns: { axis: null, amplitudes: [1], captureId: null } } satisfies Partial<ImportRecipe>;
    const text = longForm(rowsOf(inTurn('x', 'y'), ','), ',');
    expect(problemsOf(importText(text, recipe))[0]).toMatch(/^text-in-number 2:1/);
  });

  it('whose names a person takes for the amplitude and for names: one column is not read as two things', () => {
    const recipe = { columns: { axis: null, amplitudes: [1], captureId: 1 } } satisfies Partial<ImportRecipe>;
    const text = longForm(rowsOf(inTurn('1', '2'), ','), ',');
    expect(problemsOf(importText(text, recipe))).toEqual(['column-twice 1:1']);
  });
});

describe('numbers', () => {
  it.each([
    ['in groups beyond all range', `1${',234'.repeat(110)}`, 'infinite'],
    ['of ten thousand decimals and an exponent that outweighs them', `0.${'0'.repeat(9990)}1e20000`, 'infinite'],
    ['with a colon in the first row', '0:10', 'text-in-number'],
  ])('%s', (_name, cell, code) => {
    const text = `time;a\nus;%\n${plainRows(30)
      .map((row) => row.replace(',', ';'))
      .join('\n')}\n`;
    const line =
      code === 'text-in-number' ? text.replace('0.00;', `${cell};`) : text.replace(/0\.20;.*/, `0.20;${cell}`);
    expect(problemsOf(importText(line))[0]).toMatch(new RegExp(`^${code} `));
  });
});

describe('where something stands', () => {
  it('behind lines that end with CR CR LF, which are two line ends', () => {
    const lines = plainFile(30).trim().split('\n');
    lines[20] = '0.19,x';
    // A blank line stands behind each: line 21 becomes line 41.
    expect(problemsOf(importText(`${lines.join('\r\r\n')}\r\r\n`))).toEqual(['text-in-number 41:6']);
  });

  it('twenty problems at the most, however many cells of the last row are wrong', () => {
    const wide = (cell: string) => Array(30).fill(cell).join(',');
    const names = Array.from({ length: 30 }, (_, i) => `e${i}_pct`).join(',');
    const text = `time_us,${names}\n${Array.from({ length: 9 }, (_, i) => `${i},${wide('1')}\n`).join('')}9,${wide('x')}\n`;
    expect(problemsOf(importText(text))).toHaveLength(20);
  });
});

describe('a number by itself above a comment', () => {
  const rows = Array.from({ length: 20 }, (_, i) => `${(i % 5) - 2}.5`).join('\n');
  const stated = { sampleRateMHz: 100, amplitudeUnit: 'percent' } satisfies Partial<ImportRecipe>;

  it('may be the first of the samples below it: it is not passed over', () => {
    expect(problemsOf(importText(`1.5\n# gain_db: 42\n${rows}\n`, stated))).toEqual(['lone-number 1:1']);
  });

  it('is none of the rows of two columns', () => {
    expect(readText(`24\n# gain_db: 42\n${plainFile(24)}`).traces[0]?.samples).toBe(24);
  });
});

describe('UTF-16 that is cut off', () => {
  const whole = bytesOf(`\ufeff${plainFile(30).trim()}`, 'utf-16le');

  it.each([
    ['within a character', whole.subarray(0, whole.length - 1), 'truncated-last-line 31:12'],
    ['between two halves of a character', new Uint8Array([...whole, 0x3d, 0xd8]), 'truncated-last-line 31:13'],
  ])('%s', (_name, bytes, problem) => {
    expect(problemsOf(importBytes('a.csv', bytes, inferEverything, null))).toEqual([problem]);
  });

  it('as a manifest', () => {
    const bytes = bytesOf('\ufefffile,gain_db\na.csv,42\nb.csv,42', 'utf-16le');
    const { ok } = readManifest('m.csv', bytes);
    const cut = readManifest('m.csv', bytes.subarray(0, bytes.length - 1));
    expect(ok).toBe(true);
    // The half character stands in the gain, which is then no number, and says so.
    expect(cut.ok && cut.warnings.map(({ code }) => code)).toEqual(['gain-not-understood']);
  });
});

describe('JSON from strangers', () => {
  const review = (more: string) => JSON.stringify(emptyReview).replace('{', `{${more},`);

  it.each([
    ['lists a hundred thousand deep', '['.repeat(100_000), ['json-too-deep 1:101']],
    ['objects a hundred thousand deep', '{"a":'.repeat(100_000), ['json-too-deep 1:501']],
    ['one name a hundred thousand times', review(Array(100_000).fill('"x":1').join(',')), Array(20).fill('name-twice')],
    ['a name that every object has', review('"constructor":1'), ['name-unknown 1:2']],
    ['the name of what every object comes from', review('"__proto__":{"title":"x"}'), ['name-unknown 1:2']],
    ['a name that libraries pass over', review('"prototype":{"a":1}'), ['name-unknown 1:2']],
    ['a number beyond all range', review('"x":1').replace('"echoes":null', '"echoes":1e999'), ['review-schema']],
    [
      'a hundred thousand wrong items',
      review('"x":1').replace('"record":[]', `"record":[${Array(100_000).fill(7).join(',')}]`),
      ['review-schema'],
    ],
  ])('%s', (_name, text, problems) => {
    const found = problemsOf(openReview('r.json', text));
    expect(found.length).toBeLessThanOrEqual(20);
    for (const [i, problem] of problems.entries()) expect(found[i]).toMatch(new RegExp(`^${problem}`));
  });

  it('a thousand figures that nobody knows', () => {
    const stated = Object.fromEntries(Array.from({ length: 1000 }, (_, i) => [`figure ${i}`, 1]));
    const probes = Array.from({ length: 10 }, (_, i) => ({ name: `p${i}`, stated }));
    expect(problemsOf(readStatedProbes('s.json', JSON.stringify({ probes })))).toHaveLength(20);
  });
});

describe('a ZIP file', () => {
  it('of which one file’s own head moves its bytes into the next one’s', () => {
    const data = new TextEncoder().encode('1,2');
    // Behind the first name stand its three bytes and the head (30) and name (5) of the second, whose bytes are the same.
    const zip = zipBytes([
      { name: 'a.csv', data, extraInHeader: 3 + 30 + 5 },
      { name: 'b.csv', data },
    ]);
    const source = sourceOf(zip);
    const entries = readZipDirectory('a.zip', source);
    if (!entries.ok) throw new Error('the list itself is in order');
    const problems = entries.value.map((entry) =>
      readZipEntry('a.zip', source, entry, () => {}).map(({ code }) => code),
    );
    expect(problems).toEqual([['zip-overlap'], []]);
  });
});

describe('words on the command line', () => {
  it.each([
    ['a name longer than any file may have', 'a'.repeat(5000)],
    ['a zero byte in a name', 'a\u0000.csv'],
  ])('%s: there is no such file', (_name, word) => {
    expect(findInputs([word]).problems.map(({ code }) => code)).toEqual(['no-such-file']);
  });

  it.each([
    ['a line and a half', ['describe', 'a.csv', '--header-line', '1.5'], '--header-line'],
    ['one thread and a half', ['describe', 'a.csv', '--jobs', '1.5'], '--jobs'],
    ['a band-pass of order 2.5', ['echoes', 'a.csv', '--band-order', '2.5'], '--band-order'],
    ['zeros for one record and a half', ['probe', 'a.csv', '--zero-padding', '1.5'], '--zero-padding'],
  ])('%s', (_name, words, option) => {
    const program = new Command().exitOverride();
    const nothing = () => async () => {};
    addDistanceCommands(program, nothing);
    addProbeCommands(program, nothing);
    let refusal: unknown;
    try {
      program.parse(words, { from: 'user' });
    } catch (error) {
      refusal = error;
    }
    expect(refusal).toBeInstanceOf(Refusal);
    expect((refusal as Refusal).problems[0]).toMatchObject({
      place: { file: option },
      sentence: expect.stringContaining('no whole number'),
    });
  });
});
