import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { publishedLinearityRules } from '../../core/linearity/rule.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'workbench-linearity-'));
const of = (instrument: string, name = ''): string => join('sample-data', 'instruments', instrument, name);

interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

function linearity(...words: string[]): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, ['electron/cli/run.mjs', 'linearity', ...words], {
    cwd: root,
    encoding: 'utf8',
  });
  return { status, out: stdout, err: stderr };
}

// biome-ignore lint/suspicious/noExplicitAny: documents are checked key by key below
function document(ran: Ran): any {
  return JSON.parse(ran.out);
}

const file = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};

const captures = (instrument: string, part: string, words: RegExp): string[] =>
  readdirSync(join(root, of(instrument, part)))
    .filter((name) => words.test(name))
    .sort()
    .map((name) => of(instrument, join(part, name)));

const timeBase = (instrument: string, ...more: string[]): Ran =>
  linearity(
    'time-base',
    of(instrument, 'time-base.csv'),
    '--window',
    '5us..98us',
    '--spacing',
    '25mm',
    '--range',
    '250mm',
    ...more,
  );
const twoEchoes = (instrument: string, ...more: string[]): Ran =>
  linearity(
    'screen-height',
    ...captures(instrument, 'screen-height', /^two-echo/),
    '--larger',
    '10us..11.6us',
    '--smaller',
    '12.5us..14.5us',
    ...more,
  );
const oneEcho = (instrument: string, ...more: string[]): Ran =>
  linearity(
    'screen-height',
    ...captures(instrument, 'screen-height', /^one-echo/),
    '--window',
    '10us..11.6us',
    ...more,
  );
const settings = (instrument: string, ...more: string[]): Ran =>
  linearity('gain', ...captures(instrument, 'gain', /^(from|set)/), '--window', '10us..11.6us', ...more);
const run = (instrument: string, ...more: string[]): Ran =>
  linearity(
    'gain',
    of(instrument, 'gain/run-over-60-db.csv'),
    '--manifest',
    of(instrument, 'manifest.csv'),
    '--window',
    '10us..11.6us',
    ...more,
  );

