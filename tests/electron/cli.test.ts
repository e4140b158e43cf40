import { spawnSync } from 'node:child_process';
import { appendFileSync, cpSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const sample = (name: string): string => join('sample-data', name);

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
function document(ran: Ran): any {
  return JSON.parse(ran.out);
}

const folder = mkdtempSync(join(tmpdir(), 'workbench-cli-'));
const file = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};
const angleProbe = join(folder, 'angle-probe.json');
const windows = ['--reflector', '100mm@66us..72us', '--reflector', '225mm@143us..149us'];

beforeAll(() => {
  cli('blocks');
  writeFileSync(angleProbe, cli('calibrate', sample('reference-block.csv'), ...windows, '--json').out);
});

describe('what cannot be used ends with status 2, one line for each problem, and nothing on standard output', () => {
  const calibrate = ['calibrate', sample('reference-block.csv')];
  const rows: [string, string[], RegExp][] = [
    ['no command', [], /Usage/],
    ['a command that does not exist', ['measure'], /unknown command/],
    ['an option that does not exist', ['describe', sample('reference-block.csv'), '--guess'], /unknown option/],
    ['a file that does not exist', ['describe', 'nowhere.csv'], /^nowhere\.csv: there is no such file/],
    ['an empty file', ['describe', sample('broken/empty.csv')], /^sample-data\/broken\/empty\.csv/],
    ['a file that is not text', ['describe', sample('broken/not-text.csv')], /^sample-data\/broken\/not-text\.csv/],
    [
      'a missing field, by line',
      ['echoes', sample('broken/missing-field.csv')],
      /^sample-data\/broken\/missing-field\.csv:23/,
    ],
    [
      'a field too many, by line',
      ['echoes', sample('broken/field-too-many.csv')],
      /^sample-data\/broken\/field-too-many\.csv:34/,
    ],
    ['NaN, by line', ['echoes', sample('broken/not-a-number.csv')], /^sample-data\/broken\/not-a-number\.csv:15/],
    ['∞, by line', ['echoes', sample('broken/over-range-sign.csv')], /^sample-data\/broken\/over-range-sign\.csv:47/],
    [
      'time that goes back, by line',
      ['echoes', sample('broken/time-goes-back.csv')],
      /^sample-data\/broken\/time-goes-back\.csv:38/,
    ],
    [
      'a gap in time, by line',
      ['echoes', sample('broken/gap-in-time.csv')],
      /^sample-data\/broken\/gap-in-time\.csv:33/,
    ],
    [
      'a last line that was cut off',
      ['echoes', sample('broken/last-line-cut-off.csv')],
      /^sample-data\/broken\/last-line-cut-off\.csv:62/,
    ],
    ['units that are not stated', ['echoes', sample('broken/no-units.csv')], /--time-unit/],
    ['a bare distance', [...calibrate, '--reflector', '100@66us..72us'], /--reflector: "100" has no unit/],
    ['a bare time', [...calibrate, '--reflector', '100mm@66..72'], /has no unit/],
    ['one reflector', [...calibrate, '--reflector', '100mm@66us..72us'], /two/],
    ['no reflector', calibrate, /give two reflectors or more/],
    ['windows and a block', [...calibrate, ...windows, '--block', 'iso-7963/25'], /one or the other/],
    ['a block that does not exist', [...calibrate, '--block', 'iso-7964/25'], /nearest are iso-7963\/25/],
    [
      'a window without an echo',
      [...calibrate, windows[0], windows[1], '--reflector', '150mm@100us..110us'],
      /no echo between 100 and 110 µs .* 150 mm/,
    ],
    [
      'a material that is in no table',
      [...calibrate, ...windows, '--material', 'cheese', '--mode', 'transverse'],
      /no table/,
    ],
    ['a gate without a threshold', ['read', sample('reference-block.csv'), '--gate', 'near=1us..2us'], /threshold/],
    [
      'a gate in path without a calibration',
      ['read', sample('reference-block.csv'), '--gate', 'near=1mm..2mm@20'],
      /no calibration/,
    ],
    [
      'a calibration that is none',
      ['read', sample('reference-block.csv'), '--gate', 'near=1mm..2mm@20', '--calibration', 'package.json'],
      /^package\.json:1:1: velocity_m_per_s/,
    ],
    [
      'an angle of nought',
      ['read', sample('reference-block.csv'), '--gate', 'near=1us..2us@20', '--angle', '0'],
      /angle/,
    ],
    [
      'a rule that needs the range',
      ['drift', sample('shift'), '--calibration', angleProbe, ...windows, '--rule', 'iso-17640'],
      /range/,
    ],
    [
      'a rule that does not exist',
      ['drift', sample('shift'), '--calibration', angleProbe, ...windows, '--rule', 'iso-1'],
      /no published rule/,
    ],
    ['a trace that the file does not have', ['echoes', `${sample('reference-block.csv')}#7`], /no trace "7"/],
  ];
  it.each(rows)('%s', (_, words, sentence) => {
    const ran = cli(...words);
    expect(ran.err).toMatch(sentence);
    expect({ status: ran.status, out: ran.out }).toEqual({ status: 2, out: '' });
  });
});

