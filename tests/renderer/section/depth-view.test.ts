import { describe, expect, it } from 'vitest';
import { type DepthCapture, depthScan } from '../../../core/drawing/depth-scan.ts';
import { movedCross } from '../../../renderer/section/depth-cross.ts';
import {
  gridOf,
  movedDepth,
  pixelAcross,
  pixelDown,
  placeAtPixel,
  weldView,
  wholeView,
  zoomedDepth,
} from '../../../renderer/section/depth-view.ts';
import { calibrated } from '../../build/calibration.ts';
import { partOf } from '../../build/part.ts';

const captures = [0, 1, 2, 3].map(
  (mm): DepthCapture => ({
    captureId: `scan.csv#${mm}`,
    file: 'scan.csv',
    positionMm: mm,
    acrossMm: null,
    takenAt: null,
    probe: null,
    gainDb: null,
    startUs: 0,
    stepUs: 0.02,
    samples: 4000,
  }),
);
const outline = [
  { acrossMm: -9, depthMm: 0 },
  { acrossMm: 0, depthMm: -2 },
  { acrossMm: 9, depthMm: 0 },
  { acrossMm: 0, depthMm: 17.5 },
];
const outcome = depthScan({
  captures,
  calibration: calibrated(3240, 7.3),
  part: partOf({
    weld: { outline, toleranceMm: 0.5 },
    placements: [{ captures: ['scan.csv'], side: 'left', offsetMm: 30, uOffsetMm: 0.5, position: 'away' }],
  }),
  beam: null,
  uAngleDeg: null,
  paths: null,
});
if (!outcome.ok) throw new Error('the scan can be drawn');
const scan = outcome.value;
const area = { left: 60, top: 8, width: 600, height: 200 };
const whole = wholeView(scan, 'reflecting-point', outline, area);
const scales = (view: typeof whole) => [
  (view.toMm - view.fromMm) / area.width,
  (view.bottomMm - view.topMm) / area.height,
];

describe('what is in sight', () => {
  it('by the position of the probe: the scan from end to end, cap and root with it', () => {
    const view = wholeView(scan, 'position', outline, area);
    expect([view.fromMm, view.toMm]).toEqual([-0.5, 3.5]);
    expect(view.topMm).toBeCloseTo(-2.8, 9);
    expect(view.bottomMm).toBeCloseTo(18.3, 9);
  });

  it('across the weld an angle is one: both scales are alike, whole and about the weld', () => {
    for (const view of [whole, weldView(scan, 'reflecting-point', outline, area)!]) {
      const [across, down] = scales(view);
      expect(across).toBeCloseTo(down!, 9);
    }
  });

  it('about the weld lies the weld, within the whole', () => {
    const view = weldView(scan, 'reflecting-point', outline, area)!;
    expect(view.fromMm).toBeLessThan(-9);
    expect(view.toMm).toBeGreaterThan(9);
    expect(view.topMm).toBeLessThan(-2);
    expect(view.bottomMm).toBeGreaterThan(17.5);
    expect(view.toMm - view.fromMm).toBeLessThan(whole.toMm - whole.fromMm);
  });

  it('without a weld, or along the scan, there is nothing to look at more closely', () => {
    expect(weldView(scan, 'reflecting-point', [], area)).toBeNull();
    expect(weldView(scan, 'position', outline, area)).toBeNull();
  });
});

