import { describe, expect, it } from 'vitest';
import { readZipDirectory, readZipEntry } from '../../core/evidence/read-zip.ts';
import { importBytes } from '../../core/import/import-file.ts';
import { inferEverything } from '../../core/import/import-recipe.ts';
import { readManifest } from '../../core/import/manifest.ts';
import { type Outcome, problem } from '../../core/outcome.ts';
import { openReview } from '../../core/review/open-review.ts';
import { emptyReview } from '../../core/review/review.ts';
import { zipBytes } from '../build/zip.ts';
import { bytesOf, ofGood, plainFile } from '../core/import/csv-bytes.ts';
import { wrongAnswer } from '../fuzz/arguments/arguments.ts';
import { faultsIn, fileName } from '../fuzz/importer/judge.ts';
import { judgeDocument, reviewDifference } from '../fuzz/json/documents.ts';
import { judgeManifest } from '../fuzz/manifest.ts';
import { judgeZip } from '../fuzz/package/package.ts';
import { Session } from '../fuzz/session.ts';
import { subjects } from '../fuzz/subjects.ts';

/** So many inputs of each kind in every run of the tests; `npm run fuzz` goes on from there. */
const inputs: Readonly<Record<string, number>> = {
  importer: 400,
  manifest: 250,
  review: 200,
  recipe: 300,
  'stated-probes': 300,
  package: 250,
  arguments: 40,
};

describe('inputs made by chance: what is read is what a slow reader reads, what is refused has its place', () => {
  it.each(subjects.map((subject) => [subject.name, subject] as const))('%s', async (name, subject) => {
    const session = new Session(subject, 20_260_302, []);
    const faults: string[] = [];
    for (let i = 0; i < inputs[name]; i++) faults.push(...((await session.next())?.faults ?? []));
    expect(faults).toEqual([]);
    // Enough ways through the program were gone.
    expect(session.outcomes.size).toBeGreaterThan(name === 'arguments' ? 12 : 18);
  });
});

