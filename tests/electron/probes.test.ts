import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { probeFigureNames, probeFigures } from '../../core/probe/figures.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const truth = JSON.parse(readFileSync(join(root, 'sample-data', 'truth.json'), 'utf8')).probes;
const folder = mkdtempSync(join(tmpdir(), 'workbench-probes-'));
const sample = join('sample-data', 'probes');
const gate = ['--gate', '8us..10.5us'];

interface Put {
  readonly probe: string;
  readonly peak_frequency_mhz: number;
  readonly lower_limit_6db_mhz: number;
  readonly upper_limit_6db_mhz: number;
  readonly bandwidth_6db_mhz: number;
  readonly pulse_duration_at_10_percent_us: number;
}

interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

function cli(...words: string[]): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, ['electron/cli/run.mjs', ...words], {
    cwd: root,
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  return { status, out: stdout, err: stderr };
}

// biome-ignore lint/suspicious/noExplicitAny: documents are checked key by key below
const document = (ran: Ran): any => JSON.parse(ran.out);

const file = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};

beforeAll(() => {
  cli('blocks');
});

describe('what cannot be used ends with status 2, one line for each problem, and nothing on standard output', () => {
  const echoes = ['--echo', '1@8us..10.5us', '--echo', '2@16.5us..19us'];
  const rows: [string, string[], RegExp][] = [
    ['no gate', ['probe', sample], /^--gate: say where the echo is/],
    ['a gate of bare numbers', ['probe', sample, '--gate', '8..10'], /^--gate: "8" has no unit/],
    ['a gate that ends before it begins', ['probe', sample, '--gate', '10us..8us'], /^--gate: .*ends before it begins/],
    ['an element without a unit', ['probe', sample, ...gate, '--element', '10'], /^--element: "10" has no unit/],
    ['an element of nought', ['probe', sample, ...gate, '--element', '0mm'], /^--element: must be above 0/],
    ['a velocity below nought', ['probe', sample, ...gate, '--velocity', '-5920m/s'], /^--velocity: must be above 0/],
    ['a window that is none', ['probe', sample, ...gate, '--window', 'square'], /^--window: "square" is no window/],
    ['a taper beyond 1', ['probe', sample, ...gate, '--window', 'tukey=1.5'], /^--window: "tukey=1.5" is no window/],
    ['no such file', ['probe', 'no-such.csv', ...gate], /^no-such\.csv: there is no such file/],
    ['a rule without stated figures', ['probe', sample, ...gate, '--rule', 'iso-22232-2'], /^--rule: .*--stated/],
    [
      'a rule that nobody published',
      ['probe', sample, ...gate, '--stated', join(sample, 'stated.json'), '--rule', 'yesterday'],
      /^--rule: "yesterday" is no published rule \(iso-22232-2\)/,
    ],
    [
      'stated figures that are not JSON, by line and column',
      ['probe', sample, ...gate, '--stated', file('broken.json', '{\n "probes": [\n}')],
      /broken\.json:3:1: /,
    ],
    [
      'a stated figure that is none, by line and column',
      [
        'probe',
        sample,
        ...gate,
        '--stated',
        file('figure.json', '{"probes": [\n {"name": "a", "stated": {"frequency": 5}}]}'),
      ],
      /figure\.json:2:\d+: "frequency" is no figure of a probe; there are peak_frequency_mhz/,
    ],
    [
      'a stated frequency of nought',
      [
        'probe',
        sample,
        ...gate,
        '--stated',
        file('nought.json', '{"probes": [{"name": "a", "stated": {"peak_frequency_mhz": 0}}]}'),
      ],
      /"peak_frequency_mhz" must be above 0/,
    ],
    [
      'a probe stated twice',
      ['probe', sample, ...gate, '--stated', file('twice.json', '{"probes": [{"name": "a"}, {"name": "a"}]}')],
      /the probe "a" stands twice/,
    ],
    ['comparing by anything else', ['compare', sample, ...gate, '--by', 'colour'], /^--by: "colour" is none of probe/],
    ['material without a thickness', ['material', sample, ...echoes], /^--thickness: give the thickness/],
    [
      'a thickness of nought',
      ['material', sample, '--thickness', '0mm', ...echoes],
      /^--thickness: give the thickness/,
    ],
    ['one echo', ['material', sample, '--thickness', '25mm', ...echoes.slice(0, 2)], /^--echo: give two echoes/],
    [
      'an echo twice',
      ['material', sample, '--thickness', '25mm', ...echoes, '--echo', '2@24us..27us', '--spreading', 'none'],
      /^--echo: echo 2 is given twice/,
    ],
    [
      'an echo without a number',
      ['material', sample, '--thickness', '25mm', '--echo', '8us..10us'],
      /^--echo: "8us\.\.10us" is no echo of a back wall/,
    ],
    ['no word on the spreading', ['material', sample, '--thickness', '25mm', ...echoes], /^--spreading: say what/],
    [
      'a piston without an element',
      ['material', sample, '--thickness', '25mm', ...echoes, '--spreading', 'piston'],
      /^--element: the diffraction of a piston/,
    ],
  ];
  it.each(rows)('%s', (_, words, sentence) => {
    const ran = cli(...words, '--json');
    expect(ran.err).toMatch(sentence);
    expect(ran.out).toBe('');
    expect(ran.status).toBe(2);
  });

  it('a file that stands there already is not written over', () => {
    const there = file('there.csv', 'mine');
    const ran = cli('probe', sample, ...gate, '--csv', there);
    expect(ran.status).toBe(2);
    expect(readFileSync(there, 'utf8')).toBe('mine');
  });
});

