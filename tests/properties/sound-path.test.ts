import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { locate } from '../../core/part/sound-path.ts';

const angle = fc.double({ min: 20, max: 80, noNaN: true });
const thickness = fc.double({ min: 1, max: 300, noNaN: true });
const legs = fc.integer({ min: 1, max: 9 });

/** The way down through the legs before, and into the last one, along the beam. */
function pathToDepth(
  depthMm: number,
  leg: number,
  { angleDeg, thicknessMm }: { angleDeg: number; thicknessMm: number },
) {
  const into = leg % 2 === 1 ? depthMm : thicknessMm - depthMm;
  return ((leg - 1) * thicknessMm + into) / Math.cos((angleDeg * Math.PI) / 180);
}

describe('sound path and position', () => {
  it('position → path → position is the identity inside every leg', () => {
    fc.assert(
      fc.property(
        angle,
        thickness,
        legs,
        fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true }),
        (angleDeg, thicknessMm, leg, part) => {
          const beam = { angleDeg, thicknessMm };
          const at = locate({ value: pathToDepth(part * thicknessMm, leg, beam), standardUncertainty: 0 }, beam, 0)!;
          expect(at.leg).toBe(leg);
          expect(at.depthMm.value).toBeCloseTo(part * thicknessMm, 8);
        },
      ),
    );
  });

  it('path → position → path is the identity', () => {
    fc.assert(
      fc.property(angle, thickness, fc.double({ min: 0, max: 2000, noNaN: true }), (angleDeg, thicknessMm, pathMm) => {
        const beam = { angleDeg, thicknessMm };
        const at = locate({ value: pathMm, standardUncertainty: 0 }, beam, 0)!;
        expect(pathToDepth(at.depthMm.value, at.leg, beam)).toBeCloseTo(pathMm, 5);
        expect(at.surfaceDistanceMm.value ** 2 + (pathMm * Math.cos((angleDeg * Math.PI) / 180)) ** 2).toBeCloseTo(
          pathMm ** 2,
          5,
        );
      }),
    );
  });

  it('the depth never leaves the plate', () => {
    fc.assert(
      fc.property(angle, thickness, fc.double({ min: 0, max: 2000, noNaN: true }), (angleDeg, thicknessMm, pathMm) => {
        const { depthMm } = locate({ value: pathMm, standardUncertainty: 0 }, { angleDeg, thicknessMm }, 0)!;
        expect(depthMm.value).toBeGreaterThanOrEqual(-1e-6);
        expect(depthMm.value).toBeLessThanOrEqual(thicknessMm + 1e-6);
      }),
    );
  });

  it('both surfaces of every leg belong to the leg that arrives there', () => {
    fc.assert(
      fc.property(angle, thickness, legs, (angleDeg, thicknessMm, leg) => {
        const beam = { angleDeg, thicknessMm };
        const end = (leg * thicknessMm) / Math.cos((angleDeg * Math.PI) / 180);
        expect(locate({ value: end, standardUncertainty: 0 }, beam, 0)!.leg).toBe(leg);
      }),
    );
  });

  it('uncertainties follow what a small change does', () => {
    fc.assert(
      fc.property(
        angle,
        thickness,
        legs,
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        (angleDeg, thicknessMm, leg, part) => {
          const beam = { angleDeg, thicknessMm };
          const pathMm = pathToDepth(part * thicknessMm, leg, beam);
          const step = 1e-5;
          const at = (path: number, deg: number) =>
            locate({ value: path, standardUncertainty: 0 }, { angleDeg: deg, thicknessMm }, 0)!;
          const here = locate({ value: pathMm, standardUncertainty: step }, beam, 0)!;
          const moved = at(pathMm + step, angleDeg).depthMm.value - at(pathMm - step, angleDeg).depthMm.value;
          expect(here.depthMm.standardUncertainty).toBeCloseTo(Math.abs(moved) / 2, 9);
          const turned = locate({ value: pathMm, standardUncertainty: 0 }, beam, 1e-5)!;
          const along =
            at(pathMm, angleDeg + 1e-5).surfaceDistanceMm.value - at(pathMm, angleDeg - 1e-5).surfaceDistanceMm.value;
          expect(turned.surfaceDistanceMm.standardUncertainty).toBeCloseTo(Math.abs(along) / 2, 8);
        },
      ),
    );
  });
});
