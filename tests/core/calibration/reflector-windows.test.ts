import { describe, expect, it } from 'vitest';
import { blockByName } from '../../../core/block/block-by-name.ts';
import { fitDistance } from '../../../core/calibration/distance.ts';
import { toleranceInBlock, windowsAround } from '../../../core/calibration/reflector-windows.ts';

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

describe('toleranceInBlock', () => {
  // One radius of 100 ± 0.1 mm makes all: twice the distance, twice the error.
  it.each([
    ['iso-2400/quadrant-slot', 100, 0.1],
    ['iso-2400/quadrant-slot', 200, 0.2],
    ['steps/10mm,20mm/+-0.05mm', 20, 0.05],
    ['plate/25mm', 50, 0],
    ['iso-7963/25', 25, 0.1],
  ])('%s at %d mm: ± %d mm', (name, distanceMm, expected) => {
    expect(toleranceInBlock(blockByName(name)!, distanceMm)).toBeCloseTo(expected, 6);
  });

  it('windows with it leave the fit no surer than the block did', () => {
    const block = blockByName('iso-2400/quadrant-slot')!;
    const points = [100, 200, 300].map((distanceMm) => ({
      distanceMm,
      uDistanceMm: 0,
      timeUs: 7.3 + (2 * distanceMm) / 3.24,
      uTimeUs: 0.002,
      amplitudePercent: 80,
      captureId: null,
      from: null,
      flags: [],
    }));
    const own = points.map((p) => ({ ...p, uDistanceMm: toleranceInBlock(block, p.distanceMm) / Math.sqrt(3) }));
    const [shared, alone] = [fitDistance(points, block.shared), fitDistance(own)];
    if (!shared.ok || !alone.ok) throw new Error('no fit');
    expect(alone.value.velocityMPerS.standardUncertainty).toBeGreaterThanOrEqual(
      shared.value.velocityMPerS.standardUncertainty!,
    );
  });
});
