import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { significantBelow, trendOf } from '../../../core/check/trend.ts';
import { normal, uniform } from '../../build/random.ts';

const day = 86_400;
const days = (...list: number[]) => list.map((d) => 1.7e9 + d * day);

describe('trendOf', () => {
  it.each([
    ['no value', [], []],
    ['one value', days(0), [1]],
    ['two values, which leave no residual', days(0, 1), [1, 2]],
    ['values all of one time', days(3, 3, 3), [1, 2, 3]],
  ])('has none for %s', (_, seconds, values) => {
    expect(trendOf(seconds, values)).toBeNull();
  });

  it('gives slope, standard error, t, p and correlation as SciPy does', () => {
    // SciPy 1.10.1, scipy.stats.linregress; the correlation by its definition in NumPy
    const seconds = days(0, 1, 2, 3, 6, 7, 8, 9, 10, 13);
    const trend = trendOf(seconds, [0.12, -0.05, -0.11, 0.02, -0.21, -0.17, -0.33, -0.08, -0.29, -0.45])!;
    expect(trend.perDay.value).toBeCloseTo(-0.03411158277744088, 12);
    expect(trend.perDay.standardUncertainty).toBeCloseTo(0.007396565246012478, 12);
    expect(trend.t).toBeCloseTo(-4.611813949161144, 10);
    expect(trend.p).toBeCloseTo(0.001728566931681377, 12);
    expect(trend.serialCorrelation).toBeCloseTo(-0.43347992589115314, 10);
    expect(trend).toMatchObject({ degreesOfFreedom: 8, days: 13, significant: true, seriallyCorrelated: false });
    expect(trend.overAll.value).toBeCloseTo(13 * trend.perDay.value, 12);
  });

  it('does not call four scattered values a trend', () => {
    // SciPy 1.10.1, scipy.stats.linregress
    const trend = trendOf(days(0, 0.5, 1.25, 2), [1, 3, 2, 4])!;
    expect(trend.perDay.value).toBeCloseTo(1.1428571428571428, 10);
    expect(trend.p).toBeCloseTo(0.22540333075851657, 10);
    expect(trend.significant).toBe(false);
  });

  it('finds no trend in equal values', () => {
    expect(trendOf(days(0, 1, 2, 3), [7, 7, 7, 7])).toMatchObject({
      t: 0,
      p: 1,
      significant: false,
      serialCorrelation: null,
    });
  });

  it('says that successive residuals go together where a jump was taken for a slope', () => {
    const trend = trendOf(
      days(...Array.from({ length: 20 }, (_, i) => i)),
      Array.from({ length: 20 }, (_, i) => (i < 10 ? 0 : 1)),
    )!;
    expect(trend.significant).toBe(true);
    expect(trend.seriallyCorrelated).toBe(true);
  });

  it('is the same whenever it began, and turns with its values', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: 4, maxLength: 20 }),
        fc.double({ min: -1000, max: 1000, noNaN: true }),
        (values, later) => {
          const at = values.map((_, i) => i);
          const before = trendOf(days(...at), values)!;
          fc.pre(before.perDay.standardUncertainty! > 1e-6);
          const moved = trendOf(days(...at.map((d) => d + later)), values)!;
          const turned = trendOf(
            days(...at),
            values.map((value) => -2 * value),
          )!;
          expect(moved.p).toBeCloseTo(before.p, 5);
          expect(turned.perDay.value).toBeCloseTo(-2 * before.perDay.value, 8);
          expect(turned.p).toBeCloseTo(before.p, 8);
        },
      ),
    );
  });
});

describe('the trend of simulated checks', () => {
  const runs = 4000;
  /** Times at random within a month, values about a line, scatter 1. */
  function significantIn(count: number, perDay: number, seed: number): number {
    const draw = normal(seed);
    const at = uniform(seed + 1);
    let found = 0;
    for (let run = 0; run < runs; run++) {
      const when = Array.from({ length: count }, () => 30 * at());
      if (
        trendOf(
          days(...when),
          when.map((d) => perDay * d + draw()),
        )!.significant
      )
        found += 1;
    }
    return found / runs;
  }

  it.each([4, 9, 24])('is a false alarm in 5 of 100 series of %d checks', (count) => {
    const share = significantIn(count, 0, 100 + count);
    // Three standard errors of a share of 0.05 in 4000 series.
    expect(Math.abs(share - significantBelow)).toBeLessThan(3 * Math.sqrt((0.05 * 0.95) / runs));
  });

  it('is found nearly always where it is over six of its standard errors', () => {
    // 24 checks evenly over 30 days: standard error of the slope about 1 / (√24 · 8.7) = 0.024 a day.
    expect(significantIn(24, 0.15, 7)).toBeGreaterThan(0.99);
  });
});
