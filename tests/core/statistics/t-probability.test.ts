import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tBeyond } from '../../../core/statistics/t-probability.ts';
import { tQuantile } from '../../../core/statistics/t-quantile.ts';

describe('tBeyond', () => {
  it.each([
    [Number.NaN, 5],
    [1, 0],
    [1, 2.5],
  ])('refuses t %d with %d degrees of freedom', (t, df) => {
    expect(() => tBeyond(t, df)).toThrow('should not happen');
  });

  it.each([
    // SciPy 1.10.1, 2 · scipy.stats.t.sf(|t|, df)
    [0, 3, 1],
    [0.5, 1, 0.7048327646991336],
    [1, 2, 0.42264973081037427],
    [2, 1, 0.2951672353008664],
    [2, 3, 0.1393259685588431],
    [2.5, 7, 0.040992218585752874],
    [-2.5, 7, 0.040992218585752874],
    [3.2, 22, 0.0041320784866913695],
    [1.96, 1000, 0.05027318495574871],
    [4, 8, 0.003949772803445322],
    [0.1, 150, 0.9204778530899708],
    [12.4, 22, 2.1125532275358844e-11],
  ])('of t %d with %d degrees of freedom is %d', (t, df, p) => {
    expect(Math.abs(tBeyond(t, df) - p)).toBeLessThan(1e-14);
  });

  it('is nothing beyond an infinite t', () => {
    expect(tBeyond(Number.POSITIVE_INFINITY, 4)).toBe(0);
  });

  it('gives back the probability that a quantile was asked for', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 0.499, noNaN: true }), fc.integer({ min: 1, max: 60 }), (tail, df) => {
        expect(tBeyond(tQuantile(1 - tail, df), df)).toBeCloseTo(2 * tail, 10);
      }),
    );
  });
});
