import { describe, expect, it } from 'vitest';
import { judgeGain } from '../../../core/linearity/gain.ts';
import type { SteppedReading } from '../../../core/linearity/height-reading.ts';
import type { GainRule } from '../../../core/linearity/rule.ts';
import { workOut } from '../../build/arithmetic.ts';
import { height, publishedRule } from '../../build/heights.ts';

const asme = publishedRule('asme-v-appendix-ii') as GainRule;
const aws = publishedRule('aws-d1.1-gain') as GainRule;
const iso = publishedRule('iso-22232-1-gain') as GainRule;

/** At each of so many gains the echo is set to 40 %, then the gain raised by `stepDb` up to 6 dB; `worth` is what 1 dB of it is worth. */
function run(spans: number, { worth = 1, stepDb = 2, u = 0.05 as number | null } = {}): SteppedReading[] {
  return Array.from({ length: spans }, (_, span) => {
    const steps = Array.from({ length: 6 / stepDb + 1 }, (_, i) => i * stepDb);
    return steps.map((change) =>
      height(40 * 10 ** ((worth * change) / 20), 20 + 6 * span + change, {
        u,
        captureId: `span ${span} plus ${change}`,
      }),
    );
  }).flat();
}

/** The four settings of the appendix, each set by moving the probe at 40 dB. */
const settings = (worth = 1, u = 0.1): SteppedReading[] =>
  [
    [80, [0, -6, -12]],
    [40, [0, 6]],
    [20, [0, 12]],
  ].flatMap(([set, changes]) =>
    (changes as number[]).map((change) =>
      height((set as number) * 10 ** ((worth * change) / 20), 40 + change, { u, captureId: `${set} ${change}` }),
    ),
  );

describe('by a table of settings', () => {
  it('a perfect control passes, each step from its own two captures', () => {
    const { steps, outcome } = judgeGain(settings(), asme, 'with-uncertainty');
    expect(steps.map((step) => step.captureId)).toEqual(['80 -6', '80 -12', '40 6', '20 12']);
    expect(outcome).toBe('pass');
  });

  it('−6 dB from 80 % is not at once +6 dB from 40 %', () => {
    const { steps, outcome } = judgeGain(settings().slice(0, 3), asme, 'with-uncertainty');
    expect(steps.map((step) => step.verdict?.outcome)).toEqual(['pass', 'pass', 'not-assessed', 'not-assessed']);
    expect(steps[2].remark).toContain('the other way round');
    expect(outcome).toBe('not-assessed');
  });

  it('a control that does nothing at −6 dB does not pass as an echo set anew', () => {
    const readings = settings().map((of) => (of.captureId === '80 -6' ? height(80, 34, { captureId: '80 -6' }) : of));
    const { steps, outcome } = judgeGain(readings, asme, 'with-uncertainty');
    expect(steps[0].verdict?.outcome).toBe('not-assessed');
    expect(steps[0].remark).toContain('off by 6 dB of what the gain says');
    expect(steps[0].remark).toContain('this step of the gain has failed');
    expect(outcome).not.toBe('pass');
  });

  it('a run that is captured along does not disturb it, and is said to serve no step', () => {
    const { outcome, unused } = judgeGain([...settings(), ...run(3)], asme, 'with-uncertainty');
    expect(outcome).toBe('pass');
    expect(unused).toHaveLength(12);
  });
});

