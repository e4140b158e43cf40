import { describe, expect, it } from 'vitest';
import { importBytes } from '../../../core/import/import-file.ts';
import { inferEverything } from '../../../core/import/import-recipe.ts';
import { problemLine } from '../../../core/outcome.ts';
import {
  bytesOf,
  codesOf,
  importPieces,
  importText,
  plainFile,
  plainRows,
  problemsOf,
  readText,
  withLine,
} from './csv-bytes.ts';

const importRaw = (bytes: Uint8Array) => importBytes('a.csv', bytes, inferEverything, null);

/** `plainFile` has its header in line 1 and rows from line 2; the amplitude of the rows used here begins at column 6. */
const brokenFiles: readonly { name: string; text: string; problems: readonly string[]; says: RegExp }[] = [
  { name: 'an empty file', text: '', problems: ['empty-file null:null'], says: /empty/ },
  {
    name: 'only a header',
    text: 'time_us,amplitude_pct\n',
    problems: ['no-numeric-rows 1:1'],
    says: /no row of numbers/,
  },
  { name: 'only text', text: 'hello\nworld\n', problems: ['no-numeric-rows 1:1'], says: /no row of numbers/ },
  { name: 'only blank lines', text: '\n\n\n', problems: ['no-numeric-rows 1:1'], says: /no row of numbers/ },
  { name: 'one sample', text: plainFile(1), problems: ['one-sample 2:1'], says: /only one sample/ },
  { name: 'NaN', text: withLine(7, '0.05,NaN'), problems: ['not-a-number 7:6'], says: /not a number/ },
  { name: 'NaN in the first row', text: withLine(2, '0.00,NaN'), problems: ['not-a-number 2:6'], says: /not a number/ },
  { name: 'infinity as a word', text: withLine(7, '0.05,-inf'), problems: ['infinite 7:6'], says: /infinite/ },
  { name: 'infinity as a sign', text: withLine(7, '0.05,∞'), problems: ['infinite 7:6'], says: /infinite/ },
  {
    name: 'a number beyond the largest double',
    text: withLine(7, '0.05,1e999'),
    problems: ['infinite 7:6'],
    says: /out of range/,
  },
  {
    name: 'an empty field',
    text: withLine(7, '0.05,'),
    problems: ['empty-field 7:6'],
    says: /no value in ‘amplitude_pct’ \(field 2\)/,
  },
  { name: 'an empty time', text: withLine(7, ',1'), problems: ['empty-field 7:1'], says: /no value in ‘time_us’/ },
  {
    name: 'a row too short',
    text: withLine(7, '0.05'),
    problems: ['too-few-fields 7:5'],
    says: /has 1 field, the others have 2/,
  },
  {
    name: 'a row too long',
    text: withLine(7, '0.05,1,2'),
    problems: ['too-many-fields 7:8'],
    says: /has 3 fields, the others have 2/,
  },
  {
    name: 'the first row too long',
    text: withLine(2, '0.00,1,2'),
    problems: ['too-many-fields 2:8'],
    says: /has 3 fields/,
  },
  { name: 'a text cell', text: withLine(7, '0.05,abc'), problems: ['text-in-number 7:6'], says: /‘abc’/ },
  {
    name: 'a text cell in the first row',
    text: withLine(2, '0.00,abc'),
    problems: ['text-in-number 2:6'],
    says: /‘abc’/,
  },
  {
    name: 'a text cell for the first time',
    text: withLine(2, 'abc,1.0'),
    problems: ['text-in-number 2:1'],
    says: /‘abc’/,
  },
  { name: 'a unit behind a number', text: withLine(7, '0.05,1.5V'), problems: ['text-in-number 7:6'], says: /‘1.5V’/ },
  {
    name: 'a quotation mark left open',
    text: withLine(7, '0.05,"1.0'),
    problems: ['unterminated-quote 7:6'],
    says: /not closed/,
  },
  {
    name: 'a second header',
    text: withLine(20, 'time_us,amplitude_pct'),
    problems: ['text-in-number 20:1', 'text-in-number 20:9'],
    says: /‘time_us’/,
  },
  { name: 'an empty row inside', text: withLine(7, ','), problems: ['empty-field 7:1'], says: /row is empty/ },
  { name: 'cut off within a row', text: `${plainFile()}0.40`, problems: ['truncated-last-line 42:5'], says: /cut off/ },
  {
    name: 'cut off behind a delimiter',
    text: `${plainFile()}0.40,`,
    problems: ['truncated-last-line 42:6'],
    says: /cut off/,
  },
  {
    name: 'cut off behind a sign',
    text: `${plainFile()}0.40,-`,
    problems: ['truncated-last-line 42:7'],
    says: /cut off/,
  },
  {
    name: 'cut off within an exponent',
    text: `${plainFile()}0.40,1e`,
    problems: ['truncated-last-line 42:8'],
    says: /cut off/,
  },
  {
    name: 'two columns of one name',
    text: plainFile(40, 'time_us,a_pct,a_pct').replace(/,(\S+)\n/g, (all, value) =>
      value.includes('pct') ? all : `,${value},1\n`,
    ),
    problems: ['duplicate-column 1:15'],
    says: /‘a_pct’/,
  },
  {
    name: 'a missing sample',
    text: plainFile().replace('0.20,-10.000\n', ''),
    problems: ['uneven-time 22:1'],
    says: /not evenly spaced: it jumps here.*allowed: 0.02/,
  },
  {
    name: 'time that goes back',
    text: withLine(20, '0.05,1'),
    problems: ['backward-time 20:1'],
    says: /goes backward here/,
  },
  {
    name: 'a record behind a record',
    text: `${plainFile()}${plainRows().join('\n')}\n`,
    problems: ['backward-time 42:1'],
    says: /one behind the other/,
  },
  {
    name: 'one time twice',
    text: withLine(20, '0.17,1'),
    problems: ['repeated-time 20:1'],
    says: /two samples cannot have one time/,
  },
  {
    name: 'time with too few digits',
    text: ['time_us,a_pct', ...Array.from({ length: 40 }, (_, i) => `${(i * 0.003).toFixed(2)},${i}.5`)].join('\n'),
    problems: ['repeated-time 3:1'],
    says: /too few digits/,
  },
  {
    name: 'time that stands still',
    text: 'time_us,a_pct\n5,1\n5,2\n5,3\n',
    problems: ['zero-step 3:1'],
    says: /does not move/,
  },
  {
    name: 'no amplitudes',
    text: 'time_us\n0.00\n0.01\n0.02\n',
    problems: ['no-amplitude-column 1:1'],
    says: /no column of amplitudes here, only ‘time_us’/,
  },
  {
    name: 'amplitudes in dB',
    text: plainFile(40, 'time_us,amplitude_db'),
    problems: ['decibel-amplitude 1:1'],
    says: /a logarithm/,
  },
  {
    name: 'two decimal marks',
    text: 'time_us;a_pct\n0,00;1,5\n0,01;1,6\n0.02;1,7\n',
    problems: ['mixed-decimal-marks 4:1'],
    says: /another decimal mark/,
  },
  {
    name: 'a mark that may separate thousands',
    text: 'time_us;a_pct\n0,00;1,5\n0,01;1,6\n0,02;1.700\n',
    problems: ['ambiguous-number 4:6'],
    says: /thousands or decimals/,
  },
  {
    name: 'commas as delimiter and decimal mark',
    text: 'time_us,a_pct\n0,00,1,5\n0,01,1,6\n0,02,1,7\n',
    problems: ['decimal-comma-and-delimiter 2:1'],
    says: /both delimiter and decimal mark/,
  },
  {
    name: 'commas that may be either',
    text: '0,05\n0,06\n0,07\n',
    problems: ['ambiguous-commas 1:1'],
    says: /decimal marks or delimiters/,
  },
  { name: 'a packed file', text: 'PK\u0003\u0004rest', problems: ['binary-file 1:1'], says: /packed file/ },
  {
    name: 'a zero byte far down',
    text: `${plainFile(2000)}0.41,\u00001\n`,
    problems: ['binary-file 2002:6'],
    says: /no text has/,
  },
];

