import { describe, expect, it } from 'vitest';
import { windowsAround } from '../../../core/calibration/reflector-windows.ts';

const taken = (distanceMm: number, timeUs: number, captureId = 'block.csv#a') => ({
  distanceMm,
  toleranceMm: 0.1,
  timeUs,
  captureId,
});

describe('windowsAround', () => {
  it('of nothing is nothing', () => {
    expect(windowsAround([], [])).toEqual([]);
  });

  it.each([
    ['alone: 5 µs to either side', [taken(100, 69)], [], [[64, 74]]],
    ['half-way to an echo ahead', [taken(100, 69)], [66.8], [[67.9, 74]]],
    [
      'half-way to another reflector',
      [taken(100, 69), taken(110, 75)],
      [],
      [
        [64, 72],
        [72, 80],
      ],
    ],
    ['an echo far off changes nothing', [taken(100, 69)], [30, 146], [[64, 74]]],
    [
      'in order of distance, whatever the order given',
      [taken(225, 146), taken(100, 69)],
      [],
      [
        [64, 74],
        [141, 151],
      ],
    ],
  ])('%s', (_, given, besideUs, expected) => {
    const beside = besideUs.map((timeUs) => ({ timeUs, captureId: 'block.csv#a' }));
    expect(windowsAround(given, beside).map(({ fromUs, toUs }) => [fromUs, toUs])).toEqual(expected);
  });

  it('an echo of another capture does not narrow a window', () => {
    const [window] = windowsAround([taken(100, 69)], [{ timeUs: 68, captureId: 'block.csv#b' }]);
    expect(window).toEqual({ distanceMm: 100, toleranceMm: 0.1, fromUs: 64, toUs: 74, capture: 'block.csv#a' });
  });
});
