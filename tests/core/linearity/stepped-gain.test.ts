import { describe, expect, it } from 'vitest';
import type { SteppedReading } from '../../../core/linearity/height-reading.ts';
import type { SteppedRule } from '../../../core/linearity/rule.ts';
import { judgeSteppedGain } from '../../../core/linearity/stepped-gain.ts';
import { workOut } from '../../build/arithmetic.ts';
import { height, heightAt, publishedRule } from '../../build/heights.ts';

const iso = publishedRule('iso-22232-3-screen-height') as SteppedRule;
const article5 = publishedRule('asme-v-article-5') as SteppedRule;
const run = (gains: readonly number[], worth = 1, u = 0.1): SteppedReading[] =>
  gains.map((gain) => height(heightAt(gain, { worth }), gain, { u, flags: gain > 41 ? ['saturated'] : [] }));
const isoGains = [42, 40, 34, 28, 22, 16];
const named = (steps: readonly { name: string }[], name: string) => {
  const step = steps.find((of) => of.name === name);
  if (step === undefined) throw new Error(`no step ${name}`);
  return step as ReturnType<typeof judgeSteppedGain>['steps'][number];
};

describe('by a table of steps', () => {
  it('nothing captured: all steps not assessed, and from which height they are counted', () => {
    const { steps, outcome } = judgeSteppedGain([], iso, 'with-uncertainty');
    expect(steps).toHaveLength(5);
    expect(steps[0].remark).toBe('no capture stands at 80 ± 2 % FSH, from which this step is counted');
    expect(outcome).toBe('not-assessed');
  });

  it('a perfect instrument passes, in whatever order it was captured', () => {
    expect(judgeSteppedGain(run(isoGains), iso, 'with-uncertainty').outcome).toBe('pass');
    expect(judgeSteppedGain(run([...isoGains].reverse()), iso, 'with-uncertainty').outcome).toBe('pass');
  });

  it('what stands near 80 % is referred to 80 %', () => {
    const readings = run(isoGains).map((of) => ({
      ...of,
      percent: { value: (of.percent?.value ?? 0) * 0.985, standardUncertainty: 0.1 },
    }));
    const step = named(judgeSteppedGain(readings, iso, 'with-uncertainty').steps, '−6 dB from 80 %');
    expect(step.read?.value).toBeCloseTo(0.985 * 40.095, 3);
    expect(step.deviation?.value).toBeCloseTo(0.095, 3);
  });

  it('a step without a capture is not assessed, and the others stand', () => {
    const { steps, outcome } = judgeSteppedGain(run([42, 40, 34, 22, 16]), iso, 'with-uncertainty');
    const step = named(steps, '−12 dB from 80 %');
    expect(step.verdict?.outcome).toBe('not-assessed');
    expect(step.remark).toContain('no capture of the same signal stands −12 dB of gain from the one at 80 % FSH');
    expect(steps.filter((of) => of.verdict?.outcome === 'pass')).toHaveLength(4);
    expect(outcome).toBe('not-assessed');
  });

  it('a capture whose gain nobody states serves no step, and is named', () => {
    const { unused, outcome } = judgeSteppedGain(
      [...run(isoGains), height(20, null, { captureId: 'x.csv' })],
      iso,
      'with-uncertainty',
    );
    expect(unused).toEqual([{ captureId: 'x.csv', reason: expect.stringContaining('gain is not known') }]);
    expect(outcome).toBe('pass');
  });

  it.each<[string, number, string]>([
    ['cut off at 98 %, above the lower limit', 98, 'pass'],
    ['cut off at 95 %, on it but for the uncertainty', 95, 'inconclusive'],
    ['cut off at 90 %, below it: where the crest would stand is not known', 90, 'inconclusive'],
  ])('a lower limit alone and a crest %s', (_name, percent, outcome) => {
    const readings = [height(percent, 42, { u: 0.1, flags: ['saturated'] }), ...run(isoGains.slice(1))];
    const step = named(judgeSteppedGain(readings, iso, 'with-uncertainty').steps, '+2 dB from 80 %');
    expect(step.verdict?.outcome).toBe(outcome);
    expect(step.remark).toContain('lower bound');
    expect(step.verdict?.limit).toBe(-6);
  });

  it('a crest cut off where there is an upper limit is not assessed', () => {
    const readings = run(isoGains).map((of) => (of.levelDb === 34 ? { ...of, flags: ['saturated'] as const } : of));
    const step = named(judgeSteppedGain(readings, iso, 'with-uncertainty').steps, '−6 dB from 80 %');
    expect(step).toMatchObject({ deviation: null, verdict: { outcome: 'not-assessed' }, flags: ['saturated'] });
  });

  it('an echo below the threshold is not assessed', () => {
    const readings = run(isoGains).map((of) => (of.levelDb === 16 ? height(null, 16) : of));
    expect(named(judgeSteppedGain(readings, iso, 'with-uncertainty').steps, '−24 dB from 80 %').remark).toContain(
      'no echo reaches the threshold',
    );
  });

  it.each<[worth: number, outcomes: string[]]>([
    // 42.08, 22.14, 11.64, 6.12 %
    [0.93, ['pass', 'pass', 'pass', 'pass']],
    // 43.84, 24.02, 13.16, 7.21 %
    [0.87, ['fail', 'fail', 'fail', 'pass']],
  ])('a gain control that gives %d dB to the dB', (worth, outcomes) => {
    const { steps } = judgeSteppedGain(run(isoGains, worth), iso, 'with-uncertainty');
    expect(steps.slice(1).map((step) => step.verdict?.outcome)).toEqual(outcomes);
  });
});