describe('describe', () => {
  it('tells what was understood, with metadata as figures where they are figures', () => {
    const ran = cli('describe', sample('reference-block.csv'), '--json');
    const [described] = document(ran).files;
    expect(ran.status).toBe(0);
    expect(described).toMatchObject({
      delimiter: ',',
      decimal_mark: '.',
      encoding: 'utf-8',
      bytes: readFileSync(join(root, sample('reference-block.csv'))).length,
    });
    expect(described.sha256).toMatch(/^[0-9a-f]{64}$/);
    expect(described.traces[0]).toMatchObject({
      start_us: 0,
      step_us: 0.01,
      amplitude_unit: 'percent',
      rectification: 'rf',
      metadata: { gain_db: 42 },
    });
  });

  it('reads another dialect: semicolon, decimal comma, byte-order mark', () => {
    const [described] = document(cli('describe', sample('step-block/step-10-mm.csv'), '--json')).files;
    expect(described).toMatchObject({ delimiter: ';', decimal_mark: ',' });
    expect(described.traces[0].step_us).toBe(0.01);
  });

  it('describes the good files of a batch, and says which are not', () => {
    const ran = cli('describe', sample('reference-block.csv'), sample('broken/empty.csv'), '--json');
    expect(ran.status).toBe(1);
    expect(document(ran).files).toHaveLength(1);
    expect(document(ran).problems).toHaveLength(1);
    expect(ran.err).toMatch(/empty\.csv/);
  });

  it('a time unit that only one reading makes plausible is taken with a warning; other commands ask', () => {
    const path = file(
      'no-units.csv',
      `t,a\n${Array.from({ length: 50 }, (_, i) => `${(i * 1e-8).toExponential(4)},${i % 7}`).join('\n')}\n`,
    );
    const [described] = document(cli('describe', path, '--json')).files;
    expect(described.traces[0]).toMatchObject({ step_us: 0.01, amplitude_unit: null });
    expect(described.warnings.join()).toMatch(/--time-unit/);
    expect(cli('echoes', path).status).toBe(2);
  });

  it('says of each decision what it follows from and how sure it is', () => {
    const [described] = document(cli('describe', sample('reference-block.csv'), '--json')).files;
    const certainty = Object.fromEntries(
      described.understood.map(({ what, certainty: sure }: { what: string; certainty: string }) => [what, sure]),
    );
    expect(certainty).toMatchObject({
      delimiter: 'inferred',
      'unit of the axis': 'written',
      rectification: 'inferred',
    });
    const { out } = cli('describe', sample('reference-block.csv'), '--time-unit', 'us');
    expect(out).toMatch(/unit of the axis +us +stated/);
    expect(out).toMatch(/unit of amplitude +percent +stands in the file/);
  });

  it('has what it asks about columns and dates answered by options, and computes nothing before', () => {
    const rows = Array.from({ length: 60 }, (_, i) => `${i / 100},${i / 50},${(((i * 37) % 100) - 50).toFixed(1)}`);
    const path = file('two-times.csv', `# date: 03/04/2026\ntime_us,t_us,a_pct\n${rows.join('\n')}\n`);
    const unanswered = cli('echoes', path);
    expect([unanswered.status, unanswered.out]).toEqual([2, '']);
    expect(unanswered.err).toMatch(/two-times\.csv:2: .*--axis-column 1, or 2/);
    expect(unanswered.err).toMatch(/03\/04\/2026.*--date-order/);
    const answers = ['--axis-column', 't_us', '--amplitude-columns', '3', '--date-order', 'month-first'];
    expect(document(cli('describe', path, ...answers, '--json')).files[0].traces[0].step_us).toBe(0.02);
    expect(cli('echoes', path, ...answers).status).not.toBe(2);
  });

  it('saves a recipe that the next file of that shape is read by, and never over a file', () => {
    const recipe = join(folder, 'recipe.json');
    const stated = ['--time-unit', 's', '--amplitude-unit', 'percent', '--rectification', 'rf'];
    expect(cli('describe', join(folder, 'no-units.csv'), ...stated, '--save-recipe', recipe).status).toBe(0);
    expect(cli('echoes', join(folder, 'no-units.csv'), '--recipe', recipe).status).toBe(0);
    expect(cli('describe', join(folder, 'no-units.csv'), ...stated, '--save-recipe', recipe).status).toBe(2);
  });
});

