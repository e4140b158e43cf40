import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../core/capture/capture.ts';
import { describedBy, readManifest } from '../../../core/import/manifest.ts';
import { bytesOf, ofGood, plainFile, problemsOf, readText } from './csv-bytes.ts';

const [plain] = readText(`# gain_db: 40\n${plainFile()}`).captures;
const captureOf = (file: string, trace = 'a'): Capture => ({ ...plain, file, trace });
const manifestOf = (text: string, file = 'shift/manifest.csv') => ofGood(readManifest(file, bytesOf(text)));

describe('a manifest that cannot be used', () => {
  it.each([
    { name: 'empty', text: '', problems: ['empty-file null:null'] },
    { name: 'comments alone', text: '# nothing\n', problems: ['empty-file null:null'] },
    { name: 'no column of files', text: 'gain_db\n42\n', problems: ['manifest-without-file 1:1'] },
    { name: 'a row without a file', text: 'file,gain_db\n,42\n', problems: ['manifest-row-without-file 2:1'] },
    { name: 'a row too short', text: 'file,gain_db\na.csv\n', problems: ['manifest-row-length 2:6'] },
    { name: 'one file twice', text: 'file,gain_db\na.csv,42\na.csv,43\n', problems: ['manifest-row-twice 3:1'] },
    { name: 'an open quotation mark', text: 'file,probe\na.csv,"x\n', problems: ['unterminated-quote 2:7'] },
    { name: 'an ambiguous date', text: 'file,taken_at\na.csv,03/04/2026 06:00\n', problems: ['ambiguous-date 2:null'] },
    { name: 'a packed file', text: 'PK\u0003\u0004', problems: ['binary-file 1:1'] },
  ])('$name', ({ text, problems }) => {
    expect(problemsOf(readManifest('manifest.csv', bytesOf(text)))).toEqual(problems);
  });

  it.each([
    ['a comma that may separate thousands', 'file;gain_db\na.csv;1,234\n', 'ambiguous-figure 2'],
    ['a point that may, beside decimal commas', 'file;gain_db;position_mm\na.csv;1.234;0,5\n', 'ambiguous-figure 2'],
    ['a date with points', 'file,taken_at\na.csv,03.04.2026 06:05 Z\n', 'day-first-assumed 2'],
  ])('%s is mentioned at its line, and never taken in silence', (_name, text, warning) => {
    const outcome = readManifest('manifest.csv', bytesOf(text));
    expect(outcome.ok && outcome.warnings.map(({ code, place }) => `${code} ${place.line}`)).toEqual([warning]);
    expect(outcome.ok && outcome.value.rows[0].facts.gainDb).toBeNull();
  });

  it('an ambiguous date asks for another way of writing alone: no option reaches a manifest', () => {
    const outcome = readManifest('manifest.csv', bytesOf('file,taken_at\na.csv,03/04/2026\n'));
    if (!outcome.ok) expect(outcome.problems[0].sentence).not.toMatch(/--/);
    expect(outcome.ok).toBe(false);
  });

  it('a value that is not understood is mentioned at its line', () => {
    const outcome = readManifest('manifest.csv', bytesOf('file,gain_db\na.csv,42\nb.csv,high\n'));
    expect(outcome.ok && outcome.warnings.map(({ code, place }) => `${code} ${place.line}`)).toEqual([
      'gain-not-understood 3',
    ]);
  });
});

describe('a manifest fills what is known of each capture', () => {
  const text =
    'file;trace;Gain (dB);position_mm;across_mm;taken_at;probe;block;temperature (°C)\n# morning\na.csv;;42,5;-1,5;26;2026-03-02T06:05:00Z;"P-7; 4 MHz";two steps;21\nb.csv;ch2;50;3;;;;;\n';

  it('by the name of its file', () => {
    expect(describedBy(captureOf('shift/a.csv'), manifestOf(text))).toMatchObject({
      gainDb: 42.5,
      positionMm: -1.5,
      acrossMm: 26,
      takenAt: '2026-03-02T06:05:00Z',
      probe: 'P-7; 4 MHz',
      instrument: null,
      block: 'two steps',
      temperatureC: 21,
    });
  });

  it('and by its trace where it names one', () => {
    expect(describedBy(captureOf('shift/b.csv', 'ch2'), manifestOf(text))).toMatchObject({
      gainDb: 50,
      positionMm: 3,
      acrossMm: null,
      probe: null,
      instrument: null,
    });
    expect(describedBy(captureOf('shift/b.csv', 'ch1'), manifestOf(text)).gainDb).toBe(40);
  });

  it('before the preamble, and both stay visible in the metadata', () => {
    const described = describedBy(captureOf('shift/a.csv'), manifestOf(text));
    expect(described.metadata.filter(({ key }) => /gain/i.test(key))).toEqual([
      { key: 'gain_db', value: '40' },
      { key: 'Gain (dB)', value: '42,5' },
    ]);
  });

  it('leaves the capture itself untouched', () => {
    const capture = captureOf('shift/a.csv');
    describedBy(capture, manifestOf(text));
    expect(capture.gainDb).toBe(40);
  });

  it.each([
    { name: 'its own folder', capture: 'shift/a.csv', manifest: 'shift/manifest.csv', named: 'a.csv', isMeant: true },
    {
      name: 'a file of that name in another folder',
      capture: 'other/a.csv',
      manifest: 'shift/manifest.csv',
      named: 'a.csv',
      isMeant: false,
    },
    {
      name: 'a path from its folder',
      capture: 'shift/early/a.csv',
      manifest: 'shift/manifest.csv',
      named: 'early/a.csv',
      isMeant: true,
    },
    {
      name: 'a path with a dot and backslashes',
      capture: 'shift/early/a.csv',
      manifest: './shift/manifest.csv',
      named: '.\\early\\a.csv',
      isMeant: true,
    },
    {
      name: 'bare names, as a browser has them',
      capture: 'a.csv',
      manifest: 'manifest.csv',
      named: 'a.csv',
      isMeant: true,
    },
    {
      name: 'a manifest given by hand',
      capture: 'other/a.csv',
      manifest: 'notes/monday.csv',
      named: 'a.csv',
      isMeant: true,
    },
    { name: 'another file', capture: 'shift/aa.csv', manifest: 'shift/manifest.csv', named: 'a.csv', isMeant: false },
  ])('$name: $isMeant', ({ capture, manifest, named, isMeant }) => {
    const described = describedBy(captureOf(capture), manifestOf(`file,gain_db\n${named},66\n`, manifest));
    expect(described.gainDb).toBe(isMeant ? 66 : 40);
  });

  it('in UTF-16 and Latin-1', () => {
    for (const encoding of ['utf-16le', 'latin-1'] as const) {
      const manifest = ofGood(readManifest('manifest.csv', bytesOf('file,block\na.csv,Stück\n', encoding)));
      expect(describedBy(captureOf('a.csv'), manifest).block).toBe('Stück');
    }
  });

  it('what was read can be sent to a worker', () => {
    const manifest = manifestOf(text);
    expect(structuredClone(manifest)).toEqual(manifest);
  });
});