describe('zoom and move', () => {
  const about = { acrossMm: 4, depthMm: 9 };

  it('the place under the pointer stays where it is', () => {
    const closer = zoomedDepth(whole, about, 0.5, whole, scan.finestMm);
    expect(pixelAcross(4, closer, area)).toBeCloseTo(pixelAcross(4, whole, area), 6);
    expect(pixelDown(9, closer, area)).toBeCloseTo(pixelDown(9, whole, area), 6);
  });

  it('never beyond the whole, nor closer than the samples lie', () => {
    expect(zoomedDepth(whole, about, 10, whole, scan.finestMm)).toEqual(whole);
    const closest = zoomedDepth(whole, about, 1e-6, whole, scan.finestMm);
    expect(closest.bottomMm - closest.topMm).toBeCloseTo(24 * scan.finestMm, 9);
    const moved = movedDepth(zoomedDepth(whole, about, 0.5, whole, scan.finestMm), 1000, -1000, whole);
    expect(moved.toMm).toBeCloseTo(whole.toMm, 9);
    expect(moved.topMm).toBeCloseTo(whole.topMm, 9);
  });

  it('a pixel and its place are one another’s, and beside the plot there is none', () => {
    const at = placeAtPixel(pixelAcross(4, whole, area), pixelDown(9, whole, area), whole, area)!;
    expect(at.acrossMm).toBeCloseTo(4, 9);
    expect(at.depthMm).toBeCloseTo(9, 9);
    expect(placeAtPixel(59, 50, whole, area)).toBeNull();
    expect(placeAtPixel(100, 209, whole, area)).toBeNull();
  });
});

describe('cells', () => {
  it('one for each device pixel, from end to end', () => {
    const { across, depth } = gridOf(whole, area, 2, scan.finestMm);
    expect([across.count, depth.count]).toEqual([1200, 400]);
    expect(across.fromMm + across.count * across.cellMm).toBeCloseTo(whole.toMm, 9);
    expect(depth.fromMm + depth.count * depth.cellMm).toBeCloseTo(whole.bottomMm, 9);
  });

  it('none smaller than the samples are apart, so that none lies between two of them', () => {
    const close = zoomedDepth(whole, { acrossMm: 0, depthMm: 8 }, 1e-6, whole, scan.finestMm);
    const { across, depth } = gridOf(close, area, 2, scan.finestMm);
    expect(across.cellMm).toBeGreaterThanOrEqual(scan.finestMm);
    expect(depth.cellMm).toBeGreaterThanOrEqual(scan.finestMm);
  });
});

describe('the cross that keys move', () => {
  const along = wholeView(scan, 'position', outline, area);
  const sight = { scan, across: 'position', view: along, whole: along } as const;

  it('goes from one position of the scan to the next, and no farther than the last', () => {
    const from = { acrossMm: 1.2, depthMm: 8 };
    expect(movedCross(from, [1, 0], 1, sight).cross).toEqual({ acrossMm: 2, depthMm: 8 });
    expect(movedCross(from, [-1, 0], 5, sight).cross).toEqual({ acrossMm: 0, depthMm: 8 });
    expect(movedCross(from, [1, 0], 50, sight).cross).toEqual({ acrossMm: 3, depthMm: 8 });
  });

  it('down by a hundredth of what is in sight, never out of the part', () => {
    const high = along.bottomMm - along.topMm;
    expect(movedCross({ acrossMm: 1, depthMm: 8 }, [0, 1], 1, sight).cross.depthMm).toBeCloseTo(8 + high / 100, 9);
    expect(movedCross({ acrossMm: 1, depthMm: 15.9 }, [0, 1], 5, sight).cross.depthMm).toBe(16);
    expect(movedCross({ acrossMm: 1, depthMm: 0.1 }, [0, -1], 5, sight).cross.depthMm).toBe(0);
  });

  it('takes the view with it where it would leave it', () => {
    const view = zoomedDepth(along, { acrossMm: 0, depthMm: 4 }, 0.3, along, scan.finestMm);
    const moved = movedCross({ acrossMm: 0, depthMm: 4 }, [1, 0], 3, { ...sight, view });
    expect(moved.cross.acrossMm).toBe(3);
    expect(moved.view.fromMm).toBeLessThanOrEqual(3);
    expect(moved.view.toMm).toBeGreaterThanOrEqual(3);
    expect(movedCross({ acrossMm: 0, depthMm: 4 }, [0, 0], 1, sight).view).toBe(along);
  });
});
