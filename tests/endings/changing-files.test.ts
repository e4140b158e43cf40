import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  appendFileSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { reportInputOf } from '../../core/evidence/review-report.ts';
import type { Review } from '../../core/review/review.ts';
import { metricStyle } from '../../core/units/figure-style.ts';
import { readFile } from '../../electron/cli/read-files.ts';
import { filesBeside } from '../../electron/cli/review-files.ts';
import { fileFacts } from '../../electron/cli/review-report.ts';
import { ChangedWhileRead, partsOf } from '../../electron/disk/read-parts.ts';
import { files } from '../../electron/files.ts';
import { tokens } from '../../electron/tokens.ts';
import { freshRecipe } from '../../renderer/state/source-list.ts';

let folder = '';
const at = (name: string) => join(folder, name);
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'changing-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const hash = (bytes: Uint8Array | string) => createHash('sha256').update(bytes).digest('hex');
const capture = (percent: number, rows = 60) =>
  `# rectification: rf\ntime_us,amplitude_pct\n${Array.from({ length: rows }, (_, i) => `${(i / 50).toFixed(2)},${i === 30 ? percent : (i % 3) - 1}`).join('\n')}\n`;

/** What may become of a file in the midst of its reading. */
const changes: readonly (readonly [what: string, change: (path: string) => void])[] = [
  ['grows', (path) => appendFileSync(path, 'x')],
  ['shrinks', (path) => truncateSync(path, 10)],
  ['is written anew, as long as it was', (path) => writeFileSync(path, 'y'.repeat(statSync(path).size))],
  ['is emptied', (path) => truncateSync(path, 0)],
];

describe('a file that is read part by part', () => {
  it('is its bytes, whatever the parts', () => {
    for (const length of [0, 1, 99, 100, 101, 250]) {
      const bytes = Buffer.from(Array.from({ length }, (_, i) => i));
      writeFileSync(at('it'), bytes);
      const parts = Array.from(partsOf(at('it'), new Uint8Array(100)), (part) => Buffer.from(part));
      expect(Buffer.concat(parts).equals(bytes)).toBe(true);
    }
  });

  it.each(changes)('and %s meanwhile is not taken for a whole one', (_what, change) => {
    writeFileSync(at('it'), 'a'.repeat(350));
    // The clock of a file system may be coarse.
    utimesSync(at('it'), 1e9, 1e9);
    const parts = partsOf(at('it'), new Uint8Array(100));
    parts.next();
    change(at('it'));
    expect(() => [...parts]).toThrow(ChangedWhileRead);
  });

  it('and is renamed over meanwhile is read as it was', () => {
    writeFileSync(at('it'), 'a'.repeat(250));
    const parts = partsOf(at('it'), new Uint8Array(100));
    const read = [Buffer.from(parts.next().value as Uint8Array)];
    writeFileSync(at('new'), 'b'.repeat(250));
    spawnSync('mv', [at('new'), at('it')]);
    for (const part of parts) read.push(Buffer.from(part));
    expect(Buffer.concat(read).toString()).toBe('a'.repeat(250));
  });

  it('that is a pipe gives little at a time, and is read to its end', async () => {
    spawnSync('mkfifo', [at('pipe.csv')]);
    const text = capture(50, 20_000);
    writeFileSync(at('plain.csv'), text);
    const writer = spawn('sh', ['-c', `cat '${at('plain.csv')}' > '${at('pipe.csv')}'`]);
    const read = readFile(at('pipe.csv'), freshRecipe);
    await new Promise((resolve) => writer.on('close', resolve));
    expect(read.ok && [read.value.sha256, read.value.captures[0]?.waveform.samples.length]).toEqual([
      hash(text),
      20_000,
    ]);
  });
});

describe('a part of a file that the window asks for', () => {
  it.each(changes)('is refused where the file %s after it was opened', async (_what, change) => {
    writeFileSync(at('a.csv'), 'a'.repeat(100));
    utimesSync(at('a.csv'), 1e9, 1e9);
    const store = files(tokens());
    const offered = (await store.offerOne(at('a.csv')))!;
    expect((await store.readPart(offered.token, 0, 50)).length).toBe(50);
    change(at('a.csv'));
    await expect(store.readPart(offered.token, 50, 50)).rejects.toThrow(
      /^a\.csv can no longer be read: it has been changed since it was opened; open it again\.$/,
    );
    // Opened again it is read, and the token of before still stands for what it was.
    const again = (await store.offerOne(at('a.csv')))!;
    const bytes = await store.readPart(again.token, 0, again.bytes);
    expect(Buffer.from(bytes).equals(readFileSync(at('a.csv')))).toBe(true);
    await expect(store.readPart(offered.token, 0, 50)).rejects.toThrow(/open it again/);
  });

  it('is refused in plain words where the file is gone', async () => {
    writeFileSync(at('a.csv'), 'a');
    const store = files(tokens());
    const offered = (await store.offerOne(at('a.csv')))!;
    rmSync(at('a.csv'));
    await expect(store.readPart(offered.token, 0, 1)).rejects.toThrow(
      /^a\.csv can no longer be read: it is no longer there\.$/,
    );
  });
});

describe('a report’s hash of a file', () => {
  it('is of the bytes that its figures are of, though the file is another by the time the report is made', () => {
    const sample = JSON.parse(
      readFileSync(new URL('../../sample-data/probes/review.json', import.meta.url), 'utf8'),
    ) as Review;
    const name = 'probe-21-capture-1.csv';
    const bytes = readFileSync(new URL(`../../sample-data/probes/${name}`, import.meta.url));
    writeFileSync(at(name), bytes);
    const small: Review = {
      ...sample,
      sources: sample.sources.filter(({ file }) => file === name).map((source) => ({ ...source, sha256: null })),
      probes: { ...sample.probes!, captures: [name], probes: [], reference: null },
      material: null,
    };
    const beside = filesBeside(at('review.json'), (file) => file);
    const made = reportInputOf({
      name: 'review.json',
      sha256: null,
      review: small,
      files: {
        ...beside,
        imported(file, recipe) {
          const read = beside.imported(file, recipe);
          writeFileSync(at(name), `${bytes}\n`);
          return read;
        },
      },
      facts: (file) => fileFacts(at(file)),
      program: { name: 'test', version: '1' },
      style: metricStyle,
    });
    expect(made.ok && made.value.evaluation.probes?.captures).toHaveLength(1);
    expect(made.ok && made.value.sources).toEqual([
      { file: name, kind: 'captures', bytes: bytes.length, sha256: hash(bytes) },
    ]);
  });
});
