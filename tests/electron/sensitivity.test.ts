import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const sound = (name: string): string => join('sample-data', 'instruments', 'sound', name);

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

const folder = mkdtempSync(join(tmpdir(), 'workbench-sensitivity-'));
const file = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};
const calibration = join(folder, 'cal.json');
const windows = ['25mm@8us..10us', '50mm@16.5us..19us', '75mm@25us..27us', '100mm@33us..36us'];
const reflectors = (given: readonly string[]) => given.flatMap((window) => ['--reflector', window]);
const curve = ['sensitivity', sound('sensitivity'), '--kind', 'side-drilled-hole', ...reflectors(windows)];
const backWall = ['attenuation', sound('back-wall.csv'), ...reflectors(['80mm@26us..29us', '160mm@53us..56us'])];
const readingPart = ['--read', sound('part'), '--gate', 'weld=30mm..80mm@20', '--separate'];

beforeAll(() => {
  cli('blocks');
  const given = cli('calibrate', sound('calibration.csv'), ...reflectors(windows), '--json');
  writeFileSync(calibration, given.out);
});

describe('what cannot be used ends with status 2, one line for each problem, and nothing on standard output', () => {
  const rows: [string, string[], RegExp][] = [
    ['no reflectors', ['sensitivity', sound('sensitivity'), '--kind', 'other'], /^--reflector: give the reflectors/],
    ['no kind of reflector', ['sensitivity', sound('sensitivity'), ...reflectors(windows)], /^--kind: say what/],
    ['a kind that is none', [...curve, '--kind', 'notch'], /^--kind: "notch" is none of side-drilled-hole/],
    [
      'a bare number for a distance',
      ['sensitivity', sound('sensitivity'), '--kind', 'other', ...reflectors(['25@8us..10us'])],
      /has no unit/,
    ],
    ['a level that is none', [...curve, '--transfer', 'two'], /^--transfer: "two" is not a level in dB/],
    ['levels that nobody published', [...curve, '--levels', 'yesterday'], /^--levels: "yesterday" is no published set/],
    ['a level twice', [...curve, '--levels', 'a=-6dB,a=-14dB'], /^--levels: the level "a" stands twice/],
    [
      'a file of levels that is none, by line',
      [...curve, '--levels', file('levels.json', '{\n "name": 3\n}')],
      /levels\.json:2:10: "name" must be/,
    ],
    ['a probe without a frequency', [...curve, '--probe', '10mm'], /^--probe: "10mm" is not a probe/],
    ['a gate without captures to read', [...curve, '--gate', 'weld=30mm..80mm@20'], /^--gate: .*--read/],
    [
      'captures to read without a gate',
      [...curve, '--read', sound('part'), '--calibration', calibration],
      /^--gate: give at least one gate/,
    ],
    [
      'captures to read without a calibration',
      [...curve, ...readingPart],
      /^--calibration: a reading needs its sound path/,
    ],
    [
      'no reflector found at all',
      ['sensitivity', sound('sensitivity'), '--kind', 'other', ...reflectors(['25mm@1us..2us'])],
      /no echo between 1 and 2 µs/,
    ],
    [
      'one back-wall echo alone',
      ['attenuation', sound('back-wall.csv'), ...reflectors(['80mm@26us..29us'])],
      /^--reflector: give two echoes/,
    ],
    [
      'both back-wall echoes at one distance',
      ['attenuation', sound('back-wall.csv'), ...reflectors(['80mm@26us..29us', '80mm@53us..56us'])],
      /at one distance/,
    ],
  ];
  it.each(rows)('%s', (_, words, expected) => {
    const ran = cli(...words);
    expect([ran.status, ran.out]).toEqual([2, '']);
    expect(ran.err).toMatch(expected);
  });
});

