import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ticksOver } from '../../../../../core/report/page/plots/ticks.ts';

describe('ticks of an axis', () => {
  it.each([
    ['tens', 0, 100, [0, 20, 40, 60, 80, 100], 0],
    ['a span that begins below nothing', -0.6, 0.4, [-0.6, -0.4, -0.2, 0, 0.2, 0.4], 1],
    ['hundredths', 0.02, 0.05, [0.02, 0.03, 0.04, 0.05], 2],
    ['no span at all', 0, 0, [-0.1, -0.05, 0, 0.05, 0.1], 2],
  ])('%s', (_name, from, to, at, decimals) => {
    const ticks = ticksOver(from, to);
    expect(ticks.at).toEqual(at);
    expect(ticks.decimals).toBe(decimals);
  });

  it('hold all of any span, rise, and are told apart by their decimals', () => {
    const number = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(number, number, (a, b) => {
        fc.pre(Math.abs(a - b) > 1e-6);
        const ticks = ticksOver(Math.min(a, b), Math.max(a, b));
        const slack = (ticks.to - ticks.from) * 1e-6;
        expect(ticks.from).toBeLessThanOrEqual(Math.min(a, b) + slack);
        expect(ticks.to).toBeGreaterThanOrEqual(Math.max(a, b) - slack);
        expect(new Set(ticks.at.map((value) => value.toFixed(ticks.decimals))).size).toBe(ticks.at.length);
        expect(ticks.at.length).toBeGreaterThan(2);
        expect(ticks.at.length).toBeLessThan(14);
      }),
    );
  });
});
