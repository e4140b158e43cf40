import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { unzipSync, zipSync } from 'fflate';
import { beforeAll, describe, expect, it } from 'vitest';
import { packageReview } from '../../electron/cli/commands/package.ts';
import { report } from '../../electron/cli/commands/report.ts';
import { verify } from '../../electron/cli/commands/verify.ts';
import { Refusal } from '../../electron/cli/refusal.ts';
import { sampleReview } from '../build/sample-report.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'workbench-evidence-'));
const at = (...parts: string[]) => join(folder, ...parts);
const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');
const packed = at('sample.zip');

function cli(...words: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, ['electron/cli/run.mjs', ...words], {
    cwd: root,
    encoding: 'utf8',
  });
  // Where a source is younger than the build, the build says so first.
  return { status, out: stdout, err: stderr.replace('Building the command line …\n', '') };
}

/** The codes of what is refused. */
async function refusedBy(run: () => unknown): Promise<string[]> {
  try {
    await run();
  } catch (error) {
    if (error instanceof Refusal) return error.problems.map(({ code }) => code);
    throw error;
  }
  return [];
}

beforeAll(async () => {
  cli('blocks');
  await packageReview(sampleReview, { out: packed });
  // A build may be under way.
}, 180_000);

describe('report', () => {
  it('writes one page, names it with its hash, and ends as the evaluation does: with 1, since checks fail', () => {
    const { status, out, err } = cli('report', 'sample-data/review.json', '--out', at('reports', 'new'), '--json');
    expect([status, err]).toEqual([1, '']);
    const page = readFileSync(at('reports', 'new', 'report.html'));
    expect(JSON.parse(out).report).toEqual({
      file: at('reports', 'new', 'report.html'),
      bytes: page.length,
      sha256: sha256(page),
    });
    expect(readdirSync(at('reports', 'new'))).toEqual(['report.html']);
  });

  it('gives the same bytes wherever the review lies', async () => {
    cpSync(join(root, 'sample-data'), at('moved'), { recursive: true });
    await report(at('moved', 'review.json'), { out: at('a') });
    await report(sampleReview, { out: at('b') });
    expect(readFileSync(at('a', 'report.html')).equals(readFileSync(at('b', 'report.html')))).toBe(true);
  });

  it('writes over nothing unless it is told to', async () => {
    mkdirSync(at('kept'));
    writeFileSync(at('kept', 'report.html'), 'mine');
    const { status, out, err } = cli('report', 'sample-data/review.json', '--out', at('kept'));
    expect([status, out]).toEqual([2, '']);
    expect(err).toMatch(/report\.html: there is such a file already; give another name, or --replace/);
    expect(readFileSync(at('kept', 'report.html'), 'utf8')).toBe('mine');
    await report(sampleReview, { out: at('kept'), replace: true });
    expect(readFileSync(at('kept', 'report.html'), 'utf8')).toMatch(/^<!doctype html>/);
  });

  it.each([
    ['no folder given', () => report(sampleReview, {}), ['argument']],
    ['a review that is not there', () => report(at('nowhere.json'), { out: at('c') }), ['unreadable']],
    ['a file where the folder should be', () => report(sampleReview, { out: packed }), ['unwritable']],
    ['a folder where the file should be', () => report(sampleReview, { out: folderInPlace() }), ['output-is-folder']],
  ])('%s', async (_name, run, codes) => {
    expect(await refusedBy(run)).toEqual(codes);
    expect(existsSync(at('c'))).toBe(false);
  });
});

function folderInPlace(): string {
  mkdirSync(at('in-place', 'report.html'), { recursive: true });
  return at('in-place');
}

