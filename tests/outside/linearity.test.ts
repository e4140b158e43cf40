import { describe, expect, it } from 'vitest';
import { judgeGain } from '../../core/linearity/gain.ts';
import type { SteppedReading } from '../../core/linearity/height-reading.ts';
import type { GainRule, SteppedRule, TableStep, TwoEchoRule } from '../../core/linearity/rule.ts';
import { judgeSteppedGain } from '../../core/linearity/stepped-gain.ts';
import { judgeTwoEcho } from '../../core/linearity/two-echo.ts';
import { height, pair, publishedRule } from '../build/heights.ts';

/** `read`: seen in the text; `second-hand`: in a text that quotes it; `memory`; `derived`: algebra on the figures in the row. */
type Mark = 'read' | 'second-hand' | 'memory' | 'derived';

describe('ASME BPVC Section V (2010), Article 4, Appendix I: the smaller echo is half of the larger within 5 % FSH', () => {
  it.each<[larger: number, smaller: number, outcome: string, mark: Mark]>([
    [80, 45, 'pass', 'read'],
    [80, 46, 'fail', 'read'],
    [80, 35, 'pass', 'read'],
    [80, 34, 'fail', 'read'],
    [99, 54.5, 'pass', 'derived'],
    [20, 15, 'pass', 'read'],
    [20, 15.1, 'fail', 'read'],
  ])('larger %d, smaller %d: %s (%s)', (larger, smaller, outcome) => {
    const rule = publishedRule('asme-v-appendix-i') as TwoEchoRule;
    const { steps } = judgeTwoEcho([pair(larger, smaller)], rule, 'with-uncertainty');
    const step = steps.find(({ deviation }) => deviation !== null);
    expect(step?.verdict?.outcome).toBe(outcome);
    expect(step?.deviation?.value).toBeCloseTo(smaller - larger / 2, 12);
  });
});

/** A run of captures that serves every step of a table exactly, but shows `read` at the one step asked about. */
function serving(table: readonly TableStep[], asked: TableStep, read: number): SteppedReading[] {
  const sets = [...new Set(table.map((step) => step.setPercent))];
  return sets.flatMap((set, group) => {
    const at = 40 + 0.3 * group;
    const steps = table.filter((step) => step.setPercent === set);
    return [
      height(set, at),
      ...steps.map((step) => height(step === asked ? read : Math.min(99, step.targetPercent), at + step.changeDb)),
    ];
  });
}

const stepOf = (table: readonly TableStep[], setPercent: number, changeDb: number): TableStep => {
  const step = table.find((of) => of.setPercent === setPercent && of.changeDb === changeDb);
  if (step === undefined) throw new Error('no such step');
  return step;
};

