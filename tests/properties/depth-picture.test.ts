import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { timeFromPath } from '../../core/calibration/distance.ts';
import { blankPicture, highestCell, layCapture, mostLegs, sampledRay } from '../../core/drawing/depth-picture.ts';
import { flat } from '../../core/part/flat.ts';
import { pathTo } from '../../core/part/section.ts';
import { calibrated } from '../build/calibration.ts';

const calibration = calibrated(3240, 7.3);
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('a place in the picture is a path and a leg, and the other way round', () => {
  it('over legs, angles and thicknesses: the sample at a path lies in the cell whose depth and leg give that path back', () => {
    fc.assert(
      fc.property(between(5, 100), between(0, 75), between(0.01, mostLegs - 0.01), (thicknessMm, angleDeg, legs) => {
        const angle = (angleDeg * Math.PI) / 180;
        const pathMm = (legs * thicknessMm) / Math.cos(angle);
        const beam = {
          angleDeg: { value: angleDeg, standardUncertainty: 0 },
          thicknessMm: { value: thicknessMm, standardUncertainty: 0 },
          sectionWith: flat,
        };
        const axis = { startUs: timeFromPath(calibration, pathMm), stepUs: 0.01, samples: 1 };
        const ray = sampledRay(axis, calibration, beam, null);
        expect(ray.leg[0]).toBe(Math.floor(legs) + 1);
        expect(pathTo(ray.depthMm[0]!, ray.leg[0]!, angle, flat(thicknessMm))).toBeCloseTo(pathMm, 6);

        const rows = 50;
        const picture = blankPicture({
          across: { fromMm: -1000, cellMm: 1, count: 4000 },
          depth: { fromMm: 0, cellMm: thicknessMm / rows, count: rows },
        });
        const at = { kind: 'reflecting', indexAtMm: 0, towards: 1, beforeMm: 0.5, behindMm: 0.5 } as const;
        layCapture(picture, { index: 0, envelope: Float64Array.of(42), ray, factor: 1, at }, null);
        const cell = highestCell(picture)!;
        expect(cell.percent).toBe(42);
        expect(Math.abs(cell.depthMm - ray.depthMm[0]!)).toBeLessThanOrEqual(thicknessMm / rows / 2 + 1e-9);
        expect(Math.abs(cell.acrossMm - pathMm * Math.sin(angle))).toBeLessThanOrEqual(1);
      }),
    );
  });
});