describe('probe: figures of each capture against what was put in', () => {
  const ran = document(cli('probe', sample, ...gate, '--element', '6mm', '--velocity', '5920m/s', '--json'));
  const probeOf = (name: string) => ran.probes.find((each: { probe: string }) => each.probe === name);

  it('has every figure of every capture, or its reason', () => {
    expect(ran.captures).toHaveLength(18);
    for (const capture of ran.captures) {
      for (const name of probeFigureNames) {
        const { key } = probeFigures[name];
        expect(capture).toHaveProperty(key);
        expect(capture).toHaveProperty(`u_${key}`);
        expect(capture[key] === null).toBe(key in capture.not_measurable);
      }
    }
    expect(ran.failed).toEqual([]);
    expect(ran.spectrum).toContain('Tukey window, 20 % in its edges');
  });

  it.each(truth.probes as readonly Put[])('$probe', (put) => {
    const { figures } = probeOf(put.probe);
    const held = (key: string, expected: number, floor: number) => {
      const { value, u } = figures[key];
      expect(Math.abs(value - expected)).toBeLessThan(4 * u + floor);
    };
    held('centre_frequency_astm_e1065_mhz', put.peak_frequency_mhz, 0.002);
    held('centre_frequency_iso_22232_2_mhz', Math.sqrt(put.lower_limit_6db_mhz * put.upper_limit_6db_mhz), 0.002);
    held('lower_limit_6db_mhz', put.lower_limit_6db_mhz, 0.002);
    held('upper_limit_6db_mhz', put.upper_limit_6db_mhz, 0.002);
    held('bandwidth_6db_mhz', put.bandwidth_6db_mhz, 0.003);
    held('pulse_duration_iso_22232_2_us', put.pulse_duration_at_10_percent_us, 0.001);
    expect(figures.centre_frequency_astm_e1065_mhz.captures).toBe(6);
  });

  it('keeps both centre frequencies apart, by name', () => {
    const { figures } = probeOf('straight probe 21');
    const difference = figures.centre_frequency_astm_e1065_mhz.value - figures.centre_frequency_iso_22232_2_mhz.value;
    expect(difference).toBeGreaterThan(0.2);
    expect(ran.definitions.centre_frequency_iso_22232_2_mhz.source).toMatch(/unconfirmed/);
  });

  it('a person reads the same figures in a table', () => {
    const words = cli('probe', sample, ...gate);
    expect(words.status).toBe(0);
    expect(words.out).toMatch(/Centre frequency, ASTM E1065, MHz\s+5\.049/);
    expect(words.out).toMatch(/straight probe 23/);
  });

  it('one thread or two give the same document', () => {
    expect(cli('probe', sample, ...gate, '--jobs', '2', '--json').out).toBe(
      cli('probe', sample, ...gate, '--jobs', '1', '--json').out,
    );
  });
});

