import { describe, expect, it } from 'vitest';
import { judge, type VerdictOutcome, worstOf } from '../../../core/check/verdict.ts';

const by = { unit: 'mm', rule: 'own', clause: '1', decision: 'with-uncertainty' } as const;
const simply = { ...by, decision: 'simple-acceptance' } as const;
const limits = { lower: -2, upper: 5 };

describe('judge: nothing to judge', () => {
  it('calls a missing value not assessed', () => {
    expect(judge(null, limits, by).outcome).toBe('not-assessed');
  });
  it('calls a value that is no number not assessed', () => {
    expect(judge({ value: Number.NaN, standardUncertainty: 0.1 }, limits, by).outcome).toBe('not-assessed');
  });
});

describe('judge (reasoning of ISO 14253-1, from memory; k = 2)', () => {
  it.each<[string, number, number | null, VerdictOutcome]>([
    ['wholly inside', 4, 0.4, 'pass'],
    ['inside by exactly 2 u', 4, 0.5, 'pass'],
    ['inside by less than 2 u', 4, 0.51, 'inconclusive'],
    ['on the limit without uncertainty', 5, 0, 'pass'],
    ['on the limit with uncertainty', 5, 0.001, 'inconclusive'],
    ['outside by less than 2 u', 5.9, 0.5, 'inconclusive'],
    ['outside by exactly 2 u', 6, 0.5, 'inconclusive'],
    ['outside by more than 2 u', 6.1, 0.5, 'fail'],
    ['on the lower limit without uncertainty', -2, 0, 'pass'],
    ['below the lower limit', -3, 0.4, 'fail'],
    ['an uncertainty wider than both limits', 1, 10, 'inconclusive'],
    ['inside, uncertainty unknown', 4, null, 'inconclusive'],
    ['outside, uncertainty unknown', 6, null, 'fail'],
  ])('%s: %d ± 2 · %s is %s', (_, value, standardUncertainty, outcome) => {
    expect(judge({ value, standardUncertainty }, limits, by).outcome).toBe(outcome);
  });

  it('does not push a value off its limit by rounding alone', () => {
    expect(judge({ value: 0.1 + 0.2, standardUncertainty: 0 }, { lower: -0.3, upper: 0.3 }, by).outcome).toBe('pass');
  });

  it.each<[number, number | null, VerdictOutcome]>([
    [5, 3, 'pass'],
    [5.001, 3, 'fail'],
    [-2, null, 'pass'],
  ])('by simple acceptance the value alone decides: %d ± %s is %s', (value, standardUncertainty, outcome) => {
    const verdict = judge({ value, standardUncertainty }, limits, simply);
    expect(verdict).toMatchObject({ outcome, decision: 'simple-acceptance' });
  });

  it('states the limit on the side of the deviation', () => {
    expect(judge({ value: -0.5, standardUncertainty: 0 }, limits, by).limit).toBe(-2);
    expect(judge({ value: 0.5, standardUncertainty: 0 }, limits, by).limit).toBe(5);
  });
});

describe('judge: a limit on one side alone', () => {
  const atLeast = { lower: -6, upper: Number.POSITIVE_INFINITY };
  const atMost = { lower: Number.NEGATIVE_INFINITY, upper: 3 };
  it.each<[string, typeof atLeast, number, number, number, VerdictOutcome]>([
    ['above a lower limit, however far', atLeast, 1000, 1, -6, 'pass'],
    ['on it', atLeast, -6, 0, -6, 'pass'],
    ['about it', atLeast, -6, 0.1, -6, 'inconclusive'],
    ['below it', atLeast, -7, 0.1, -6, 'fail'],
    ['below an upper limit, however far', atMost, -1000, 1, 3, 'pass'],
    ['above it', atMost, 3.5, 0.1, 3, 'fail'],
  ])('%s', (_name, oneSided, value, standardUncertainty, limit, outcome) => {
    expect(judge({ value, standardUncertainty }, oneSided, by)).toMatchObject({ limit, outcome });
  });
});

describe('worstOf', () => {
  it.each<[VerdictOutcome[], VerdictOutcome]>([
    [[], 'not-assessed'],
    [['pass', 'pass'], 'pass'],
    [['pass', 'not-assessed'], 'not-assessed'],
    [['not-assessed', 'inconclusive', 'pass'], 'inconclusive'],
    [['inconclusive', 'fail', 'not-assessed'], 'fail'],
  ])('of %j is %s', (outcomes, worst) => {
    expect(worstOf(outcomes)).toBe(worst);
  });
});
