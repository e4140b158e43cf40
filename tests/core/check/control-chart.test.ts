import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { controlChart } from '../../../core/check/control-chart.ts';
import { normal } from '../../build/random.ts';

describe('controlChart', () => {
  it.each([
    ['nothing', [], { centre: null, standardDeviation: null, meanMovingRange: null }],
    ['one value', [3], { centre: 3, standardDeviation: null, meanMovingRange: null }],
    ['two values', [1, 3], { centre: 2, standardDeviation: Math.SQRT2, meanMovingRange: 2 }],
  ])('of %s gives no limits', (_, values, expected) => {
    expect(controlChart(values)).toMatchObject({ ...expected, limits: null, withoutLimits: 'too-few' });
  });

  it('takes seven values as too few for limits, and eight as enough', () => {
    const values = [1, 2, 1, 3, 1, 2, 1, 2];
    expect(controlChart(values.slice(1)).limits).toBeNull();
    expect(controlChart(values).limits).not.toBeNull();
  });

  it('has no limits, and nothing out of them, where all values are alike', () => {
    const chart = controlChart([5, 5, 5, 5, 5, 5, 5, 5, 5]);
    expect(chart).toMatchObject({ centre: 5, limits: null, withoutLimits: 'no-spread' });
    expect(chart.outside).toEqual(Array(9).fill(false));
  });

  it.each([
    {
      // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, flow rates by batch; data and printed limits from memory, recomputed
      source: 'flow rates by batch (NIST/SEMATECH e-Handbook, 6.3.2.2)',
      values: [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1],
      centre: 50.81,
      meanMovingRange: 1.8778,
      largestStep: 6.135,
      lower: 45.8159,
      upper: 55.8041,
      // The source divides by d2 = 1.128, of which 2.66 is the rounded factor.
      tolerance: 0.002,
    },
    {
      // D. C. Montgomery, Introduction to Statistical Quality Control, chapter on individuals; data and printed limits from memory, recomputed
      source: 'costs week by week (Montgomery)',
      values: [310, 288, 297, 298, 307, 303, 294, 297, 308, 306, 294, 299, 297, 299, 314, 295, 293, 306, 301, 304],
      centre: 300.5,
      meanMovingRange: 7.79,
      largestStep: 25.45,
      lower: 279.78,
      upper: 321.22,
      tolerance: 0.005,
    },
  ])(
    'gives the limits printed for $source',
    ({ values, centre, meanMovingRange, largestStep, lower, upper, tolerance }) => {
      const chart = controlChart(values);
      expect(chart.centre).toBeCloseTo(centre, 3);
      expect(chart.meanMovingRange).toBeCloseTo(meanMovingRange, 2);
      expect(chart.largestStep).toBeCloseTo(largestStep, 2);
      expect(Math.abs(chart.limits!.lower - lower)).toBeLessThan(tolerance);
      expect(Math.abs(chart.limits!.upper - upper)).toBeLessThan(tolerance);
      expect(chart.outside).not.toContain(true);
    },
  );

  it('names the value that has jumped, and no other', () => {
    const quiet = [0.1, -0.1, 0, 0.1, 0, -0.1, 0.1, 0, -0.1, 0, 0.1, -0.1, 0, 0.1];
    const chart = controlChart([...quiet, 3, ...quiet]);
    expect(chart.outside.filter(Boolean)).toHaveLength(1);
    expect(chart.outside[quiet.length]).toBe(true);
    expect(chart.jumps.flatMap((jump, i) => (jump ? [i] : []))).toEqual([quiet.length, quiet.length + 1]);
  });

  it('moves and stretches with its values', () => {
    const values = fc.array(fc.double({ min: -10, max: 10, noNaN: true }), { minLength: 8, maxLength: 30 });
    fc.assert(
      fc.property(
        values,
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.double({ min: 0.1, max: 9, noNaN: true }),
        (given, shift, scale) => {
          const before = controlChart(given);
          const after = controlChart(given.map((value) => shift + scale * value));
          fc.pre(before.limits !== null && before.meanMovingRange! > 1e-6 && after.limits !== null);
          expect(after.centre).toBeCloseTo(shift + scale * before.centre!, 8);
          expect(after.limits!.upper).toBeCloseTo(shift + scale * before.limits!.upper, 8);
          expect(after.limits!.lower).toBeCloseTo(shift + scale * before.limits!.lower, 8);
        },
      ),
    );
  });

  it('calls few of many quiet values out of control', () => {
    const draw = normal(71);
    const long = controlChart(Array.from({ length: 20_000 }, draw));
    // Three standard deviations of a normal process: 0.27 in 100.
    const share = long.outside.filter(Boolean).length / 20_000;
    expect(share).toBeGreaterThan(0.0015);
    expect(share).toBeLessThan(0.004);
  });
});
