import { describe, expect, it } from 'vitest';
import { timeFromPath } from '../../../core/calibration/distance.ts';
import {
  blankPicture,
  cellAtPlace,
  type DepthGrid,
  highestCell,
  layCapture,
  measuredCell,
  mostLegs,
  sampledRay,
} from '../../../core/drawing/depth-picture.ts';
import { curved } from '../../../core/part/curved.ts';
import { flat } from '../../../core/part/flat.ts';
import { calibrated } from '../../build/calibration.ts';
import { echoOfPoint, envelopeWith, type PointReflector, unfoldedDepth } from '../../build/point-reflector.ts';

const calibration = calibrated(3240, 7.3);
const axis = { startUs: 0, stepUs: 0.02, samples: 4000 };
const radians = Math.PI / 180;

function beamOf(angleDeg: number, thicknessMm: number) {
  return {
    angleDeg: { value: angleDeg, standardUncertainty: 0 },
    thicknessMm: { value: thicknessMm, standardUncertainty: 0 },
    sectionWith: flat,
  };
}

const grid = (
  across: readonly [fromMm: number, cellMm: number, count: number],
  depth: readonly [fromMm: number, cellMm: number, count: number],
): DepthGrid => ({
  across: { fromMm: across[0], cellMm: across[1], count: across[2] },
  depth: { fromMm: depth[0], cellMm: depth[1], count: depth[2] },
});

describe('the places of samples', () => {
  // C45: 60 mm at 60° in 25 mm: 51.9615 mm along, leg 2, 20.0000 mm deep; C46: 80 mm at 70° in 15 mm: 75.1754, leg 2, 2.6384.
  it.each([
    [60, 60, 25, 51.9615, 2, 20],
    [80, 70, 15, 75.1754, 2, 2.6384],
    [50, 60, 25, 43.3013, 1, 25],
  ])('a path of %d mm at %d° in %d mm', (pathMm, angleDeg, thicknessMm, alongMm, leg, depthMm) => {
    const timeUs = timeFromPath(calibration, pathMm);
    const ray = sampledRay(
      { startUs: timeUs, stepUs: 0.01, samples: 1 },
      calibration,
      beamOf(angleDeg, thicknessMm),
      null,
    );
    expect(ray.alongMm[0]).toBeCloseTo(alongMm, 3);
    expect(ray.depthMm[0]).toBeCloseTo(depthMm, 3);
    expect(ray.leg[0]).toBe(leg);
  });

  it('round a pipe, R 100, 45°, 20 mm: 12.98521 mm deep, 16.32498 mm along the outside (C51)', () => {
    const beam = { ...beamOf(45, 20), sectionWith: (mm: number) => curved(100, mm, 'outside') };
    const ray = sampledRay({ startUs: timeFromPath(calibration, 20), stepUs: 1, samples: 1 }, calibration, beam, null);
    expect(ray.depthMm[0]).toBeCloseTo(12.98521, 4);
    expect(ray.alongMm[0]).toBeCloseTo(16.32498, 4);
  });

  it('begins where the sound enters and ends with the last leg that is followed', () => {
    const ray = sampledRay({ ...axis, samples: 40_000 }, calibration, beamOf(60, 16), null);
    expect(ray.firstSample).toBe(365);
    expect(ray.depthMm[0]).toBeCloseTo(0, 9);
    expect(Math.max(...ray.leg)).toBe(mostLegs);
    expect(Math.min(...ray.depthMm)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...ray.depthMm)).toBeLessThanOrEqual(16 + 1e-9);
  });

  it('keeps to the paths looked at, and is empty where the record holds none of them', () => {
    const beam = beamOf(60, 16);
    const ray = sampledRay(axis, calibration, beam, { fromMm: 20, toMm: 32 });
    expect(ray.depthMm[0]).toBeCloseTo(10, 1);
    expect(ray.depthMm.at(-1)).toBeCloseTo(16, 1);
    expect(sampledRay(axis, calibration, beam, { fromMm: 900, toMm: 950 }).leg).toHaveLength(0);
  });
});

