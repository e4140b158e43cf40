import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const weld = (name: string): string => join('sample-data', 'plate-weld', name);

interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

function cli(...words: string[]): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, ['electron/cli/run.mjs', ...words], {
    cwd: root,
    encoding: 'utf8',
  });
  return { status, out: stdout, err: stderr };
}

// biome-ignore lint/suspicious/noExplicitAny: documents are checked key by key below
const document = (ran: Ran): any => JSON.parse(ran.out);

const folder = mkdtempSync(join(tmpdir(), 'workbench-indications-'));
const calibration = join(folder, 'cal.json');
const known = ['--calibration', calibration, '--gate', 'weld=20mm..60mm@20'];

beforeAll(() => {
  cli('blocks');
  const given = cli(
    'calibrate',
    join('sample-data', 'reference-block.csv'),
    '--block',
    'iso-2400/quadrant-return-25',
    '--json',
  );
  writeFileSync(calibration, given.out);
});

describe('size', () => {
  it('gives the root’s length, which lies within ± 2 u of the 45 mm that were put in', () => {
    const ran = cli('size', weld('first-leg.csv'), ...known, '--json');
    const [root, ...others] = document(ran).indications;
    expect(others).toEqual([]);
    expect(root).toMatchObject({
      name: 'at 80 mm and 26 mm across, path 30 mm',
      method: 'drop-6-db',
      is_at_least: false,
      flags: [],
    });
    expect(Math.abs(root.length_mm - 45)).toBeLessThanOrEqual(2 * root.u_length_mm);
    expect(root.arithmetic[0].with_numbers).toMatch(/mm − .* mm = .* mm/);
    expect(ran.status).toBe(0);
  });

  it.each([
    { method: ['--method', 'drop-20-db'], dropDb: 20 },
    { method: ['--method', 'drop-20-db', '--beam-width', '12.9mm'], dropDb: 20 },
    { method: ['--method', 'fixed-level=33'], dropDb: null },
  ])('$method', ({ method, dropDb }) => {
    const [root] = document(cli('size', weld('first-leg.csv'), ...known, ...method, '--json')).indications;
    expect(root.drop_db).toBe(dropDb);
    expect(root.length_mm).toBeGreaterThan(30);
  });

  it('reads as a table: ends and length with their uncertainty, and what is to be known', () => {
    const { out, status } = cli('size', weld('first-leg.csv'), ...known);
    expect(out).toMatch(/at 80 mm and 26 mm across, path 30 mm\s+proposed\s+80\.00\s+\d+\.\d+ ± \d/);
    expect(out).toMatch(/beam’s width is not known/);
    expect(out).not.toMatch(/unreferenced/);
    expect(status).toBe(0);
  });

  it('ends beyond the scan are at least, with status 1', () => {
    const gate = ['--calibration', calibration, '--gate', 'cap=66mm..72mm@20'];
    const ran = cli('size', weld('second-leg.csv'), ...gate);
    expect(ran.out).toMatch(/≥ 200\.00/);
    expect(ran.out).toMatch(/beyond-scan:/);
    expect(ran.status).toBe(1);
  });
});

describe('indications', () => {
  const rated = [
    '--reference',
    '80@46dB',
    '--rating',
    'si',
    '--angle',
    '60',
    '--angle-uncertainty',
    '0.5',
    '--thickness',
    '16mm',
  ];
  it('adds place, level and rating by d = a − b − c', () => {
    const ran = cli('indications', weld('second-leg.csv'), ...known, ...rated, '--json');
    const side = document(ran).indications.find(
      ({ name }: { name: string }) => name === 'at 135 mm and 49.5 mm across, path 50 mm',
    );
    expect(side).toMatchObject({ leg: 2, gain_taken_out_db: 6, unreferenced: null, without_rating: null });
    expect(side.depth_mm).toBeCloseTo(7, 1);
    const { rating } = side;
    expect(rating.rating_db).toBeCloseTo(
      rating.indication_level_db - rating.reference_level_db - rating.attenuation_factor_db,
      9,
    );
    expect(rating.attenuation_factor_db).toBe(2);
    expect(rating.caution).toMatch(/Acceptance is by the table of the code in force/);
    expect(side.echo_dynamic).toHaveLength(41);
  });

  it('without a reference: unreferenced, no rating, with the reason', () => {
    const ran = cli('indications', weld('first-leg.csv'), ...known, '--rating', 'inch', '--json');
    const [root] = document(ran).indications;
    expect(root).toMatchObject({ level_db: null, rating: null });
    expect(root.without_rating).toMatch(/only a distance calibration/);
    expect(root.flags).toContain('unreferenced');
  });

  it('writes a CSV, not over what is there', () => {
    const csv = join(folder, 'indications.csv');
    expect(cli('indications', weld('first-leg.csv'), ...known, ...rated, '--csv', csv).status).toBe(0);
    const [head, row] = readFileSync(csv, 'utf8').split('\r\n');
    expect(head).toMatch(/^Name,Decision,Along the weld \(mm\),From \(mm\),u of From \(mm\)/);
    expect(row).toMatch(/^"at 80 mm and 26 mm across, path 30 mm",proposed,80\.00,/);
    const again = cli('indications', weld('first-leg.csv'), ...known, '--csv', csv);
    expect(again).toMatchObject({ status: 2, out: '' });
    expect(again.err).toMatch(/--replace/);
  });
});