describe('every broken file has its code, its place and its sentence', () => {
  it.each(brokenFiles)('$name', ({ text, problems, says }) => {
    const outcome = importText(text);
    expect(problemsOf(outcome)).toEqual(problems);
    if (outcome.ok) return;
    expect(outcome.problems[0].sentence).toMatch(says);
    expect(problemLine(outcome.problems[0])).toMatch(/^a\.csv(:\d+(:\d+)?)?: \S/);
  });

  it('a binary file', () => {
    expect(problemsOf(importRaw(Uint8Array.from({ length: 1000 }, (_, i) => (i * 7) % 256)))).toEqual([
      'binary-file 1:1',
    ]);
  });

  it('random bytes without a zero', () => {
    const bytes = Uint8Array.from({ length: 4000 }, (_, i) => 1 + ((i * 7919 + ((i * i) % 251)) % 255));
    expect(importRaw(bytes).ok).toBe(false);
  });

  it('codes that differ have sentences that differ', () => {
    const sentences = new Map<string, string>();
    for (const { text } of brokenFiles) {
      const outcome = importText(text);
      if (!outcome.ok) for (const { code, sentence } of outcome.problems) sentences.set(sentence, code);
    }
    const heads = new Map([...sentences].map(([sentence, code]) => [sentence.replace(/^‘.*?’[^a-z]*/, ''), code]));
    expect(new Set(heads.values()).size).toBe(new Set(sentences.values()).size);
    expect(new Set(sentences.values()).size).toBeGreaterThan(20);
  });
});