describe('a point reflector and the echo that runs past it', () => {
  const thicknessMm = 16;
  const angleDeg = 60;
  const beam = beamOf(angleDeg, thicknessMm);
  const cellMm = 0.25;
  const ray = sampledRay(axis, calibration, beam, null);

  function scanned(point: PointReflector, onlyLeg: number | null = null) {
    const picture = blankPicture(grid([-40, cellMm, 400], [0, cellMm, 64]));
    const onAxis = point.acrossMm - unfoldedDepth(point) * Math.tan(angleDeg * radians);
    const indexes = Array.from({ length: 81 }, (_, i) => onAxis - 20 + 0.5 * i);
    indexes.forEach((indexAtMm, index) => {
      const { pathMm, percent } = echoOfPoint(point, indexAtMm);
      const envelope = envelopeWith({ timeUs: timeFromPath(calibration, pathMm), percent }, axis);
      layCapture(
        picture,
        {
          index,
          envelope,
          ray,
          factor: 1,
          at: { kind: 'reflecting', indexAtMm, towards: 1, beforeMm: 0.25, behindMm: 0.25 },
        },
        onlyLeg,
      );
    });
    return { picture, middle: 40 };
  }

  it.each([
    ['on the first leg', { acrossMm: 4, depthMm: 9, leg: 1 }],
    ['near the far surface', { acrossMm: 4, depthMm: 15.4, leg: 1 }],
    ['on the second leg', { acrossMm: -6, depthMm: 7, leg: 2 }],
    ['on the third leg', { acrossMm: 8, depthMm: 5, leg: 3 }],
  ] as const)('%s it collapses to its place within the beam’s width', (_, place) => {
    const point: PointReflector = { ...place, thicknessMm, angleDeg, halfAngle6dBDeg: 2 };
    const { picture, middle } = scanned(point);
    const highest = highestCell(picture)!;
    // The crest lies between two samples, by a fifth of its σ at most: e^(−0.2²/2) = 98 %.
    expect(highest.percent).toBeGreaterThan(97.9);
    expect(highest.leg).toBe(point.leg);
    expect(highest.capture).toBe(middle);
    expect(Math.abs(highest.acrossMm - point.acrossMm)).toBeLessThan(2 * cellMm);
    expect(Math.abs(highest.depthMm - point.depthMm)).toBeLessThan(2 * cellMm);

    // Half of the beam's width at −6 dB, across its axis, and what the pulse is long at −6 dB along it.
    const pathMm = unfoldedDepth(point) / Math.cos(angleDeg * radians);
    const halfWidthMm = pathMm * Math.tan(2.1 * radians);
    const halfPulseMm = (0.05 * Math.sqrt(2 * Math.LN2) * 3.24) / 2;
    let standing = 0;
    const { across, depth } = picture.grid;
    for (let row = 0; row < depth.count; row++)
      for (let column = 0; column < across.count; column++) {
        const cell = measuredCell(picture, column, row);
        if (cell === null || cell.percent < 50) continue;
        standing++;
        const away = Math.hypot(cell.acrossMm - point.acrossMm, cell.depthMm - point.depthMm);
        expect(away).toBeLessThan(Math.hypot(halfWidthMm, halfPulseMm) + 2 * cellMm);
      }
    expect(standing).toBeGreaterThan(5);
  });

  it('the probe moves twice as far through the echo as its picture is wide: places, not paths, are drawn', () => {
    const point: PointReflector = { acrossMm: 4, depthMm: 9, leg: 1, thicknessMm, angleDeg, halfAngle6dBDeg: 3 };
    const { picture } = scanned(point);
    const cells = Array.from({ length: 64 * 400 }, (_, i) => measuredCell(picture, i % 400, Math.floor(i / 400)))
      .filter((cell) => cell !== null && cell.percent >= 50)
      .map((cell) => cell!);
    const spread = (values: number[]) => Math.max(...values) - Math.min(...values);
    const travelMm = 9 * (Math.tan(63 * radians) - Math.tan(57 * radians));
    expect(spread(cells.map(({ acrossMm }) => acrossMm))).toBeLessThan(travelMm / 2);
  });

  it('a leg alone shows what was met on it', () => {
    const point: PointReflector = { acrossMm: -6, depthMm: 7, leg: 2, thicknessMm, angleDeg, halfAngle6dBDeg: 2 };
    expect(highestCell(scanned(point, 2).picture)!.percent).toBeGreaterThan(97.9);
    // Down to 1e-3 %: the Gaussian's own tail.
    expect(highestCell(scanned(point, 1).picture)!.percent).toBeLessThan(1e-3);
  });
});