describe('sensitivity', () => {
  const ran = () =>
    cli(
      ...curve,
      '--probe',
      '6mm,5MHz',
      '--calibration',
      calibration,
      '--levels',
      'minus-6-minus-14',
      ...readingPart,
      '--json',
    );

  it('tells reference, points, gain over distance, law and readings in one document', () => {
    const first = ran();
    expect([first.status, first.err]).toEqual([0, '']);
    const { near_field, curve: told, attenuation, arithmetic, warnings } = document(first);
    expect(near_field.length_mm).toBeCloseTo(7.604, 3);
    expect(told.reference).toMatchObject({ height_percent: 80, by: 'highest-point', gain_db: expect.closeTo(40, 0) });
    expect(told.points.map((point: { distance_mm: number }) => point.distance_mm)).toEqual([25, 50, 75, 100]);
    expect(told.time_corrected_gain.at(-1).added_gain_db).toBeCloseTo(-told.points[3].level_db, 6);
    // The sample's own account: 0.03 dB per mm of sound path beside 1/path^1.5.
    expect(told.law.attenuation_db_per_mm_of_sound_path).toBeCloseTo(0.03, 3);
    expect(attenuation).toBeNull();
    expect(arithmetic.map((line: { of: string }) => line.of)).toContain('level at 50 mm');
    expect(warnings).toEqual([]);
    expect(ran().out).toBe(first.out);
  });

  it('holds readings 8 and 1.5 dB below a hole against the curve, as the sample was made', () => {
    const { readings } = document(ran()).curve;
    [-8, -1.5].forEach((made, i) => {
      expect(Math.abs(readings[i].to_curve_db - made)).toBeLessThanOrEqual(2 * readings[i].u_to_curve_db);
      expect(readings[i].of_curve_percent).toBeCloseTo(100 * 10 ** (readings[i].to_curve_db / 20), 6);
    });
    expect(
      readings.map((reading: { levels: { outcome: string }[] }) => reading.levels.map(({ outcome }) => outcome)),
    ).toEqual([
      ['below', 'above'],
      ['above', 'above'],
    ]);
  });

  it('adds the transfer correction to every reading, with its uncertainty', () => {
    const corrected = document(
      cli(
        ...curve,
        '--calibration',
        calibration,
        ...readingPart,
        '--transfer',
        '2dB',
        '--transfer-uncertainty',
        '0.5dB',
        '--json',
      ),
    );
    const plain = document(cli(...curve, '--calibration', calibration, ...readingPart, '--json'));
    corrected.curve.readings.forEach((reading: { level_db: number; u_level_db: number }, i: number) => {
      expect(reading.level_db - plain.curve.readings[i].level_db).toBeCloseTo(2, 9);
      expect(reading.u_level_db).toBeGreaterThan(0.5);
    });
  });

  it('shows a person the same as tables', () => {
    const { status, out } = cli(...curve, '--calibration', calibration, '--levels', 'report=-6dB', ...readingPart);
    expect(status).toBe(0);
    expect(out).toMatch(/^Reference level 80\.0 % FSH at 40\.0 dB/);
    for (const words of [
      /Points \(long cylinder/,
      /gain to add dB/,
      /Attenuation 14\.9\d* ± .* dB\/m of travel/,
      /% of curve +report/,
      /the near field is not known/,
    ])
      expect(out).toMatch(words);
  });

  it('tells an echo beyond the curve by its flag, with status 1', () => {
    const { status, out } = cli(
      'sensitivity',
      sound('sensitivity'),
      '--kind',
      'side-drilled-hole',
      ...reflectors(windows.slice(1)),
      '--calibration',
      calibration,
      ...readingPart,
    );
    expect(status).toBe(1);
    expect(out).toMatch(/outside-curve/);
    expect(out).toMatch(/before the first point of the curve/);
  });

  it('leaves out a capture that contradicts the others, names it, and goes on', () => {
    cpSync(join(root, sound('sensitivity')), join(folder, 'holes'), { recursive: true });
    const path = join(folder, 'holes', 'hole-050-mm.csv');
    writeFileSync(path, readFileSync(path, 'utf8').replace('# gain_db: 50', '# gain_db: loud'));
    const { status, out, err } = cli(
      'sensitivity',
      join(folder, 'holes'),
      '--kind',
      'side-drilled-hole',
      ...reflectors(windows),
      '--json',
    );
    expect(status).toBe(1);
    const told = JSON.parse(out);
    expect(told.curve.points.map((point: { distance_mm: number }) => point.distance_mm)).toEqual([25, 75, 100]);
    expect(told.curve.is_curve).toBe(true);
    expect(told.warnings.join('\n')).toMatch(/‘loud’: no gain in dB/);
    expect(err).toMatch(/hole-050-mm\.csv.*gain of this capture is not stated/);
  });

  it('with two reflectors gives their points and no curve', () => {
    const { status, out, err } = cli(
      'sensitivity',
      sound('sensitivity'),
      '--kind',
      'side-drilled-hole',
      ...reflectors(windows.slice(0, 2)),
      '--json',
    );
    expect(status).toBe(1);
    expect(JSON.parse(out).curve).toMatchObject({
      is_curve: false,
      points: [{ distance_mm: 25 }, { distance_mm: 50 }],
      law: null,
    });
    expect(err).toMatch(/needs three reflectors at different distances, and two were found/);
  });
});

describe('attenuation', () => {
  it('of the sample plate is what it was made with: 2.4 dB over 160 mm of travel', () => {
    const ran = cli(...backWall, '--probe', '10mm,5MHz', '--velocity', '5920m/s', '--json');
    expect([ran.status, ran.err]).toEqual([0, '']);
    const told = document(ran);
    expect(told.travel_mm).toBe(160);
    expect(Math.abs(told.attenuation_db_per_mm_of_travel - 0.015)).toBeLessThan(
      2 * told.u_attenuation_db_per_mm_of_travel,
    );
    expect(told.attenuation_db_per_mm_of_thickness).toBeCloseTo(2 * told.attenuation_db_per_mm_of_travel, 12);
  });

  it('prints its convention, and doubts what comes from the near field, with status 1', () => {
    const { status, out } = cli(...backWall, '--probe', '24mm,5MHz', '--velocity', '5920m/s');
    expect(status).toBe(1);
    expect(out).toMatch(/dB per mm that the sound travels, .* dB per mm of one-way distance/);
    expect(out).toMatch(/in-near-field/);
  });
});
