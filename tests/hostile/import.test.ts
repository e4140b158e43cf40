import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { importBytes } from '../../core/import/import-file.ts';
import { inferEverything } from '../../core/import/import-recipe.ts';
import { readManifest } from '../../core/import/manifest.ts';
import { problemLine } from '../../core/outcome.ts';
import {
  bytesOf,
  codesOf,
  importPieces,
  importText,
  plainFile,
  plainRows,
  problemsOf,
  readText,
} from '../core/import/csv-bytes.ts';

describe('files made to be too much', () => {
  it('a hundred thousand columns', () => {
    const text = `${Array.from({ length: 100_000 }, (_, i) => `c${i}`).join(',')}\n${'1,'.repeat(99_999)}1\n${'2,'.repeat(99_999)}2\n`;
    const outcome = importText(text);
    expect(problemsOf(outcome)).toEqual(['too-many-columns 2:1']);
    if (!outcome.ok) expect(outcome.problems[0].sentence).toMatch(/100000 columns/);
  });

  it('one line of ten megabytes, of one number', () => {
    expect(problemsOf(importText('1'.repeat(10_000_000)))).toEqual(['no-numeric-rows 1:1']);
  });

  it('a line of ten megabytes behind plain rows, whole and in pieces', () => {
    const bytes = bytesOf(`${plainFile(5000)}${'1'.repeat(10_000_000)}`);
    expect(problemsOf(importBytes('a.csv', bytes, inferEverything, null))).toEqual(['line-too-long 5002:1']);
    expect(problemsOf(importPieces(bytes, [100_000, 3_000_000, 7_000_000]))).toEqual(['line-too-long 5002:1']);
  });

  it('a preamble of four megabytes', () => {
    expect(problemsOf(importText(`${'# so much to say\n'.repeat(260_000)}${plainFile()}`))).toEqual([
      'no-numeric-rows 1:1',
    ]);
  });

  it('a preamble of a hundred kilobytes is read', () => {
    const file = readText(`${'# so much to say\n'.repeat(6000)}${plainFile()}`);
    expect(file.captures).toHaveLength(1);
    expect(file.metadata).toHaveLength(6000);
  });

  it.each([
    ['two million quotation marks', '"'.repeat(2_000_000)],
    ['two million and one', '"'.repeat(2_000_001)],
    ['a million quoted blanks', '"",'.repeat(1_000_000)],
    ['a million brackets', '('.repeat(1_000_000)],
    ['a million delimiters', ','.repeat(1_000_000)],
    ['a million minus signs', '-'.repeat(1_000_000)],
  ])('%s in a row', (_name, cell) => {
    const rows = plainRows(60);
    rows[50] = `0.50,${cell}`;
    expect(importText(`time_us,a_pct\n${rows.join('\n')}\n`).ok).toBe(false);
    expect(importText(`${cell}\n${plainFile()}`)).toBeDefined();
  });

  it('a hundred thousand odd rows', () => {
    const rows = Array.from({ length: 100_000 }, (_, i) => `"${(i / 100).toFixed(2)}","${(i % 7) - 3}"`);
    const file = readText(`time_us,a_pct\n${rows.join('\n')}\n`);
    expect(file.traces[0]).toMatchObject({ samples: 100_000, stepUs: 0.01 });
  });

  it('a hundred thousand broken rows end at twenty problems', () => {
    const outcome = importText(`time_us,a_pct\n${plainRows(20).join('\n')}\n${'0.2,x\n'.repeat(100_000)}`);
    expect(problemsOf(outcome)).toHaveLength(20);
  });

  it('a thousand captures in the long form, mixed row by row', () => {
    const rows: string[] = [];
    for (let i = 0; i < 20; i++) for (let id = 0; id < 1000; id++) rows.push(`${id},${i},${(i % 3) - 1}`);
    expect(readText(`capture,time_us,a_pct\n${rows.join('\n')}\n`).captures).toHaveLength(1000);
  });
});