describe('calibrate', () => {
  it('two reflectors: exact, and it says so without failing', () => {
    const ran = cli('calibrate', sample('reference-block.csv'), ...windows, '--json');
    const result = document(ran);
    expect(ran.status).toBe(0);
    expect(result.flags).toEqual(['exact-fit']);
    expect(Math.abs(result.velocity_m_per_s - 3241)).toBeLessThan(3 * result.u_velocity_m_per_s);
    expect(Math.abs(result.zero_offset_us - 7.31)).toBeLessThan(3 * result.u_zero_offset_us);
    expect(result.points.map((point: { residual_mm: number }) => Math.abs(point.residual_mm) < 1e-6)).toEqual([
      true,
      true,
    ]);
  });

  it('a block: the series is matched, the saw cut left out by name', () => {
    const result = document(
      cli('calibrate', sample('reference-block.csv'), '--block', 'iso-2400/quadrant-return-25', '--json'),
    );
    expect(result.points.map((point: { distance_mm: number }) => point.distance_mm)).toEqual([100, 225, 350]);
    expect(result.unmatched_echoes.map((echo: { name: string }) => echo.name).join()).toMatch(/saw cut/);
  });

  it('the second echo taken for 200 mm: a doubt with the mix-up in words, and status 1', () => {
    const ran = cli(
      'calibrate',
      sample('reference-block.csv'),
      windows[0],
      windows[1],
      '--reflector',
      '200mm@143us..149us',
      '--material',
      'steel',
      '--mode',
      'transverse',
      '--json',
    );
    expect(ran.status).toBe(1);
    expect(document(ran).flags).toContain('velocity-implausible');
    expect(document(ran).doubts[0].sentence).toMatch(/225/);
  });

  it('does not take its traces from a file that cannot be read', () => {
    const ran = cli('calibrate', sample('reference-block.csv'), sample('broken/empty.csv'), ...windows);
    expect({ status: ran.status, out: ran.out }).toEqual({ status: 2, out: '' });
  });
});

describe('read', () => {
  const gate = ['--gate', 'root=24mm..36mm@20', '--angle', '60', '--thickness', '16mm'];

  it('gives depth, surface distance and leg, and flags what is off the peak', () => {
    const ran = cli('read', sample('plate-weld/first-leg.csv'), '--calibration', angleProbe, ...gate, '--json');
    const { readings } = document(ran);
    expect(ran.status).toBe(1);
    expect(readings).toHaveLength(41);
    const at80mm = readings[16];
    expect(at80mm.sound_path_mm).toBeCloseTo(30, 1);
    expect(at80mm).toMatchObject({ leg: 1, gate: 'root' });
    expect(readings[0]).toMatchObject({
      time_us: null,
      sound_path_mm: null,
      amplitude_percent: null,
      flags: ['no-echo'],
    });
  });

  it('one trace of a file, by number and by name', () => {
    const path = sample('plate-weld/first-leg.csv');
    const byNumber = document(cli('read', `${path}#17`, '--calibration', angleProbe, ...gate, '--json')).readings;
    const byName = document(
      cli('read', `${path}#capture_17_pct`, '--calibration', angleProbe, ...gate, '--json'),
    ).readings;
    expect(byNumber).toEqual(byName);
    expect(byNumber).toHaveLength(1);
  });

  it('gives the same on one thread and on two', () => {
    const words = ['read', sample('hole-series'), '--gate', 'hole=13us..15us@20', '--json', '--jobs'];
    expect(cli(...words, '1').out).toBe(cli(...words, '2').out);
  });

  it('says when the readings are timed by another rule than the calibration', () => {
    const { warnings } = document(
      cli(
        'read',
        `${sample('plate-weld/first-leg.csv')}#17`,
        '--calibration',
        angleProbe,
        ...gate,
        '--timing',
        'crossing',
        '--json',
      ),
    );
    expect(warnings.join()).toMatch(/one rule for both/);
  });
});

