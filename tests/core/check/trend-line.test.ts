import { describe, expect, it } from 'vitest';
import { controlChart } from '../../../core/check/control-chart.ts';
import type { ChartSeries } from '../../../core/check/drift-over-time.ts';
import { trendOf } from '../../../core/check/trend.ts';
import { trendLine } from '../../../core/check/trend-line.ts';

function series(values: readonly (readonly [hours: number, value: number, counted?: boolean])[]): ChartSeries {
  const points = values.map(([hours, value, counted = true], i) => ({
    captureId: `check-${i}`,
    takenAt: null,
    seconds: 1.7e9 + hours * 3600,
    value: { value, standardUncertainty: null },
    counted,
    outside: false,
    jump: false,
  }));
  const used = points.filter(({ counted }) => counted);
  return {
    figure: 'amplitude-change',
    unit: 'dB',
    distanceMm: 100,
    points,
    missing: [],
    chart: controlChart(used.map(({ value }) => value.value)),
    trend: trendOf(
      used.map(({ seconds }) => seconds),
      used.map(({ value }) => value.value),
    ),
  };
}

describe('the line of a trend', () => {
  it('is the straight line that values lie on, from the first to the last', () => {
    // value = 0.5 + 0.1 per hour, at uneven times
    const [from, to] = trendLine(series([0, 1, 5, 9].map((hours) => [hours, 0.5 + 0.1 * hours])))!;
    expect([from.value, to.value]).toEqual([expect.closeTo(0.5, 9), expect.closeTo(1.4, 9)]);
    expect(to.seconds - from.seconds).toBe(9 * 3600);
  });

  it('goes through the means where they lie beside it, and takes no value that is not counted', () => {
    // By hand: hours 0, 2, 4 and values 0, 3, 0 have the slope 0 and the mean 1.
    const [from, to] = trendLine(
      series([
        [0, 0],
        [1, 40, false],
        [2, 3],
        [4, 0],
      ]),
    )!;
    expect([from.value, to.value]).toEqual([expect.closeTo(1, 9), expect.closeTo(1, 9)]);
  });

  it.each([
    [
      'of two checks',
      [
        [0, 1],
        [1, 2],
      ],
    ],
    ['of none', []],
  ] as const)('%s there is none', (_, values) => {
    expect(trendLine(series(values as never))).toBeNull();
  });
});