describe.skipIf(!existsSync(join(root, of('sound'))))(
  'linearity on the sample instruments (skipped where they have not been made)',
  () => {
    beforeAll(() => void linearity('--help'));

    it.each<[string, () => Ran, number, string | null]>([
      ['a sound time base', () => timeBase('sound', '--rule', 'iso-22232-1-time-base', '--json'), 0, 'pass'],
      ['figures alone, by ASTM E317', () => timeBase('sound', '--rule', 'astm-e317-time-base', '--json'), 0, null],
      [
        'a time base that bends by 1.6 %, ±1 % allowed',
        () => timeBase('time-base-bends', '--rule', 'iso-22232-1-time-base', '--json'),
        1,
        'fail',
      ],
      [
        'the same, ±2 % allowed',
        () => timeBase('time-base-bends', '--rule', 'aws-d1.1-time-base', '--json'),
        0,
        'pass',
      ],
      ['two echoes on a sound screen', () => twoEchoes('sound', '--rule', 'asme-v-appendix-i', '--json'), 0, 'pass'],
      [
        'two echoes on a screen that clips at 96 %',
        () => twoEchoes('clips', '--rule', 'asme-v-appendix-i', '--json'),
        1,
        'not-assessed',
      ],
      [
        'one echo on a sound screen',
        () => oneEcho('sound', '--rule', 'iso-22232-3-screen-height', '--json'),
        0,
        'pass',
      ],
      [
        'the four settings of a sound gain control',
        () => settings('sound', '--rule', 'asme-v-appendix-ii', '--json'),
        0,
        'pass',
      ],
      ['its run over 60 dB', () => run('sound', '--rule', 'aws-d1.1-gain', '--json'), 0, 'pass'],
      [
        'a gain control whose steps drift, by the annex form',
        () => run('gain-drifts', '--rule', 'aws-d1.1-gain', '--json'),
        1,
        'fail',
      ],
      ['the same, by ISO 22232-1', () => run('gain-drifts', '--rule', 'iso-22232-1-gain', '--json'), 1, 'fail'],
      ['no rule: figures, and no verdict', () => run('gain-drifts', '--json'), 0, null],
    ])('%s', (_name, ran, status, verdict) => {
      const answered = ran();
      expect(answered.status).toBe(status);
      expect(document(answered).verdict).toBe(verdict);
    });

    it('the bend is told where it is greatest, to 0.02 %', () => {
      const { steps, greatest_deviation, range_from } = document(
        timeBase('time-base-bends', '--rule', 'iso-22232-1-time-base', '--json'),
      );
      expect(greatest_deviation).toBe('echo 6');
      expect(Math.abs(steps[5].deviation_percent - 1.6)).toBeLessThan(0.02);
      expect(steps[5].u_deviation_percent).toBeGreaterThan(0);
      expect(range_from).toBe('stated');
    });

    it('steps of 2 dB that are 0.2 dB short, and the part of the range that stays within 2 dB', () => {
      const { points, qualified_range } = document(run('gain-drifts', '--rule', 'aws-d1.1-gain', '--json'));
      for (const { step_error_db } of points)
        if (step_error_db !== null) expect(Math.abs(step_error_db + 0.2)).toBeLessThan(0.06);
      expect(Math.abs(points[points.length - 1].total_error_db + 6)).toBeLessThan(0.3);
      expect(qualified_range).toMatchObject({ from_db: 20, to_db: 40 });
    });

    it('the same figures for a person, with the arithmetic and the source', () => {
      const { out, status } = timeBase('time-base-bends', '--rule', 'iso-22232-1-time-base');
      expect(status).toBe(1);
      expect(out).toMatch(/echo 6 .* 1\.600\d* ± 0\.0\d+ .* ±1 {2}fail/);
      expect(out).toMatch(/Arithmetic: deviation = 100 · \(time − time on the line\) \/ full range/);
      expect(out).toMatch(/echo 6: 100 · \([\d.]+ µs − [\d.]+ µs\) \/ [\d.]+ µs = 1\.60 %/);
      expect(out).toContain('Verdict: fail.');
      expect(out).toContain('figures from memory');
    });

    it('a crest that is cut off says so at its step', () => {
      const { out } = twoEchoes('clips', '--rule', 'asme-v-appendix-i');
      expect(out).toMatch(/larger echo at 96 % .* not assessed/);
      expect(out).toContain('at least 96.0 % FSH');
      expect(out).toContain('saturated: The crest is cut off');
    });

    it('two runs give the same bytes', () => {
      expect(run('sound', '--rule', 'aws-d1.1-gain', '--json').out).toBe(
        run('sound', '--rule', 'aws-d1.1-gain', '--json').out,
      );
    });

    describe('a step table', () => {
      const rows = [
        ['set-80-percent', 40],
        ['from-80-percent-minus-06-db', 34],
        ['from-80-percent-minus-12-db', 28],
        ['set-40-percent', 40],
        ['from-40-percent-plus-06-db', 46],
        ['set-20-percent', 40],
        ['from-20-percent-plus-12-db', 52],
      ].map(([name, gain]) => `${name}.csv,${gain}`);
      const table = (name: string, of: readonly string[], column = 'gain_db') =>
        file(name, [`file,${column}`, ...of, ''].join('\n'));
      const by = (steps: string, ...more: string[]) =>
        settings('sound', '--rule', 'asme-v-appendix-ii', '--steps', steps, ...more);

      it('that agrees with its captures changes nothing', () => {
        expect(document(by(table('agrees.csv', rows), '--json'))).toMatchObject({
          verdict: 'pass',
          order: 'step-table',
        });
      });

      it.each<[string, string, RegExp]>([
        [
          'that contradicts one',
          '35',
          /contradicts\.csv:3:33: the step table says 35 dB of gain, and the capture .* says 34 dB/,
        ],
        ['with a gain that is no number', 'loud', /contradicts\.csv:3:33: "loud" is not a number of dB/],
        ['with a gain left out', '', /contradicts\.csv:3:33: no gain_db stands here/],
      ])('%s: that step is not assessed, the others are', (_name, gain, line) => {
        const { status, out, err } = by(
          table(
            'contradicts.csv',
            rows.map((row) => row.replace(',34', `,${gain}`)),
          ),
          '--json',
        );
        expect(status).toBe(1);
        expect(err).toMatch(line);
        const { verdict, steps } = document({ status, out, err });
        expect(verdict).toBe('not-assessed');
        expect(steps.map((step: { verdict: string }) => step.verdict)).toEqual([
          'not-assessed',
          'pass',
          'pass',
          'pass',
        ]);
      });

      it('of an attenuator outside the instrument: its losses, whatever the captures say of their gain', () => {
        const losses = captures('sound', 'screen-height', /^one-echo/).map((path) => {
          const change = /(plus|minus)-(\d+)-db/.exec(path);
          const loss = change === null ? 2 : 2 - (change[1] === 'plus' ? 1 : -1) * Number(change[2]);
          return `${path.split('/').pop()},${loss}`;
        });
        const answered = oneEcho(
          'sound',
          '--rule',
          'iso-22232-3-screen-height',
          '--steps',
          table('attenuator.csv', losses, 'attenuator_db'),
          '--json',
        );
        expect(document(answered).verdict).toBe('pass');
      });
    });

    describe('what cannot be used ends with status 2, and nothing on standard output', () => {
      const one = of('sound', 'gain/set-80-percent.csv');
      it.each<[string, string[], RegExp]>([
        ['no check', [], /time-base \[options\]/],
        ['a check that there is not', ['damping'], /unknown command/],
        ['no window', ['gain', one], /^--window: give the window of the echo/],
        ['a window without a unit', ['gain', one, '--window', '10..12'], /has no unit/],
        [
          'one window of two',
          ['screen-height', one, '--larger', '10us..12us'],
          /^--window: give the windows of two echoes/,
        ],
        [
          'two forms at once',
          ['screen-height', one, '--larger', '1us..2us', '--smaller', '3us..4us', '--window', '1us..2us'],
          /^--window/,
        ],
        [
          'a range without a unit',
          ['time-base', one, '--window', '1us..20us', '--range', '250'],
          /^--range: "250" has no unit/,
        ],
        [
          'a range in path without the spacing',
          ['time-base', of('sound', 'time-base.csv'), '--window', '5us..98us', '--range', '250mm'],
          /how far apart the echoes stand is not/,
        ],
        [
          'a window and reflectors',
          ['time-base', one, '--window', '1us..20us', '--reflector', '25mm@7us..11us'],
          /one or the other/,
        ],
        [
          'one echo alone',
          ['time-base', of('sound', 'time-base.csv'), '--window', '5us..12us'],
          /one echo of the time base could be timed/,
        ],
        [
          'a rule that there is not',
          ['gain', one, '--window', '10us..12us', '--rule', 'yard-rule'],
          /no published rule for this check \(asme-v-appendix-ii/,
        ],
        [
          'a rule of another check',
          ['gain', one, '--window', '10us..12us', '--rule', 'asme-v-appendix-i'],
          /no published rule for this check/,
        ],
        [
          'a rule of another form',
          ['screen-height', one, '--window', '10us..12us', '--rule', 'asme-v-appendix-i'],
          /not one for this check/,
        ],
        [
          'a rule file that is none',
          ['gain', one, '--window', '10us..12us', '--rule', './package.json'],
          /^\.\/package\.json:1:1: "check" is missing/,
        ],
        [
          'a step table without its column',
          ['gain', one, '--window', '10us..12us', '--steps', './package.json'],
          /^\.\/package\.json:1:1: a step table needs a header/,
        ],
        [
          'a step table that is not there',
          ['gain', one, '--window', '10us..12us', '--steps', 'nowhere.csv'],
          /^nowhere\.csv: the step table cannot be read/,
        ],
        [
          'a capture that is not there',
          ['gain', 'nowhere.csv', '--window', '10us..12us'],
          /^nowhere\.csv: there is no such file/,
        ],
      ])('%s', (_name, words, sentence) => {
        const { status, out, err } = linearity(...words);
        expect(status).toBe(2);
        expect(out).toBe('');
        expect(err).toMatch(sentence);
      });
    });

    it('a rule of one’s own', () => {
      const rule = JSON.parse(readFileSync(join(root, 'core/linearity/rules/iso-22232-1-time-base.json'), 'utf8'));
      const wide = file('own-rule.json', JSON.stringify({ ...rule, name: 'yard-rule-2026', deviationPercent: 1.7 }));
      expect(document(timeBase('time-base-bends', '--rule', wide, '--json'))).toMatchObject({
        rule: { name: 'yard-rule-2026' },
        verdict: 'pass',
      });
    });
  },
);

it('the help of each check names every published rule for it', () => {
  for (const check of ['time-base', 'screen-height', 'gain'] as const) {
    const help = linearity(check, '--help').out.replace(/\s+/g, ' ');
    for (const rule of publishedLinearityRules) if (rule.check === check) expect(help).toContain(rule.name);
  }
});