describe('over a span of heights', () => {
  it('a perfect instrument passes; what should stand outside the span is left out', () => {
    const { steps, outcome, unused } = judgeSteppedGain(
      run([42, 40, 38, 36, 34, 32, 30, 28, 22]),
      article5,
      'with-uncertainty',
    );
    expect(steps).toHaveLength(6);
    expect(outcome).toBe('pass');
    expect(unused.map(({ captureId }) => captureId)).toEqual([
      expect.stringContaining('at 42 dB'),
      expect.stringContaining('at 22 dB'),
    ]);
  });

  it('steps that do not reach down to the end of the span keep it from passing', () => {
    const { steps, outcome } = judgeSteppedGain(run([40, 38, 36, 34]), article5, 'with-uncertainty');
    expect(steps[steps.length - 1]).toMatchObject({ name: 'down to 20 %', verdict: { outcome: 'not-assessed' } });
    expect(outcome).toBe('not-assessed');
  });

  it('no capture at the height to be set', () => {
    const { steps } = judgeSteppedGain(run([36, 34]), article5, 'with-uncertainty');
    expect(steps[0].remark).toContain('no capture stands at 80 ± 2 % FSH');
  });

  it('a screen that sags by 6 % at half its height fails', () => {
    const readings = run([40, 34, 28]).map((of) => (of.levelDb === 34 ? height(34, 34, { u: 0.1 }) : of));
    expect(judgeSteppedGain(readings, article5, 'with-uncertainty').outcome).toBe('fail');
  });

  it('the arithmetic, worked out as it stands, gives the deviation as it stands', () => {
    for (const { arithmetic } of judgeSteppedGain(run([40, 37.5, 31, 28], 0.97), article5, 'with-uncertainty').steps) {
      const [formula, value] = (arithmetic?.withNumbers ?? '').split(' = ');
      expect(Math.abs(workOut(formula) - Number(value.replace(' %', '')))).toBeLessThanOrEqual(0.005 + 1e-9);
    }
  });
});

it('without a rule: figures against the highest echo that is whole', () => {
  const { steps, outcome } = judgeSteppedGain(run(isoGains), null, 'with-uncertainty');
  expect(outcome).toBeNull();
  expect(named(steps, '−6 dB from 80 %').deviation?.value).toBeCloseTo(0, 9);
  expect(named(steps, '+2 dB from 80 %').deviation).toBeNull();
});