describe('drift', () => {
  const wide = ['--reflector', '100mm@65us..75us', '--reflector', '225mm@142us..152us'];
  const words = ['drift', sample('shift'), '--calibration', angleProbe, ...wide, '--amplitude', '80'];

  it('without a rule: figures, no verdicts, and it says so', () => {
    expect(cli(...words).out).toMatch(/without verdicts/);
    const { checks, rule } = document(cli(...words, '--json'));
    expect(rule).toBeNull();
    expect(checks.every((check: { verdict: unknown }) => check.verdict === null)).toBe(true);
  });

  it('by a rule: the first failing check, the last passing one before it, and what has changed', () => {
    const ran = cli(...words, '--rule', 'iso-17640', '--range', '250mm', '--json');
    const result = document(ran);
    expect(ran.status).toBe(1);
    expect(result.first_failing).toBe('sample-data/shift/check-7.csv');
    expect(result.last_passing).toBe('sample-data/shift/check-6.csv');
    expect(result.checks[6].cause).toBe('zero-offset');
    expect(result.checks[6].zero_offset_change_us).toBeCloseTo(3.42, 1);
  });
});

describe('evaluate', () => {
  it('the sample review gives everything at once, the same bytes each time', () => {
    const ran = cli('evaluate', sample('review.json'), '--json');
    const result = document(ran);
    expect(ran.err).toBe('');
    expect(ran.status).toBe(1);
    expect(result.calibration.points).toHaveLength(3);
    expect(result.readings.length).toBeGreaterThan(0);
    expect(result.drift.first_failing).toBe('shift/check-7.csv');
    expect(cli('evaluate', sample('review.json'), '--json').out).toBe(ran.out);
  });

  it('a source that has changed since is found by its hash, and no figure is drawn from it', () => {
    const copy = join(folder, 'copy');
    cpSync(join(root, 'sample-data'), copy, { recursive: true });
    appendFileSync(join(copy, 'reference-block.csv'), '\n');
    const ran = cli('evaluate', join(copy, 'review.json'), '--json');
    expect(ran.err).toMatch(/^reference-block\.csv: the file has changed since/);
    expect(document(ran)).toMatchObject({ calibration: { velocity_m_per_s: null, points: [] }, drift: null });
    expect(document(ran).readings.every((reading: { sound_path_mm: unknown }) => reading.sound_path_mm === null)).toBe(
      true,
    );
  });
});

describe('evaluate with a manifest that has changed', () => {
  it('leaves it out, says so, and does not end as trusted', () => {
    const copy = join(folder, 'copy-with-manifest');
    cpSync(join(root, 'sample-data'), copy, { recursive: true });
    appendFileSync(join(copy, 'plate-weld/manifest.csv'), '\n');
    const ran = cli('evaluate', join(copy, 'review.json'), '--json');
    expect(ran.status).toBe(1);
    expect(ran.err).toMatch(/^plate-weld\/manifest\.csv: the manifest has changed since/);
    expect(
      document(ran).captures.some(
        (capture: { file: string; position_mm: unknown }) =>
          capture.file === 'plate-weld/first-leg.csv' && capture.position_mm !== null,
      ),
    ).toBe(false);
  });
});

describe('the terminal', () => {
  it('is not steered by what files hold', () => {
    const path = file(
      'escape.csv',
      `time_us,a\u001b[31m_pct\n${Array.from({ length: 60 }, (_, i) => `${i / 10},${i === 30 ? 80 : 0}`).join('\n')}\n`,
    );
    const { out } = cli('describe', path);
    expect(out).not.toContain('\u001b');
  });

  it('nothing was written beside the files', () => {
    expect(readdirSync(join(root, 'sample-data', 'broken')).some((name) => !name.endsWith('.csv'))).toBe(false);
  });
});
