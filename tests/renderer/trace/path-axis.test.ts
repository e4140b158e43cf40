import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { pathAxisLabel, pathTicks, timeTickTexts } from '../../../renderer/trace/path-axis.ts';
import { calibrated } from '../../build/calibration.ts';

/** 2 mm of path to the microsecond, from 5 µs on. */
const calibration = calibrated(2000, 5);
const inch = { units: 'inch', decimalMark: '.' } as const;

describe('pathTicks: round paths, at the times where their echoes arrive', () => {
  it.each([
    [
      'all of a record',
      { fromUs: 0, toUs: 100 },
      720,
      metricStyle,
      ['0', '10', '20', '30', '40', '50', '60', '70', '80', '90'],
      5,
      95,
    ],
    ['a narrow plot has fewer', { fromUs: 0, toUs: 100 }, 300, metricStyle, ['0', '50'], 5, 55],
    ['close in, with decimals', { fromUs: 20, toUs: 21 }, 300, metricStyle, ['15.0', '15.5', '16.0'], 20, 21],
    ['in inches: 1 in is 25.4 µs here', { fromUs: 0, toUs: 100 }, 300, inch, ['0', '1', '2', '3'], 5, 81.2],
    ['before the surface there is no path', { fromUs: 0, toUs: 4 }, 300, metricStyle, [], null, null],
  ] as const)('%s', (_name, view, widthPx, style, texts, firstUs, lastUs) => {
    const ticks = pathTicks(view, widthPx, calibration, style);
    expect(ticks.map((tick) => tick.text)).toEqual(texts);
    if (firstUs !== null) expect(ticks[0]!.timeUs).toBeCloseTo(firstUs, 9);
    if (lastUs !== null) expect(ticks.at(-1)!.timeUs).toBeCloseTo(lastUs, 9);
  });

  it('never nearer together than their texts are wide, and no two alike', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -10, max: 900, noNaN: true }),
        fc.double({ min: 0.01, max: 1000, noNaN: true }),
        fc.integer({ min: 80, max: 3000 }),
        (fromUs, lengthUs, widthPx) => {
          const ticks = pathTicks({ fromUs, toUs: fromUs + lengthUs }, widthPx, calibration, metricStyle);
          ticks.forEach(({ timeUs }, i) => {
            if (i > 0) expect(((timeUs - ticks[i - 1]!.timeUs) / lengthUs) * widthPx).toBeGreaterThan(70);
          });
          expect(new Set(ticks.map(({ text }) => text)).size).toBe(ticks.length);
        },
      ),
    );
  });
});

it.each([
  ['mm', metricStyle, 'Sound path (mm)'],
  ['in', inch, 'Sound path (in)'],
] as const)('the axis says its unit: %s', (_unit, style, label) => expect(pathAxisLabel(style)).toBe(label));

describe('timeTickTexts', () => {
  it.each([
    ['none', [], []],
    ['one', [20], ['20']],
    ['whole steps', [0, 25, 50], ['0', '25', '50']],
    ['steps of 0.05', [0.1, 0.15, 0.2], ['0.10', '0.15', '0.20']],
    ['steps of 2.5, which are no whole ones', [0, 2.5, 5, 7.5], ['0.0', '2.5', '5.0', '7.5']],
    ['steps of 0.025', [0.1, 0.125, 0.15], ['0.100', '0.125', '0.150']],
    ['far along, where the step is a difference of large figures', [1000.25, 1000.5], ['1000.25', '1000.50']],
    ['negative ones', [-50, 0, 50], ['-50', '0', '50']],
  ])('%s', (_name, ticks, texts) => expect(timeTickTexts(ticks, metricStyle)).toEqual(texts));
});