describe('package', () => {
  it('holds the captures, the manifest and the review as they came, byte for byte', () => {
    const files = unzipSync(readFileSync(packed));
    const review = JSON.parse(readFileSync(sampleReview, 'utf8'));
    const names: string[] = [...review.sources, ...review.manifests].map(({ file }: { file: string }) => file);
    for (const name of [...names, 'review.json'])
      expect(sha256(files[`review/${name}`]), name).toBe(sha256(readFileSync(join(root, 'sample-data', name))));
    expect(names.length).toBeGreaterThan(10);
  });

  it('describes every file that it holds by its length and its SHA-256', () => {
    const files = unzipSync(readFileSync(packed));
    const { resources } = JSON.parse(Buffer.from(files['datapackage.json']).toString());
    expect(resources.map(({ path }: { path: string }) => path).sort()).toEqual(
      Object.keys(files)
        .filter((name) => name !== 'datapackage.json')
        .sort(),
    );
    for (const { path, bytes, hash } of resources)
      expect([bytes, hash]).toEqual([files[path].length, `sha256:${sha256(files[path])}`]);
  });

  it('holds the very report that the command report writes', async () => {
    await report(sampleReview, { out: at('same-report') });
    const { 'report.html': page } = unzipSync(readFileSync(packed));
    expect(sha256(page)).toBe(sha256(readFileSync(at('same-report', 'report.html'))));
  });

  it('two runs give the same bytes, in another time zone too, and name them by their hash', () => {
    const { status, stdout } = spawnSync(
      process.execPath,
      ['electron/cli/run.mjs', 'package', 'sample-data/review.json', '--out', at('again.zip'), '--json'],
      { cwd: root, encoding: 'utf8', env: { ...process.env, TZ: 'Asia/Kathmandu', LC_ALL: 'de_DE.UTF-8' } },
    );
    expect(status).toBe(1);
    expect(readFileSync(at('again.zip')).equals(readFileSync(packed))).toBe(true);
    expect(JSON.parse(stdout).package.sha256).toBe(sha256(readFileSync(packed)));
  });

  it('its review evaluates where it was unpacked', async () => {
    for (const [name, bytes] of Object.entries(unzipSync(readFileSync(packed)))) {
      mkdirSync(join(at('unpacked'), name, '..'), { recursive: true });
      writeFileSync(join(at('unpacked'), name), bytes);
    }
    await report(at('unpacked', 'review', 'review.json'), { out: at('unpacked-report') });
    expect(readFileSync(at('unpacked-report', 'report.html')).equals(readFileSync(at('unpacked', 'report.html')))).toBe(
      true,
    );
  });

  it('a review that names files above its folder: they get names inside, the review as it was saved stands beside, and all verifies', async () => {
    cpSync(join(root, 'sample-data'), at('yard', 'captures'), { recursive: true });
    mkdirSync(at('yard', 'reviews'));
    const review = JSON.parse(readFileSync(sampleReview, 'utf8'));
    const above = (value: unknown): unknown =>
      typeof value === 'string' && /\.csv/.test(value)
        ? `../captures/${value}`
        : Array.isArray(value)
          ? value.map(above)
          : typeof value === 'object' && value !== null
            ? Object.fromEntries(
                Object.entries(value).map(([key, part]) => [key, key === 'notes' ? part : above(part)]),
              )
            : value;
    const text = JSON.stringify(above(review));
    writeFileSync(at('yard', 'reviews', 'review.json'), text);
    await packageReview(at('yard', 'reviews', 'review.json'), { out: at('yard.zip') });
    const files = unzipSync(readFileSync(at('yard.zip')));
    expect(Object.keys(files)).toContain('review/above/captures/reference-block.csv');
    expect(Buffer.from(files['review/as-saved-review.json']).toString()).toBe(text);
    expect(verify(at('yard.zip')).trusted).toBe(true);
  });

  const spoiled = (name: string, spoil: (path: string) => void) => {
    cpSync(join(root, 'sample-data'), at(name), { recursive: true });
    spoil(at(name, 'shift', 'check-3.csv'));
    return () => packageReview(at(name, 'review.json'), { out: at(`${name}.zip`) });
  };
  it.each([
    [
      'a capture that was changed since',
      'altered',
      (path: string) => writeFileSync(path, `${readFileSync(path, 'latin1')}\n`, 'latin1'),
      ['source-changed'],
    ],
    ['a capture that is gone', 'gone', (path: string) => rmSync(path), ['source-missing']],
  ])('%s: no evidence, and nothing written', async (_name, name, spoil, codes) => {
    expect(await refusedBy(spoiled(name, spoil))).toEqual(codes);
    expect(existsSync(at(`${name}.zip`))).toBe(false);
    expect(readdirSync(folder).filter((file) => file.endsWith('.part'))).toEqual([]);
  });

  it('writes over nothing unless it is told to', async () => {
    expect(await refusedBy(() => packageReview(sampleReview, { out: packed }))).toEqual(['output-exists']);
    expect(await refusedBy(() => packageReview(sampleReview, {}))).toEqual(['argument']);
  });
});

type Files = Record<string, Uint8Array>;
const text = (bytes: Uint8Array) => Buffer.from(bytes).toString('utf8');
const bytes = (words: string) => new Uint8Array(Buffer.from(words, 'utf8'));

