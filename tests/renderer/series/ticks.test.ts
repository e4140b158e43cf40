import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clockTicks, labelsAcross, labelsDown, lengthTicks, roundTicks } from '../../../renderer/series/ticks.ts';

const point = { decimalMark: '.' } as const;
const labels = (ticks: readonly { readonly label: string }[]) => ticks.map(({ label }) => label);
const noon = Date.UTC(2026, 2, 2, 12) / 1000;

describe('roundTicks', () => {
  it.each<[string, number, number, number, string[]]>([
    ['an axis of no length', 5, 5, 400, []],
    ['no room for a label', 0, 10, 15, []],
    ['0 to 10 on 400 px', 0, 10, 400, ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9', '10']],
    ['0 to 10 on 100 px', 0, 10, 100, ['0', '5', '10']],
    ['about zero', -1, 1, 200, ['-1.0', '-0.5', '0.0', '0.5', '1.0']],
    ['far from zero', 1000.2, 1000.8, 250, ['1000.2', '1000.4', '1000.6', '1000.8']],
    ['thousandths', 0, 0.004, 300, ['0.000', '0.001', '0.002', '0.003', '0.004']],
  ])('%s', (_, from, to, lengthPx, expected) => {
    expect(labels(roundTicks(from, to, lengthPx, labelsAcross, point))).toEqual(expected);
  });

  it('falling axes have the same ticks', () => {
    expect(roundTicks(10, 0, 300, labelsDown, point)).toEqual(roundTicks(0, 10, 300, labelsDown, point));
  });

  it('writes the person’s decimal mark', () => {
    expect(labels(roundTicks(0, 1, 150, labelsAcross, { decimalMark: ',' }))).toEqual(['0,0', '0,5', '1,0']);
  });

  it('labels never meet, and lie within the axis', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e5, max: 1e5, noNaN: true }),
        fc.double({ min: 1e-4, max: 1e6, noNaN: true }),
        fc.integer({ min: 30, max: 2000 }),
        (from, length, lengthPx) => {
          const ticks = roundTicks(from, from + length, lengthPx, labelsAcross, point);
          const px = ticks.map(({ value }) => ((value - from) / length) * lengthPx);
          for (let i = 1; i < ticks.length; i++)
            expect(px[i]! - px[i - 1]!).toBeGreaterThanOrEqual(labelsAcross(ticks[i]!.label) - 1e-3);
          for (const x of px) expect(x >= -1e-2 && x <= lengthPx + 1e-2).toBe(true);
        },
      ),
    );
  });
});

describe('lengthTicks', () => {
  it('round inches at their places in mm: 25.4 mm to the inch', () => {
    expect(lengthTicks(0, 50.8, 200, labelsAcross, { units: 'inch', decimalMark: '.' })).toEqual([
      { value: 0, label: '0.0' },
      { value: 12.7, label: '0.5' },
      { value: 25.4, label: '1.0' },
      { value: expect.closeTo(38.1, 9), label: '1.5' },
      { value: 50.8, label: '2.0' },
    ]);
  });
});

describe('clockTicks', () => {
  it.each<[string, number, number, string[]]>([
    ['half a day', 12 * 3600, 250, ['12:00', '15:00', '18:00', '21:00', '00:00']],
    ['an hour', 3600, 400, ['12:00', '12:10', '12:20', '12:30', '12:40', '12:50', '13:00']],
    ['a minute', 60, 400, ['12:00:00', '12:00:20', '12:00:40', '12:01:00']],
    ['four days', 4 * 86_400, 500, ['2026-03-03', '2026-03-04', '2026-03-05', '2026-03-06']],
    ['no time at all', 0, 300, []],
  ])('%s', (_, seconds, lengthPx, expected) => {
    expect(labels(clockTicks(noon, noon + seconds, lengthPx, labelsAcross))).toEqual(expected);
  });
});
