import stdlibQuantile from '@stdlib/stats-base-dists-t-quantile';
import { describe, expect, it } from 'vitest';
import { tQuantile } from '../../../core/statistics/t-quantile.ts';

describe('tQuantile', () => {
  it.each([
    [0, 5],
    [1, 5],
    [Number.NaN, 5],
    [0.975, 0],
    [0.975, 2.5],
  ])('refuses p %d with %d degrees of freedom', (p, df) => {
    expect(() => tQuantile(p, df)).toThrow('should not happen');
  });

  it.each([
    // two-sided 95 %: JCGM 100:2008 (GUM), table G.2, column 95 %
    { p: 0.975, df: 1, t: 12.71 },
    { p: 0.975, df: 2, t: 4.3 },
    { p: 0.975, df: 3, t: 3.18 },
    { p: 0.975, df: 4, t: 2.78 },
    { p: 0.975, df: 10, t: 2.23 },
    { p: 0.975, df: 50, t: 2.01 },
    { p: 0.995, df: 1, t: 63.66 },
    { p: 0.995, df: 5, t: 4.03 },
  ])('p $p with $df degrees of freedom is $t as GUM table G.2 prints it', ({ p, df, t }) => {
    expect(Math.abs(tQuantile(p, df) - t)).toBeLessThanOrEqual(0.005);
  });

  it('is 0 at the middle and odd about it', () => {
    expect(tQuantile(0.5, 7)).toBeCloseTo(0, 14);
    expect(tQuantile(0.1, 7)).toBe(-tQuantile(0.9, 7));
  });

  it('agrees with the Stdlib authors’ quantile to 11 digits, 1 to 60 degrees of freedom', () => {
    for (let df = 1; df <= 60; df++) {
      for (const p of [0.6, 0.75, 0.9, 0.95, 0.975, 0.995, 0.9995]) {
        expect(Math.abs(tQuantile(p, df) / stdlibQuantile(p, df) - 1)).toBeLessThan(1e-11);
      }
    }
  });

  it('comes to the normal law for many degrees of freedom', () => {
    expect(tQuantile(0.975, 100_000)).toBeCloseTo(1.959963984540054, 4);
  });
});
