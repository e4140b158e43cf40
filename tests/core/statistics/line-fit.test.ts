import { describe, expect, it } from 'vitest';
import { fitLine } from '../../../core/statistics/line-fit.ts';

describe('fitLine has no line', () => {
  it.each([
    { what: 'no point', x: [], y: [], reason: 'too-few-points' },
    { what: 'one point', x: [1], y: [2], reason: 'too-few-points' },
    { what: 'lists of unequal length', x: [1, 2], y: [1], reason: 'unequal-lengths' },
    { what: 'a NaN', x: [1, 2, 3], y: [1, Number.NaN, 3], reason: 'not-a-number' },
    { what: 'an infinity', x: [1, Number.POSITIVE_INFINITY, 3], y: [1, 2, 3], reason: 'not-a-number' },
    { what: 'all x alike', x: [2, 2, 2], y: [1, 2, 3], reason: 'no-spread' },
  ])('for $what: $reason', ({ x, y, reason }) => expect(fitLine(x, y)).toEqual({ ok: false, reason }));
});

describe('fitLine', () => {
  it('of two points is exact and knows no scatter', () => {
    const fit = fitLine([1, 3], [2, 8]);
    expect(fit).toMatchObject({
      ok: true,
      value: {
        slope: 3,
        intercept: -1,
        uSlope: null,
        uIntercept: null,
        covariance: null,
        residualSd: null,
        degreesOfFreedom: 0,
      },
    });
  });

  it('keeps 11 digits of the slope with an offset of a million times the spread', () => {
    const x = [0, 1, 2, 3, 4].map((i) => 1e6 + i / 8);
    const fit = fitLine(
      x,
      x.map((xi, i) => 1e6 + 3 * (xi - 1e6) + [0, 1, -2, 1, 0][i] / 16),
    );
    expect(fit.ok && fit.value.slope).toBeCloseTo(3, 11);
  });

  it('does not alter what it is given', () => {
    const x = Float64Array.of(1, 2, 3);
    const y = Float64Array.of(1, 2, 4);
    fitLine(x, y);
    expect([...x, ...y]).toEqual([1, 2, 3, 1, 2, 4]);
  });
});