describe('every problem of a file is told, up to a number', () => {
  it('three in three rows', () => {
    const text = withLine(7, '0.05,NaN').replace('0.10,20.000', '0.10').replace('0.15,5.000', '0.15,x');
    expect(problemsOf(importText(text))).toEqual(['not-a-number 7:6', 'too-few-fields 12:5', 'text-in-number 17:6']);
  });

  it('nineteen and a word that there may be more', () => {
    const text = plainFile(100).replace(/,(-?\d+\.\d+)/g, ',?');
    const outcome = importText(
      `time_us,amplitude_pct\n${plainRows(10).join('\n')}\n${text.split('\n').slice(12).join('\n')}`,
    );
    expect(outcome.ok).toBe(false);
    if (outcome.ok) return;
    expect(outcome.problems).toHaveLength(20);
    expect(outcome.problems[19].code).toBe('more-problems');
  });
});

describe('what only looks broken is read', () => {
  it.each([
    { name: 'a last line without a line end', text: plainFile().trimEnd(), samples: 40 },
    { name: 'blank lines at the end', text: `${plainFile()}\n\n`, samples: 40 },
    { name: 'a last row of delimiters alone', text: `${plainFile()},\n`, samples: 40, warning: 'blank-last-row' },
    { name: 'two last rows of delimiters alone', text: `${plainFile()},\n,\n`, samples: 40, warning: 'blank-last-row' },
    { name: 'a blank line between rows', text: withLine(7, '0.05,35.000\n'), samples: 40 },
    { name: 'a comment between rows', text: withLine(7, '0.05,35.000\n# pause'), samples: 40 },
    { name: 'quoted numbers', text: withLine(7, '"0.05","35.000"'), samples: 40 },
    { name: 'blanks around numbers', text: withLine(7, ' 0.05 , 35.000 '), samples: 40 },
    { name: 'a real minus sign', text: withLine(7, '0.05,−35'), samples: 40 },
  ])('$name', ({ text, samples, warning }) => {
    const file = readText(text);
    expect(file.traces.map((trace) => trace.samples)).toEqual([samples]);
    expect(codesOf(file.warnings)).toEqual(warning === undefined ? [] : [warning]);
  });

  it('a place behind blank lines and comments is still right', () => {
    const rows = plainRows(40);
    rows.splice(10, 0, '', '# pause', '');
    rows[30] = '0.27,x';
    expect(problemsOf(importText(`time_us,amplitude_pct\n${rows.join('\n')}\n`))).toEqual(['text-in-number 32:6']);
    const uneven = plainRows(40);
    uneven.splice(10, 0, '', '# pause', '');
    uneven.splice(30, 1);
    expect(problemsOf(importText(`time_us,amplitude_pct\n${uneven.join('\n')}\n`))).toEqual(['uneven-time 32:1']);
  });

  it('a last value that may be cut off is mentioned', () => {
    const file = readText(`${plainFile()}0.40,1.2`);
    expect(codesOf(file.warnings)).toEqual(['last-value-may-be-cut']);
    expect(codesOf(readText(`${plainFile()}0.40,1.250`).warnings)).toEqual([]);
    expect(codesOf(readText(`${plainFile()}0.40,1.2\n`).warnings)).toEqual([]);
  });
});

it('a broken file gives nothing half-read, in pieces as in whole', () => {
  const bytes = bytesOf(withLine(30, '0.28,abc'));
  for (let edge = 1; edge < bytes.length; edge += 13) {
    expect(problemsOf(importPieces(bytes, [edge, edge + 1, edge + 5]))).toEqual(['text-in-number 30:6']);
  }
});

describe('an uneven axis is resampled only when told to', () => {
  const text = plainFile(40).replace('0.20,-10.000\n', '');

  it('refused, and nothing is given out', () => {
    expect(importText(text).ok).toBe(false);
  });

  it('resampled along straight lines, with a warning that names the line', () => {
    const file = readText(text, { uneven: 'resample' });
    expect(file.warnings.map(({ code, place }) => `${code} ${place.line}`)).toEqual(['resampled 22']);
    const { waveform } = file.captures[0];
    expect(waveform.samples).toHaveLength(39);
    expect(waveform.stepUs).toBeCloseTo(0.39 / 38, 12);
    expect([waveform.samples[0], waveform.samples[38]]).toEqual([-50, -7]);
    // A straight line stays one: rows of amplitude 100 · time.
    const line = readText(['time_us,a_pct', '0,0', '1,100', '2,200', '4,400', '5,500'].join('\n'), {
      uneven: 'resample',
    });
    expect([...line.captures[0].waveform.samples]).toEqual([0, 125, 250, 375, 500]);
  });

  it('a backward axis is refused all the same', () => {
    expect(problemsOf(importText(withLine(20, '0.05,1'), { uneven: 'resample' }))).toEqual(['backward-time 20:1']);
  });
});