describe('what failed is listed with its reason, and the others stand', () => {
  const mixed = join(folder, 'mixed');
  mkdirSync(mixed);
  copyFileSync(join(root, sample, 'probe-21-capture-1.csv'), join(mixed, 'good.csv'));
  const lines = readFileSync(join(root, sample, 'probe-21-capture-2.csv'), 'utf8').split('\n');
  const altered = (alter: (percent: number, timeUs: number) => number) =>
    lines
      .map((line) =>
        /^\d/.test(line)
          ? line.replace(/^([^,]+),(.+)$/, (_, t, a) => `${t},${alter(Number(a), Number(t)).toFixed(2)}`)
          : line,
      )
      .join('\n');
  writeFileSync(
    join(mixed, 'clipped.csv'),
    altered((percent) => Math.max(-60, Math.min(60, percent))),
  );
  writeFileSync(
    join(mixed, 'silent.csv'),
    altered((percent, timeUs) => (timeUs < 11 ? 0.1 * Math.sin(777 * timeUs) : percent)),
  );
  writeFileSync(join(mixed, 'not-a-file.csv'), 'Time (µs),Amplitude (%FSH)\n6,1\n7,NaN\n');

  it('clipped, silent, unreadable: three reasons, one good capture, status 1', () => {
    const csv = join(folder, 'out.csv');
    const ran = cli('probe', mixed, ...gate, '--csv', csv, '--json');
    expect(ran.status).toBe(1);
    const { failed, captures } = document(ran);
    expect(
      failed.map(({ file: name, reason }: { file: string; reason: string }) => [name.replace(/.*[\\/]/, ''), reason]),
    ).toEqual([
      ['clipped.csv', 'saturated'],
      ['silent.csv', 'buried-in-noise'],
    ]);
    expect(captures).toHaveLength(3);
    const clipped = captures.find(({ file: name }: { file: string }) => name.endsWith('clipped.csv'));
    for (const name of probeFigureNames) expect(clipped[probeFigures[name].key]).toBeNull();
    expect(ran.err).toMatch(/clipped\.csv.*cut off by the screen/);
    expect(ran.err).toMatch(/not-a-file\.csv:3/);
    const rows = readFileSync(csv, 'utf8').trim().split('\r\n');
    expect(rows).toHaveLength(4);
    expect(rows.find((row) => row.includes('clipped'))).toContain(',saturated,');
  });

  it('a gate that cuts the echo gives no figure', () => {
    const ran = document(cli('probe', join(sample, 'probe-21-capture-1.csv'), '--gate', '9us..10.5us', '--json'));
    expect(ran.captures[0].reason).toBe('cut-by-gate');
    expect(ran.captures[0].centre_frequency_astm_e1065_mhz).toBeNull();
  });

  it('a name that begins like a formula is no formula in the CSV', () => {
    const name = '=1+1.csv';
    copyFileSync(join(root, sample, 'probe-21-capture-1.csv'), join(folder, name));
    const csv = join(folder, 'formula.csv');
    spawnSync(process.execPath, [join(root, 'electron/cli/run.mjs'), 'probe', name, ...gate, '--csv', csv], {
      cwd: folder,
    });
    if (existsSync(csv)) expect(readFileSync(csv, 'utf8').split('\r\n')[1]).toMatch(/^'=1\+1\.csv/);
    else throw new Error('nothing was written');
  });
});

describe('compare: probes side by side', () => {
  const words = ['compare', sample, ...gate, '--reference-probe', 'straight probe 21', '--json'];
  const ran = document(cli(...words));
  const of = (name: string) => ran.probes.find((each: { probe: string }) => each.probe === name).comparison;

  it('says where probes differ, by Welch’s test, with its degrees of freedom and a plain sentence', () => {
    const { welch_t, degrees_of_freedom, p, differs, sentence } =
      of('straight probe 22').figures.centre_frequency_astm_e1065_mhz;
    expect(welch_t).toBeLessThan(-50);
    expect(degrees_of_freedom).toBeGreaterThan(5);
    expect(degrees_of_freedom).toBeLessThanOrEqual(10);
    expect(p).toBeLessThan(1e-6);
    expect(differs).toBe(true);
    expect(sentence).toMatch(/straight probe 22 lies 0\.7 MHz below straight probe 21/);
    expect(of('straight probe 21')).toBeNull();
  });

  it('takes the gain out: probe 23 is 5.6 dB more sensitive at 6 dB less gain', () => {
    const { difference, u_difference } = of('straight probe 23').figures.relative_sensitivity_db;
    const expected = 20 * Math.log10(78 / 82) + 6;
    expect(Math.abs(difference - expected)).toBeLessThan(3 * u_difference);
  });

  it('overlays one over the other, and says the shift', () => {
    const { time, frequency } = of('straight probe 22');
    expect(time.aligned_by).toBe('cross-correlation');
    expect(Math.abs(time.shift_us)).toBeLessThan(0.1);
    expect(time.reference).toHaveLength(time.probe.length);
    expect(frequency.from_mhz).toBeGreaterThan(1.5);
    expect(frequency.to_mhz).toBeLessThan(8);
    expect(frequency.difference_db[0]).toBeNull();
  });

  it('the reference may be named by a capture of it', () => {
    const other = document(
      cli('compare', sample, ...gate, '--reference', join(sample, 'probe-23-capture-2.csv'), '--json'),
    );
    expect(other.reference).toBe('straight probe 23');
    expect(other.captures).toHaveLength(18);
  });

  it('stated figures by rule: probe 22 is 13 % low, probe 23 too narrow; status 1', () => {
    const stated = cli(...words, '--stated', join(sample, 'stated.json'), '--rule', 'iso-22232-2');
    expect(stated.status).toBe(1);
    const verdicts = document(stated).probes.map(
      ({ verdict, stated: list }: { verdict: string; stated: { verdict: string }[] }) => [
        verdict,
        ...list.map((each) => each.verdict),
      ],
    );
    expect(verdicts).toEqual([
      ['pass', 'pass', 'pass'],
      ['fail', 'fail', 'fail'],
      ['fail', 'pass', 'fail'],
    ]);
  });
});

describe('material: velocity and attenuation against what was put in', () => {
  const echoes = ['--echo', '1@8us..10.5us', '--echo', '2@16.5us..19us', '--echo', '3@24.9us..27.4us'];
  const words = [
    'material',
    sample,
    '--thickness',
    '25mm',
    '--tolerance',
    '0.01mm',
    ...echoes,
    '--spreading',
    'far-field',
  ];

  it('velocity within its uncertainty', () => {
    const { velocity_m_per_s: velocity, u_velocity_m_per_s: u } = document(cli(...words, '--json'));
    expect(u).toBeGreaterThan(1);
    expect(Math.abs(velocity - truth.velocity_m_per_s)).toBeLessThan(2 * u);
  });

  it('attenuation by the square of the frequency, in a band that is stated', () => {
    const csv = join(folder, 'attenuation.csv');
    const { attenuation, band } = document(cli(...words, '--csv', csv, '--json'));
    expect(band.to_mhz - band.from_mhz).toBeGreaterThan(1);
    for (const line of attenuation) {
      const expected = truth.attenuation_db_per_mm_of_travel_per_mhz2 * line.frequency_mhz ** 2;
      const { attenuation_db_per_mm_of_travel: found, u_attenuation_db_per_mm_of_travel: u } = line;
      expect(Math.abs(found - expected)).toBeLessThan(4 * u + 0.0005);
    }
    expect(readFileSync(csv, 'utf8').split('\r\n')[0]).toBe(
      'frequency_mhz,attenuation_db_per_mm_of_travel,u_attenuation_db_per_mm_of_travel,captures',
    );
  });

  it('a gate without an echo is named, and the exit status says that something was left out', () => {
    const ran = cli(
      'material',
      join(sample, 'probe-21-capture-1.csv'),
      '--thickness',
      '25mm',
      '--echo',
      '1@8us..10.5us',
      '--echo',
      '2@12us..14us',
      '--spreading',
      'none',
    );
    expect(ran.status).toBe(2);
    expect(ran.err).toMatch(/echo 2 of the back wall is not measurable/);
  });
});