describe('what cannot be used ends with status 2, one line for each problem, and nothing on standard output', () => {
  const rows: [string, string[], RegExp][] = [
    [
      'no calibration',
      ['size', weld('first-leg.csv'), '--gate', 'weld=20mm..60mm@20'],
      /^--calibration: a scan needs sound paths/,
    ],
    ['no gate', ['size', weld('first-leg.csv'), '--calibration', 'CAL'], /^--gate: give one gate in sound path/],
    [
      'two gates',
      [
        'size',
        weld('first-leg.csv'),
        ...['--calibration', 'CAL', '--gate', 'a=20mm..60mm@20', '--gate', 'b=20mm..60mm@20'],
      ],
      /there are 2/,
    ],
    [
      'a gate in time',
      ['size', weld('first-leg.csv'), '--calibration', 'CAL', '--gate', 'weld=20us..60us@20'],
      /in time; a scan is looked through in sound path/,
    ],
    [
      'a gate past the recorded range',
      ['size', weld('first-leg.csv'), '--calibration', 'CAL', '--gate', 'weld=400mm..500mm@20'],
      /holds none of the sound paths looked at/,
    ],
    [
      'a method that is none',
      ['size', weld('first-leg.csv'), ...['--calibration', 'CAL', '--gate', 'weld=20mm..60mm@20', '--method', 'half']],
      /^--method: "half" is no way to size/,
    ],
    ['a fixed level of nothing', ['size', weld('first-leg.csv'), '--method', 'fixed-level=0'], /^--method/],
    [
      'half of a curve without one',
      [
        'size',
        weld('first-leg.csv'),
        '--calibration',
        'CAL',
        '--gate',
        'weld=20mm..60mm@20',
        '--method',
        'half-of-curve',
      ],
      /^--method: this needs a distance-amplitude curve/,
    ],
    ['a bare number for a width', ['size', weld('first-leg.csv'), '--beam-width', '7'], /has no unit/],
    [
      'a width of nought',
      ['size', weld('first-leg.csv'), '--calibration', 'CAL', '--gate', 'weld=20mm..60mm@20', '--beam-width', '0mm'],
      /^--beam-width/,
    ],
    [
      'a thickness of nought',
      [
        'indications',
        weld('first-leg.csv'),
        '--calibration',
        'CAL',
        '--gate',
        'weld=20mm..60mm@20',
        '--angle',
        '60',
        '--thickness',
        '0mm',
      ],
      /thickness of 0 mm cannot be/,
    ],
    [
      'a reference without its gain',
      ['indications', weld('first-leg.csv'), '--reference', '80'],
      /^--reference: "80" is not a reference level/,
    ],
    [
      'captures without positions',
      ['size', join('sample-data', 'step-block'), '--calibration', 'CAL', '--gate', 'weld=5mm..30mm@20'],
      /position along the scan/,
    ],
    ['no such file', ['size', 'nowhere.csv', '--calibration', 'CAL', '--gate', 'weld=20mm..60mm@20'], /no such file/],
  ];
  it.each(rows)('%s', (_, words, sentence) => {
    const ran = cli(...words.map((word) => (word === 'CAL' ? calibration : word)));
    expect(ran.err).toMatch(sentence);
    expect(ran).toMatchObject({ status: 2, out: '' });
  });

  it('both passes at once are two lines of one scan, by their places across', () => {
    const ran = cli('size', weld('first-leg.csv'), weld('second-leg.csv'), ...known, '--json');
    expect(document(ran).indications.map(({ name }: { name: string }) => name)).toEqual([
      'at 80 mm and 26 mm across, path 30 mm',
      'at 135 mm and 49.5 mm across, path 50 mm',
    ]);
  });

  it('evaluate prints the indications of a review that scans', () => {
    const ran = cli('evaluate', join('sample-data', 'review.json'));
    expect(ran.out).toMatch(/Indications\n\nScan: 82 positions on 2 lines/);
    expect(ran.out).toMatch(/porosity cluster/);
  });
});