describe('cells', () => {
  const beam = beamOf(0, 10);
  const short = { startUs: 7.3, stepUs: 0.1, samples: 62 };
  const ray = sampledRay(short, calibration, beam, null);
  const flatEnvelope = (percent: number) => new Float64Array(short.samples).fill(percent);
  const station = (fromMm: number, toMm: number) => ({ kind: 'station', fromMm, toMm }) as const;

  it('have nothing where nothing was measured: a gap between two stations stays one', () => {
    const picture = blankPicture(grid([0, 1, 10], [0, 1, 10]));
    layCapture(picture, { index: 0, envelope: flatEnvelope(20), ray, factor: 1, at: station(1, 3) }, null);
    layCapture(picture, { index: 1, envelope: flatEnvelope(30), ray, factor: 1, at: station(6, 8) }, null);
    const row = Array.from({ length: 10 }, (_, column) => measuredCell(picture, column, 4)?.percent ?? null);
    expect(row).toEqual([null, 20, 20, null, null, null, 30, 30, null, null]);
    expect(Number.isNaN(picture.percent[4 * 10])).toBe(true);
    expect(picture.leg[4 * 10]).toBe(0);
  });

  it('keep the greatest of what maps to them, with its capture and sample', () => {
    const picture = blankPicture(grid([0, 1, 1], [0, 1, 10]));
    const loud = flatEnvelope(5);
    loud[20] = 90;
    [flatEnvelope(40), loud, flatEnvelope(10)].forEach((envelope, index) => {
      layCapture(picture, { index, envelope, ray, factor: 1, at: station(0, 1) }, null);
    });
    const depthMm = ray.depthMm[20]!;
    expect(cellAtPlace(picture, 0.5, depthMm)).toMatchObject({ percent: 90, capture: 1, sample: ray.firstSample + 20 });
    expect(cellAtPlace(picture, 0.5, depthMm + 2)).toMatchObject({ percent: 40, capture: 0 });
  });

  it('what folds onto the same depth is told by its leg', () => {
    const picture = blankPicture(grid([0, 1, 1], [0, 1, 10]));
    const upward = sampledRay({ ...short, samples: 124 }, calibration, beam, null);
    const later = upward.leg.findIndex((leg, i) => leg === 2 && upward.depthMm[i]! < 4);
    const folded = new Float64Array(124).fill(1);
    folded[later] = 70;
    layCapture(picture, { index: 0, envelope: folded, ray: upward, factor: 1, at: station(0, 1) }, null);
    expect(cellAtPlace(picture, 0.5, upward.depthMm[later]!)).toMatchObject({ percent: 70, leg: 2 });
    expect(cellAtPlace(picture, 0.5, 8)!.leg).toBe(1);
  });

  it('stand at one gain: 6 dB more gain counts half', () => {
    const picture = blankPicture(grid([0, 1, 1], [0, 1, 10]));
    layCapture(picture, { index: 0, envelope: flatEnvelope(80), ray, factor: 0.5, at: station(0, 1) }, null);
    expect(highestCell(picture)!.percent).toBe(40);
  });

  it('the far surface lies in the last of them, and nothing beyond', () => {
    const picture = blankPicture(grid([0, 1, 1], [0, 1, 10]));
    layCapture(picture, { index: 0, envelope: flatEnvelope(80), ray, factor: 1, at: station(0, 1) }, null);
    expect(cellAtPlace(picture, 0.5, 10)).toMatchObject({ row: 9 });
    expect(cellAtPlace(picture, 0.5, 10.1)).toBeNull();
    expect(cellAtPlace(picture, -0.1, 5)).toBeNull();
  });

  it('of nothing the highest is nothing', () => {
    expect(highestCell(blankPicture(grid([0, 1, 4], [0, 1, 4])))).toBeNull();
  });

  it('a station narrower than a cell still fills the one it lies in', () => {
    const picture = blankPicture(grid([0, 1, 4], [0, 1, 10]));
    layCapture(picture, { index: 0, envelope: flatEnvelope(9), ray, factor: 1, at: station(2.1, 2.2) }, null);
    expect(measuredCell(picture, 2, 5)?.percent).toBe(9);
    expect(measuredCell(picture, 1, 5)).toBeNull();
  });
});