/** The sample's package with its files changed; `sealed`: by someone who made the descriptor fit again. */
function changed(name: string, change: (files: Files) => void, sealed: boolean): string {
  const files = unzipSync(readFileSync(packed));
  change(files);
  if (sealed) {
    const descriptor = JSON.parse(text(files['datapackage.json']));
    for (const resource of descriptor.resources) {
      const file = files[resource.path];
      if (file === undefined) continue;
      resource.bytes = file.length;
      resource.hash = `sha256:${sha256(file)}`;
    }
    files['datapackage.json'] = bytes(JSON.stringify(descriptor, null, 2));
  }
  const path = at(`${name}.zip`);
  writeFileSync(path, zipSync(files, { mtime: '1990-01-01T12:00:00' }));
  return path;
}

const replaced = (path: string, from: string | RegExp, to: string) => (files: Files) => {
  const before = text(files[path]);
  const after = before.replace(from, to);
  expect(after, `${path} has ${from} in it`).not.toBe(before);
  files[path] = bytes(after);
};

interface Verification {
  readonly same: boolean;
  readonly differences: readonly {
    file: string;
    row: number | null;
    figure: string | null;
    packed: string | null;
    anew: string | null;
  }[];
}

describe('verify', () => {
  it('a package as it was made: 0, with its hash', () => {
    const { status, out, err } = cli('verify', packed, '--json');
    expect([status, err]).toEqual([0, '']);
    const document = JSON.parse(out);
    expect(document).toMatchObject({
      format: 'ascan-verification',
      same: true,
      differences: [],
      report_left_out: null,
    });
    expect(document.package.sha256).toBe(sha256(readFileSync(packed)));
    expect(document.package.results_compared).toBeGreaterThan(15);
  });

  it('zipped anew by another program it is the same evidence', () => {
    expect(verify(changed('rezipped', () => {}, false)).trusted).toBe(true);
  });

  it('a figure altered in a table, with the descriptor made to fit: file, row, figure, and both figures', () => {
    const path = changed(
      'figure',
      replaced('results/readings.csv', /^(plate-weld.*capture_11_pct,root,)25\.\d+/m, '$125.5'),
      true,
    );
    const { status, out } = cli('verify', path, '--json');
    expect(status).toBe(1);
    const [difference, ...more] = (JSON.parse(out) as Verification).differences;
    expect(more).toEqual([]);
    expect(difference).toMatchObject({ file: 'results/readings.csv', row: 12, figure: 'time_us', packed: '25.5' });
    expect(Number(difference.anew)).toBeCloseTo(25.82, 1);
  });

  it.each([
    [
      'a rating made better',
      'indications',
      /^(root,.*,si,51\.57\d*,46,0,0\.4\d*,)5\.57\d*/m,
      '$112.5',
      2,
      'rating_rating_db',
      '12.5',
    ],
    [
      'a root put deeper',
      'location',
      /^(plate-weld.*capture_11_pct,root,[^,]*,[^,]*,[^,]*,1,)[\d.]+/m,
      '$119.9',
      12,
      'depth_mm',
      '19.9',
    ],
    [
      'the damped echo made to stay',
      'location-damping-echoes',
      /changed,Changed/,
      'unchanged,Changed',
      3,
      'outcome',
      'unchanged',
    ],
  ])('%s: the table, the row and the figure', (_, table, from, to, row, figure, packed) => {
    const file = `results/${table}.csv`;
    const { differences } = verify(changed(table, replaced(file, from, to), true)).document as Verification;
    expect(differences).toHaveLength(1);
    expect(differences[0]).toMatchObject({ file, row, figure, packed });
  });

  it('a verdict altered in the document, by its place in it', () => {
    const path = changed('verdict', replaced('results/results.json', '"verdict": "fail"', '"verdict": "pass"'), true);
    const { differences } = verify(path).document as Verification;
    expect(differences).toEqual([
      { file: 'results/results.json', row: null, figure: 'drift.checks[6].verdict', packed: '"pass"', anew: '"fail"' },
    ]);
  });

  it('a verdict altered in the report', () => {
    const path = changed('report', replaced('report.html', 'verdict verdict-fail', 'verdict verdict-pass'), true);
    const { differences } = verify(path).document as Verification;
    expect(differences).toMatchObject([{ file: 'report.html' }]);
    expect(differences[0].row).toBeGreaterThan(10);
  });

  it('a decision altered in the review, with the descriptor made to fit: the results that follow are others', () => {
    const path = changed('decision', replaced('review/review.json', '"rangeMm": 250', '"rangeMm": 400'), true);
    const answer = verify(path);
    expect(answer.trusted).toBe(false);
    expect((answer.document as Verification).differences.map(({ file }) => file)).toContain(
      'results/drift-checks-reflectors-verdicts.csv',
    );
    expect(answer.words()).toMatch(/drift-checks/);
  });

  it('a capture altered, with descriptor and review made to fit: the readings are others', () => {
    const path = changed(
      'capture',
      (files) => {
        const name = 'review/reference-block.csv';
        const before = sha256(files[name]);
        replaced(name, /^69\.0\d,(-?\d)/m, '69.02,5$1')(files);
        replaced('review/review.json', before, sha256(files[name]))(files);
      },
      true,
    );
    const answer = verify(path);
    expect(answer.trusted).toBe(false);
    const { differences } = answer.document as Verification;
    expect(differences.some(({ file, figure }) => file === 'results/captures.csv' && figure === 'sha256')).toBe(true);
  });

  it.each<[string, (files: Files) => void, boolean, string[]]>([
    ['a capture altered', replaced('review/shift/check-1.csv', '0', '1'), false, ['other-hash', 'not-of-review']],
    [
      'a capture longer than stated',
      (files) => {
        files['review/shift/check-1.csv'] = bytes(`${text(files['review/shift/check-1.csv'])}\n`);
      },
      false,
      ['other-length', 'not-of-review'],
    ],
    [
      'a capture altered, and described as it is',
      replaced('review/shift/check-1.csv', '0', '1'),
      true,
      ['not-of-review'],
    ],
    ['a capture gone', (files) => delete files['review/shift/check-1.csv'], false, ['missing-file']],
    ['results gone', (files) => delete files['results/readings.csv'], false, ['missing-file', 'missing-result']],
    [
      'a file that nobody describes',
      (files) => {
        files['note.txt'] = bytes('x');
      },
      false,
      ['extra-file'],
    ],
    [
      'a capture that is described as something else',
      replaced(
        'datapackage.json',
        /"role": "captures",\n(\s*)"path": "review\/shift\/check-1/,
        '"role": "report",\n$1"path": "review/shift/check-1',
      ),
      false,
      ['undescribed-source', 'extra-result'],
    ],
    ['two reviews', replaced('datapackage.json', '"role": "manifest"', '"role": "review"'), false, ['no-review']],
    [
      'a review that is none',
      (files) => {
        files['review/review.json'] = bytes('{}');
      },
      true,
      ['not-a-review'],
    ],
  ])('%s', (name, change, sealed, codes) => {
    const answer = verify(changed(name.replaceAll(' ', '-'), change, sealed));
    expect(answer.trusted).toBe(false);
    const found = answer.problems.map(({ code }) => code);
    for (const code of codes) expect(found).toContain(code);
    expect((answer.document as Verification).same).toBe(false);
  });

  it.each<[string, () => string, string[]]>([
    ['a file that is not there', () => at('nowhere.zip'), ['unreadable']],
    ['a capture', () => join(root, 'sample-data', 'reference-block.csv'), ['not-a-zip']],
    [
      'a ZIP file that is no package',
      () => changed('no-package', (files) => delete files['datapackage.json'], false),
      ['no-descriptor'],
    ],
    [
      'a package of a newer program',
      () => changed('newer', replaced('datapackage.json', '"version": 1', '"version": 9'), false),
      ['package-too-new'],
    ],
    [
      'a descriptor that is not JSON',
      () =>
        changed(
          'broken',
          (files) => {
            files['datapackage.json'] = bytes('{');
          },
          false,
        ),
      ['not-json'],
    ],
  ])('%s is refused', async (_name, path, codes) => {
    expect(await refusedBy(() => verify(path()))).toEqual(codes);
  });

  it('what is refused ends with 2, a line on standard error and nothing on standard output', () => {
    const { status, out, err } = cli('verify', 'sample-data/reference-block.csv');
    expect([status, out]).toEqual([2, '']);
    expect(err).toBe(
      'sample-data/reference-block.csv: this is not a ZIP file; give a package that the command package made\n',
    );
  });

  it('a package by another version: its report is not made again, and that is said', () => {
    const version = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).version;
    const path = changed('older', replaced('datapackage.json', `"version": "${version}"`, '"version": "0.0.1"'), false);
    const answer = verify(path);
    expect(answer.trusted).toBe(true);
    expect((answer.document as { report_left_out: string }).report_left_out).toMatch(/made by version 0\.0\.1/);
  });
});
