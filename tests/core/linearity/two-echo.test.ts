import { describe, expect, it } from 'vitest';
import type { TwoEchoRule } from '../../../core/linearity/rule.ts';
import { judgeTwoEcho } from '../../../core/linearity/two-echo.ts';
import { workOut } from '../../build/arithmetic.ts';
import { height, pair, publishedRule } from '../../build/heights.ts';

const asme = publishedRule('asme-v-appendix-i') as TwoEchoRule;
const e317 = publishedRule('astm-e317-two-echo') as TwoEchoRule;
const tens = [99.5, 90, 80, 70, 60, 50, 40, 30, 20];
const perfect = tens.map((larger) => pair(larger, larger / 2, { u: 0.1 }));

describe('judgeTwoEcho: which heights are shown', () => {
  it('nothing at all: every height of the rule is a step not assessed', () => {
    const { steps, outcome } = judgeTwoEcho([], asme, 'with-uncertainty');
    expect(steps).toHaveLength(9);
    expect(steps.every((step) => step.verdict?.outcome === 'not-assessed')).toBe(true);
    expect(outcome).toBe('not-assessed');
  });

  it('all heights in steps of 10 %: passes', () => {
    const { steps, outcome } = judgeTwoEcho(perfect, asme, 'with-uncertainty');
    expect(steps).toHaveLength(9);
    expect(outcome).toBe('pass');
  });

  it('steps of 2 dB serve as well', () => {
    const pairs = Array.from({ length: 8 }, (_, i) => 99.8 * 10 ** ((-2 * i) / 20)).map((larger) =>
      pair(larger, larger / 2, { u: 0.1 }),
    );
    const { outcome, steps } = judgeTwoEcho(pairs, asme, 'with-uncertainty');
    expect(steps).toHaveLength(8);
    expect(outcome).toBe('pass');
  });

  it('a height that was left out keeps the rule from passing, and is named', () => {
    const { steps, outcome } = judgeTwoEcho(
      perfect.filter((_, i) => i !== 4),
      asme,
      'with-uncertainty',
    );
    expect(steps.filter((step) => step.verdict?.outcome === 'not-assessed').map((step) => step.name)).toEqual([
      'larger echo at 60 %',
    ]);
    expect(outcome).toBe('not-assessed');
  });

  it('a capture at a height that no step names is judged all the same', () => {
    const { steps, outcome } = judgeTwoEcho([...perfect, pair(65, 40, { u: 0.1 })], asme, 'with-uncertainty');
    expect(steps.find((step) => step.name === 'larger echo at 65 %')?.verdict?.outcome).toBe('fail');
    expect(outcome).toBe('fail');
  });

  it('a larger echo outside the rule’s span is left out, and said so', () => {
    const { unused, outcome } = judgeTwoEcho([...perfect, pair(12, 9, { u: 0.1 })], asme, 'with-uncertainty');
    expect(unused).toEqual([{ captureId: '12 and 9 %', reason: expect.stringContaining('outside the 20 to 100 %') }]);
    expect(outcome).toBe('pass');
  });

  it.each([
    ['larger', { largerFlags: ['saturated'] as const }, 'larger echo: the crest is cut off'],
    ['smaller', { smallerFlags: ['saturated'] as const }, 'smaller echo: the crest is cut off'],
  ])('a crest cut off, the %s one: not assessed, and its height stands as a bound', (_name, flags, sentence) => {
    const cut = pair(90, 45, { u: 0.1, ...flags });
    const { steps, outcome } = judgeTwoEcho([...perfect.filter((_, i) => i !== 1), cut], asme, 'with-uncertainty');
    const step = steps.find(({ captureId }) => captureId === cut.captureId);
    expect(step).toMatchObject({ deviation: null, read: { value: 45 }, verdict: { outcome: 'not-assessed' } });
    expect(step?.remark).toContain(sentence);
    expect(steps.find((of) => of.name === 'larger echo at 90 %' && of.captureId === null)?.remark).toContain(
      'cannot be used',
    );
    expect(outcome).toBe('not-assessed');
  });

  it('no smaller echo: not assessed; no larger echo: the capture is left out', () => {
    const without = { ...pair(50, 25), smaller: height(null, null), captureId: 'small.csv' };
    const { steps } = judgeTwoEcho([without], null, 'with-uncertainty');
    expect(steps[0].remark).toContain('smaller echo: no echo reaches the threshold');
    const neither = { ...pair(50, 25), larger: height(null, null), captureId: 'none.csv' };
    expect(judgeTwoEcho([neither], asme, 'with-uncertainty').unused[0].reason).toContain('larger echo: no echo');
  });
});

describe('judgeTwoEcho: deviation and decision', () => {
  it('u² = u² of the smaller + ratio² · u² of the larger', () => {
    const { steps } = judgeTwoEcho([pair(80, 41, { u: 0.2 })], e317, 'with-uncertainty');
    expect(steps[0].deviation).toEqual({ value: 1, standardUncertainty: expect.closeTo(0.2 * Math.sqrt(1.25), 12) });
  });

  it('a rule without limits gives figures and no verdict', () => {
    const { steps, outcome } = judgeTwoEcho(perfect, e317, 'with-uncertainty');
    expect(steps.every((step) => step.verdict === null)).toBe(true);
    expect(outcome).toBeNull();
  });

  it.each<[number, number | null, string]>([
    [45, 0, 'pass'],
    [44.7, 0.1, 'pass'],
    [44.9, 0.1, 'inconclusive'],
    [45.1, 0.1, 'inconclusive'],
    [45.4, 0.1, 'fail'],
    [41, null, 'inconclusive'],
    [46, null, 'fail'],
  ])('smaller %d with u %s of each: %s', (smaller, u, outcome) => {
    const { steps } = judgeTwoEcho([pair(80, smaller, { u })], asme, 'with-uncertainty');
    expect(steps.find((step) => step.deviation !== null)?.verdict?.outcome).toBe(outcome);
  });

  it('the greatest deviation is told by its step', () => {
    const { steps, greatest } = judgeTwoEcho([...perfect.slice(0, 8), pair(20, 6)], asme, 'with-uncertainty');
    expect(steps[greatest ?? -1].name).toBe('larger echo at 20 %');
  });

  it('the arithmetic, worked out as it stands, gives the deviation as it stands', () => {
    const { steps } = judgeTwoEcho([pair(71.237, 36.118), pair(43.9, 18.04)], e317, 'with-uncertainty');
    for (const { arithmetic } of steps) {
      const [formula, value] = (arithmetic?.withNumbers ?? '').split(' = ');
      expect(Math.abs(workOut(formula) - Number(value.replace(' %', '')))).toBeLessThanOrEqual(0.005 + 1e-9);
    }
  });
});