describe('names made to be taken for something else', () => {
  it.each(['__proto__', 'constructor', 'toString', 'hasOwnProperty'])('%s as key, column and capture', (name) => {
    const file = readText(`# ${name}: x\ntime_us,${name}\n0,1\n1,-2\n2,3\n`, { amplitudeUnit: 'percent' });
    expect(file.metadata).toEqual([{ key: name, value: 'x' }]);
    expect(file.captures[0].trace).toBe(name);
    expect(({} as Record<string, unknown>).x).toBeUndefined();
    const long = readText(`capture,time_us,a_pct\n${name},0,1\n${name},1,-2\nb,0,1\nb,1,-2\n`);
    expect(long.captures.map(({ trace }) => trace)).toEqual([name, 'b']);
    expect(readManifest('m.csv', bytesOf(`file,${name}\n${name},1\n`)).ok).toBe(true);
  });

  it('a formula in a cell is text', () => {
    expect(problemsOf(importText(`${plainFile(20)}0.20,=1+1\n${plainFile(20, '').trim()}`))[0]).toMatch(
      /^text-in-number 22:6/,
    );
  });
});

describe('zero bytes', () => {
  it.each([
    ['at the start', `\u0000${plainFile()}`],
    ['in the header', plainFile(40, 'time_us,a_pct\u0000')],
    ['in a number', plainFile().replace('0.20', '0.2\u00000')],
    ['far down', plainFile(3000).replace('25.00', '25.\u000000')],
    ['at the end', `${plainFile(3000)}\u0000\u0000`],
  ])('%s', (_name, text) => {
    const outcome = importText(text);
    expect(outcome.ok).toBe(false);
    if (!outcome.ok) expect(outcome.problems[0].code).toBe('binary-file');
  });
});

it('any bytes give a file or problems with a place and a sentence, the same in pieces as in whole', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 400 }), fc.array(fc.nat(400), { maxLength: 4 }), (bytes, edges) => {
      const outcome = importBytes('a.csv', bytes, inferEverything, null);
      if (!outcome.ok) {
        expect(outcome.problems.length).toBeGreaterThan(0);
        for (const p of outcome.problems) expect(problemLine(p)).toMatch(/^a\.csv(:\d+){0,2}: .{10}/);
      }
      expect(
        importPieces(
          bytes,
          edges.map((edge) => Math.min(edge, bytes.length)),
        ),
      ).toEqual(outcome);
    }),
    { numRuns: 3000 },
  );
});

it('any text of a table’s own characters', () => {
  const piece = fc.constantFrom(
    '0',
    '1',
    '.',
    ',',
    ';',
    '\t',
    ' ',
    '\n',
    '\r',
    '\r\n',
    '"',
    '-',
    'e',
    '#',
    ':',
    '=',
    'time_us',
    'a_pct',
    '0.01,5\n',
    '0.02,-6\n',
    'NaN',
    'µ',
    '∞',
    '0,5;1,5\n',
  );
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 60 }), fc.array(fc.nat(300), { maxLength: 4 }), (pieces, edges) => {
      const bytes = bytesOf(pieces.join(''));
      const outcome = importBytes('a.csv', bytes, inferEverything, null);
      expect(
        importPieces(
          bytes,
          edges.map((edge) => Math.min(edge, bytes.length)),
        ),
      ).toEqual(outcome);
      if (outcome.ok && outcome.value.captures.length > 0) {
        for (const { waveform } of outcome.value.captures) {
          expect(waveform.samples.every(Number.isFinite)).toBe(true);
          expect(waveform.stepUs).toBeGreaterThan(0);
        }
      }
      expect(readManifest('m.csv', bytes)).toBeDefined();
    }),
    { numRuns: 5000 },
  );
});

it('a plain file with one byte changed is read, asked about or refused, and never throws', () => {
  const plain = bytesOf(plainFile(30));
  fc.assert(
    fc.property(fc.nat(plain.length - 1), fc.integer({ min: 0, max: 255 }), (at, byte) => {
      const bytes = plain.slice();
      bytes[at] = byte;
      const outcome = importBytes('a.csv', bytes, inferEverything, null);
      if (outcome.ok && outcome.value.captures.length > 0) {
        // What is read has all rows, unless a line end was lost or won, which the axis would show.
        expect(outcome.value.traces[0].samples).toBeGreaterThanOrEqual(29);
      }
      expect(codesOf(outcome.ok ? [] : outcome.problems).every((code) => code.length > 3)).toBe(true);
    }),
    { numRuns: 3000 },
  );
});
