import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const sample = join(root, 'sample-data');
const folder = mkdtempSync(join(tmpdir(), 'over-time-'));

function cli(...words: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, ['electron/cli/run.mjs', ...words], {
    cwd: root,
    encoding: 'utf8',
  });
  return { status, out: stdout, err: stderr };
}

/** The sample review with a change, beside copies of its captures. */
function reviewWith(name: string, path: string, change: (review: Review) => void): string {
  const copy = join(folder, name);
  cpSync(sample, copy, { recursive: true });
  const file = join(copy, path);
  const review = JSON.parse(readFileSync(file, 'utf8'));
  change(review);
  writeFileSync(file, JSON.stringify(review));
  return file;
}

interface Review {
  sources: { file: string; sha256: string | null; facts: object[] }[];
  readings: { captures: string[] } | null;
  linearity: { timeBase: { captures: string[] } };
}

const noFacts = {
  trace: null,
  gainDb: null,
  positionMm: null,
  acrossMm: null,
  probe: null,
  instrument: null,
  block: null,
  temperatureC: null,
};

describe('evaluate', () => {
  it('ends with status 0 for the sound instrument, and lists its verdicts', () => {
    const ran = cli('evaluate', join('sample-data', 'instruments', 'review.json'));
    expect(ran.status).toBe(0);
    expect(ran.out).toMatch(/All verdicts\n\nchecked +verdict +fail +inconclusive +not assessed +pass\n/);
    expect(ran.out).toMatch(/time-base linearity +pass +0 +0 +0 +9\n/);
    expect(ran.out).toContain('24 checks with flaw detector 4, straight probe 5, longitudinal, 5 MHz.');
    expect(ran.out).toContain('Longest time between two: 3.0 days.');
  });

  it('ends with status 1 where a time base fails, with the verdict first in the list', () => {
    const review = reviewWith('bent', 'instruments/review.json', (given) => {
      given.linearity.timeBase.captures = ['time-base-bends/time-base.csv'];
      given.sources.push({ ...given.sources[0], file: 'time-base-bends/time-base.csv', sha256: null });
    });
    const ran = cli('evaluate', review, '--json');
    const { verdicts } = JSON.parse(ran.out);
    expect(ran.status).toBe(1);
    expect(verdicts.outcome).toBe('fail');
    expect(verdicts.verdicts[0]).toMatchObject({ part: 'time-base', outcome: 'fail', unit: '%', upper_limit: 1 });
    expect(verdicts.verdicts[0].arithmetic[0].with_numbers).toMatch(
      /^100 · \(.* µs − .* µs\) \/ 84\.4\d* µs = 1\.\d+ %$/,
    );
  });

  it('lists what was read between the last good check and the first after, and what cannot be placed', () => {
    const review = reviewWith('late', 'review.json', (given) => {
      const [weld] = given.sources.filter(({ file }) => file === 'plate-weld/first-leg.csv');
      weld.facts = [
        { ...noFacts, takenAt: '2026-05-11T13:00:00Z' },
        { ...noFacts, trace: 'capture_01_pct', takenAt: '2026-05-11T07:00:00Z' },
        { ...noFacts, trace: 'capture_02_pct', takenAt: '2026-05-11 13:00' },
      ];
    });
    const words = cli('evaluate', review).out;
    expect(words).toContain('shift/check-7.csv and 2 more up to shift/check-9.csv do not pass');
    expect(words).toContain('40 captures were read, to be looked at again (1 of them cannot be placed in time');
    const [group] = JSON.parse(cli('evaluate', review, '--json').out).drift_over_time;
    const { readings, after, before } = group.to_reexamine[0];
    expect([after.file, before]).toEqual(['shift/check-6.csv', null]);
    expect(readings).toHaveLength(40);
    expect(readings.find((reading: { trace: string }) => reading.trace === 'capture_02_pct').placing).toBe(
      'cannot-be-placed',
    );
    expect(readings.some((reading: { trace: string }) => reading.trace === 'capture_01_pct')).toBe(false);
  });

  it('says that checks name no probe, and charts them all the same', () => {
    const review = reviewWith('nameless', 'review.json', (given) => {
      for (const source of given.sources) source.sha256 = null;
    });
    const check = join(folder, 'nameless', 'shift', 'check-2.csv');
    writeFileSync(check, readFileSync(check, 'utf8').replace(/^probe=.*\n/m, ''));
    const ran = cli('evaluate', review);
    expect(ran.out).toContain('1 check with flaw detector 2, probe not stated.');
    expect(ran.out).toContain('one check names no probe');
  });
});

describe('drift', () => {
  it('charts checks without a review', () => {
    const windows = ['--reflector', '25mm@8us..10us', '--reflector', '100mm@33us..36us'];
    const plate = join(folder, 'plate.json');
    const sound = join('sample-data', 'instruments', 'sound');
    writeFileSync(plate, cli('calibrate', join(sound, 'calibration.csv'), ...windows, '--json').out);
    const given = ['drift', join(sound, 'checks'), '--calibration', plate, ...windows];
    const ran = cli(...given, '--json');
    expect(ran.status).toBe(0);
    const [group] = JSON.parse(ran.out).over_time;
    expect(group.series).toHaveLength(4);
    for (const { points, trend } of group.series) {
      expect(points).toHaveLength(24);
      expect(trend.significant).toBe(true);
    }
    expect(cli(...given).out).toMatch(/Over time\n\n24 checks with flaw detector 4/);
  });
});