describe('tables of gain steps: what stands on a limit is allowed', () => {
  it.each<[rule: string, set: number, change: number, read: number, outcome: string, mark: Mark]>([
    ['asme-v-appendix-ii', 80, -6, 32, 'pass', 'read'],
    ['asme-v-appendix-ii', 80, -6, 48, 'pass', 'read'],
    ['asme-v-appendix-ii', 80, -6, 48.1, 'fail', 'read'],
    ['asme-v-appendix-ii', 80, -6, 31.9, 'fail', 'read'],
    ['asme-v-appendix-ii', 80, -12, 16, 'pass', 'read'],
    ['asme-v-appendix-ii', 80, -12, 24, 'pass', 'read'],
    ['asme-v-appendix-ii', 80, -12, 24.1, 'fail', 'read'],
    ['asme-v-appendix-ii', 40, 6, 64, 'pass', 'read'],
    ['asme-v-appendix-ii', 40, 6, 96, 'pass', 'read'],
    ['asme-v-appendix-ii', 40, 6, 63.9, 'fail', 'read'],
    ['asme-v-appendix-ii', 20, 12, 64, 'pass', 'memory'],
    ['asme-v-appendix-ii', 20, 12, 96.1, 'fail', 'memory'],
    ['iso-22232-3-gain', 80, -6, 37, 'pass', 'second-hand'],
    ['iso-22232-3-gain', 80, -6, 43.1, 'fail', 'second-hand'],
    ['iso-22232-3-gain', 80, -12, 17, 'pass', 'second-hand'],
    ['iso-22232-3-gain', 80, -12, 23.1, 'fail', 'second-hand'],
    ['iso-22232-3-gain', 80, -18, 8, 'pass', 'second-hand'],
    ['iso-22232-3-gain', 80, -18, 12.1, 'fail', 'second-hand'],
    ['iso-22232-3-gain', 80, 2, 95, 'pass', 'second-hand'],
    ['iso-22232-3-gain', 80, 2, 94.9, 'fail', 'second-hand'],
    // The text read says "below 3 %", which a perfect instrument (5.05 %) would fail.
    ['iso-22232-3-gain', 80, -24, 5.05, 'pass', 'memory'],
    ['iso-22232-3-gain', 80, -24, 8.1, 'fail', 'memory'],
  ])('%s: set to %d, changed by %d dB, read %d: %s (%s)', (name, set, change, read, outcome) => {
    const rule = publishedRule(name) as Extract<GainRule, { form: 'table' }>;
    const asked = stepOf(rule.steps, set, change);
    const { steps } = judgeGain(serving(rule.steps, asked, read), rule, 'with-uncertainty');
    expect(steps[rule.steps.indexOf(asked)].verdict?.outcome).toBe(outcome);
    expect(steps[rule.steps.indexOf(asked)].deviation?.value).toBeCloseTo(read - asked.targetPercent, 9);
  });

  it.each<[change: number, read: number, outcome: string]>([
    [1, 88, 'pass'],
    [1, 92.1, 'fail'],
    [-2, 66, 'pass'],
    [-2, 61.9, 'fail'],
    [-4, 52, 'pass'],
    [-6, 42.1, 'fail'],
    [-10, 23, 'pass'],
    [-12, 22, 'pass'],
    [-18, 7.9, 'fail'],
    [-24, 7, 'pass'],
    [-24, 2.9, 'fail'],
  ])('ISO 22232-1 (memory): %d dB from eighty, read %d: %s', (change, read, outcome) => {
    const rule = publishedRule('iso-22232-1-screen-height') as Extract<SteppedRule, { form: 'stepped-table' }>;
    const asked = stepOf(rule.steps, 80, change);
    const { steps } = judgeSteppedGain(serving(rule.steps, asked, read), rule, 'with-uncertainty');
    expect(steps[rule.steps.indexOf(asked)].verdict?.outcome).toBe(outcome);
  });

  it.each<[set: number, change: number, exact: number]>([
    [80, -6, 40.095],
    [80, -12, 20.0951],
    [40, 6, 79.8105],
    [20, 12, 79.6214],
  ])('what an exact control shows: %d changed by %d dB gives %d (derived)', (set, change, exact) => {
    const rule = publishedRule('asme-v-appendix-ii') as Extract<GainRule, { form: 'table' }>;
    const asked = stepOf(rule.steps, set, change);
    const { steps, points } = judgeGain(
      serving(rule.steps, asked, set * 10 ** (change / 20)),
      rule,
      'with-uncertainty',
    );
    const step = steps[rule.steps.indexOf(asked)];
    expect(step.read?.value).toBeCloseTo(exact, 3);
    expect(step.verdict?.outcome).toBe('pass');
    const error = points.find(({ percent }) => percent === step.read)?.stepErrorDb;
    if (change === -6 || set !== 80) expect(error?.value).toBeCloseTo(0, 9);
  });
});

describe('steps of dB against read heights', () => {
  it.each<[read: number, actualDb: number, mark: Mark]>([
    [78, 5.801, 'derived'],
    [79, 5.911, 'derived'],
    [80, 6.021, 'derived'],
    [81, 6.129, 'derived'],
    [82, 6.235, 'derived'],
    [85, 6.547, 'derived'],
  ])('forty and 6 dB more, reading %d: the step was %d dB', (read, actualDb) => {
    const { steps } = judgeGain([height(40, 20), height(read, 26)], null, 'with-uncertainty');
    expect((steps[0].deviation?.value ?? 0) + 6).toBeCloseTo(actualDb, 3);
  });

  it('reading 82 % is an error of +0.235077 dB (derived), by the definition and by the annex form alike', () => {
    const readings = [height(40, 20), height(82, 26)];
    const plain = judgeGain(readings, null, 'with-uncertainty').steps[0];
    const form = judgeGain(readings, publishedRule('aws-d1.1-gain') as GainRule, 'with-uncertainty').steps[0];
    expect(plain.deviation?.value).toBeCloseTo(0.235077, 6);
    expect(form.deviation?.value).toBeCloseTo(0.235077, 6);
  });

  it.each<[percent: number, by: number, db: number]>([
    [40, 1, 0.22],
    [20, 1, 0.43],
    [40, 0.5, 0.108],
  ])('a reading of %d that is off by %d moves the error by %d dB (derived)', (percent, by, db) => {
    const gainDb = percent === 40 ? 34 : 28;
    const of = (read: number) =>
      judgeGain([height(80, 40), height(read, gainDb)], null, 'with-uncertainty').steps[0].deviation?.value ??
      Number.NaN;
    expect((of(percent + by) - of(percent - by)) / 2).toBeCloseTo(db, 2);
  });
});