describe('by the run of the steps', () => {
  it('nothing, one capture, one setting: nothing to compare', () => {
    for (const readings of [[], run(1).slice(0, 1), [height(40, 20), height(41, 20)]]) {
      const { conclusions, outcome } = judgeGain(readings, iso, 'with-uncertainty');
      expect(conclusions[0].remark).toContain('no two settings');
      expect(outcome).toBe('not-assessed');
    }
  });

  it.each([
    ['AWS D1.1', aws],
    ['ISO 22232-1', iso],
  ])('%s: a perfect control over 60 dB passes', (_name, rule) => {
    const { outcome, qualified, steps } = judgeGain(run(10), rule, 'with-uncertainty');
    expect(outcome).toBe('pass');
    expect(steps).toHaveLength(30);
    expect(qualified).toMatchObject({ fromDb: 20, toDb: 80 });
  });

  it.each([
    ['AWS D1.1', aws],
    ['ISO 22232-1', iso],
  ])('%s: less than 60 dB cannot pass, and says how much there is', (_name, rule) => {
    const { outcome, conclusions } = judgeGain(run(6), rule, 'with-uncertainty');
    expect(outcome).toBe('not-assessed');
    expect(conclusions.find((of) => of.name === 'range of at least 60 dB')?.remark).toContain('cover 36 dB');
  });

  it('steps of 2 dB that are each 0.2 dB short add up to 6 dB over 60 dB, and to 2 dB over 20 dB', () => {
    const { points, outcome, qualified, conclusions, steps } = judgeGain(
      run(10, { worth: 0.9 }),
      iso,
      'with-uncertainty',
    );
    for (const step of steps) expect(step.deviation?.value).toBeCloseTo(-0.2, 9);
    expect(points[points.length - 1].totalErrorDb?.value).toBeCloseTo(-6, 9);
    expect(conclusions.map((of) => of.deviation?.value)).toEqual([expect.closeTo(-6, 9), expect.closeTo(-2, 9)]);
    expect(qualified).toMatchObject({ fromDb: 20, toDb: 40 });
    expect(outcome).toBe('fail');
  });

  it('the annex form’s instrument is qualified by the widest part that keeps 2 dB, and fails if that is less than 60 dB', () => {
    const { outcome, qualified } = judgeGain(run(10, { worth: 0.95 }), aws, 'with-uncertainty');
    expect(qualified).toMatchObject({ fromDb: 20, toDb: 60 });
    expect(outcome).toBe('fail');
  });

  it('one bad step at the end of 72 dB leaves 60 dB qualified by the annex form, and fails the whole range', () => {
    const readings = run(12).map((of) =>
      of.captureId === 'span 11 plus 6' ? height(100 * 0.95, 92, { u: 0.05 }) : of,
    );
    const shifted = readings.map((of, i) => (i === readings.length - 1 ? height(60, of.levelDb, { u: 0.05 }) : of));
    expect(judgeGain(shifted, aws, 'with-uncertainty').outcome).toBe('pass');
    expect(judgeGain(shifted, iso, 'with-uncertainty').outcome).toBe('fail');
  });

  it('heights between the ends of a signal cancel: the total of n signals has the uncertainty of 2n readings', () => {
    const { points } = judgeGain(run(3, { u: 0.4 }), null, 'with-uncertainty');
    const perNeper = 20 / Math.LN10;
    const ends = (perNeper * 0.4) ** 2 * (1 / 40 ** 2 + 1 / (40 * 10 ** 0.3) ** 2);
    expect(points[points.length - 1].totalErrorDb?.standardUncertainty).toBeCloseTo(Math.sqrt(3 * ends), 12);
  });

  it('a crest cut off within a signal leaves its own two steps not assessed, and the total stands', () => {
    const readings = run(10).map((of, i) => (i === 5 ? { ...of, flags: ['saturated'] as const } : of));
    const { steps, points, outcome } = judgeGain(readings, iso, 'with-uncertainty');
    expect(steps.filter((step) => step.verdict?.outcome === 'not-assessed').map((step) => step.name)).toEqual([
      'from 26 to 28 dB',
    ]);
    expect(points[points.length - 1].totalErrorDb?.value).toBeCloseTo(0, 9);
    expect(outcome).toBe('not-assessed');
  });

  it('an echo set anew at a gain not met before breaks the run: not assessed', () => {
    const readings = [
      ...run(5),
      ...run(5).map((of) => ({ ...of, levelDb: (of.levelDb ?? 0) + 33, captureId: `later ${of.captureId}` })),
    ];
    const { steps, outcome } = judgeGain(readings, iso, 'with-uncertainty');
    expect(steps.find((step) => step.name === 'from 50 to 53 dB')?.verdict?.outcome).toBe('not-assessed');
    expect(outcome).not.toBe('pass');
  });

  it('an unknown uncertainty can fail, but not pass', () => {
    expect(judgeGain(run(10, { u: null }), iso, 'with-uncertainty').outcome).toBe('inconclusive');
    expect(judgeGain(run(10, { u: null, worth: 0.9 }), iso, 'with-uncertainty').outcome).toBe('fail');
  });

  it('a doubtful echo anywhere in the run keeps it from passing', () => {
    const readings = run(10).map((of, i) => (i === 17 ? { ...of, flags: ['ambiguous-echo'] as const } : of));
    expect(judgeGain(readings, iso, 'with-uncertainty').outcome).toBe('inconclusive');
  });

  it('without a rule: figures, and no verdict', () => {
    const { steps, conclusions, outcome } = judgeGain(run(2), null, 'with-uncertainty');
    expect(steps).toHaveLength(6);
    expect([conclusions, outcome]).toEqual([[], null]);
  });

  it('the arithmetic, worked out as it stands, gives the error as it stands', () => {
    for (const rule of [aws, iso]) {
      const { steps, conclusions } = judgeGain(run(10, { worth: 0.983 }), rule, 'with-uncertainty');
      for (const { arithmetic } of [...steps, ...conclusions].slice(0, 12)) {
        const [formula, value] = (arithmetic?.withNumbers ?? '').split(' = ');
        expect(Math.abs(workOut(formula) - Number(value.replace(' dB', '')))).toBeLessThanOrEqual(0.0005 + 1e-9);
      }
    }
  });
});