describe('the judges see what is wrong', () => {
  const bytes = bytesOf(plainFile(40));
  const file = ofGood(importBytes(fileName, bytes, inferEverything, null));
  const ofFile = (changed: Partial<typeof file>) =>
    faultsIn({ ok: true, value: { ...file, ...changed }, warnings: [] }, inferEverything, bytes, null);
  const withWaveform = (changed: object) =>
    ofFile({ captures: file.captures.map((one) => ({ ...one, waveform: { ...one.waveform, ...changed } })) });
  const { samples, stepUs, startUs } = file.captures[0].waveform;

  it('nothing in a file that was read well', () => {
    expect(ofFile({})).toEqual([]);
  });

  it.each([
    ['a sample off by its last bit', () => withWaveform({ samples: samples.with(7, samples[7] * (1 + 2 ** -52)) })],
    ['samples one row late', () => withWaveform({ samples: samples.map((_, i) => samples[Math.max(0, i - 1)]) })],
    ['samples a thousand times too large', () => withWaveform({ samples: samples.map((sample) => sample * 1000) })],
    ['a step a thousand times too long', () => withWaveform({ stepUs: stepUs * 1000 })],
    ['a start two samples late', () => withWaveform({ startUs: startUs + 2 * stepUs })],
    ['a lost row', () => ofFile({ traces: file.traces.map((trace) => ({ ...trace, samples: trace.samples - 1 })) })],
    ['a trace too many', () => ofFile({ traces: [...file.traces, ...file.traces] })],
    ['a decimal mark taken for the other', () => ofFile({ decimalMark: ',' })],
  ])('%s', (_name, faults) => {
    expect(faults()).not.toEqual([]);
  });

  it.each([
    ['beyond the last line', { line: 42, column: 1 }],
    ['beyond the end of its line', { line: 2, column: 20 }],
    ['without a line', { line: null, column: null }],
  ])('a problem %s', (_name, place) => {
    const refused: Outcome<never> = {
      ok: false,
      problems: [problem('text-in-number', { file: fileName, ...place }, 'This is said of a wrong place.')],
    };
    expect(faultsIn(refused, inferEverything, bytes, null)).not.toEqual([]);
  });

  it('a well written file that is refused, or read as another', () => {
    const truth = { traces: [{ name: 'amplitude_pct', samples: [...samples] }], startUs, stepUs };
    expect(faultsIn({ ok: true, value: file, warnings: [] }, inferEverything, bytes, truth)).toEqual([]);
    const other = { ...truth, traces: [{ name: 'amplitude_pct', samples: [...samples].reverse() }] };
    expect(faultsIn({ ok: true, value: file, warnings: [] }, inferEverything, bytes, other)).not.toEqual([]);
    const refused: Outcome<never> = {
      ok: false,
      problems: [problem('uneven-time', { file: fileName, line: 2 }, 'It is uneven.')],
    };
    expect(faultsIn(refused, inferEverything, bytes, truth)).not.toEqual([]);
  });

  it.each([
    ['a part lost', JSON.stringify({ ...emptyReview, title: 'Weld 12' }), emptyReview],
    ['a text that is not JSON', '{"format": "ascan-review",}', emptyReview],
    ['a name twice', JSON.stringify(emptyReview).replace('{', '{"title":"x",'), emptyReview],
  ])('a review that was read with %s', (_name, text, value) => {
    expect(judgeDocument(text, { ok: true, value, warnings: [] }, reviewDifference).faults).not.toEqual([]);
    expect(judgeDocument(text, openReview('a.json', text), reviewDifference).faults).toEqual([]);
  });

  it('a manifest with a row lost or a cell changed', () => {
    const table = bytesOf('file,gain_db\na.csv,42\nb.csv,43\n');
    const manifest = ofGood(readManifest('manifest.csv', table));
    const faults = (rows: typeof manifest.rows) =>
      judgeManifest(table, { ok: true, value: { ...manifest, rows }, warnings: [] }, null).faults;
    expect(faults(manifest.rows)).toEqual([]);
    expect(faults(manifest.rows.slice(1))).not.toEqual([]);
    expect(faults(manifest.rows.map((row) => ({ ...row, file: 'c.csv' })))).not.toEqual([]);
  });

  it('a packed file with a byte changed, or read under a name that leads out', () => {
    const data = new TextEncoder().encode('1,2');
    const zip = zipBytes([{ name: 'a.csv', data }]);
    const changing: typeof readZipEntry = (file, source, entry, take) =>
      readZipEntry(file, source, entry, (part) => take(part.map((byte) => byte ^ 1)));
    const renaming: typeof readZipDirectory = (file, source) => {
      const entries = readZipDirectory(file, source);
      return entries.ok
        ? { ...entries, value: entries.value.map((entry) => ({ ...entry, name: '../a.csv' })) }
        : entries;
    };
    expect(judgeZip(zip, null).faults).toEqual([]);
    expect(judgeZip(zip, null, { readZipDirectory, readZipEntry: changing }).faults).not.toEqual([]);
    expect(judgeZip(zip, null, { readZipDirectory: renaming, readZipEntry: () => [] }).faults).not.toEqual([]);
  });

  it.each([
    ['a quantity in another unit', { from: 20_000 }, [{}], 'Echoes'],
    ['a figure that is no number', { from: 20 }, [{ time_us: Number.NaN }], 'Echoes'],
    ['a table that says NaN', { from: 20 }, [{}], 'NaN'],
  ])('an answer with %s', (_name, options, documents, words) => {
    const given = ['echoes', 'a.csv', '--from', '20us'];
    expect(wrongAnswer({ options, documents, words }, given)).not.toEqual([]);
    expect(wrongAnswer({ options: { from: 20 }, documents: [{}], words: 'Echoes' }, given)).toEqual([]);
  });
});
