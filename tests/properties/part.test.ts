import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rayTo } from '../../core/part/ray-to.ts';
import { legAt, pathTo, placeOn, type Section, sectionOf } from '../../core/part/section.ts';
import type { Shape } from '../../core/review/part-decision.ts';

type Whole = Exclude<Shape, { kind: 'step-block' }>;

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const rad = (deg: number) => (deg * Math.PI) / 180;

const plates = between(2, 200).map((thicknessMm): Whole => ({ kind: 'plate', thicknessMm, uThicknessMm: 0 }));
/** Pipes whose bore a beam of up to 70° from outside still meets, with a little to spare. */
const pipes = fc
  .record({
    outsideRadiusMm: between(20, 1000),
    part: between(0.02, 0.9),
    from: fc.constantFrom('outside' as const, 'inside' as const),
  })
  .map(({ outsideRadiusMm, part, from }): Whole => {
    const thickest = outsideRadiusMm * (1 - Math.sin(rad(70)));
    return { kind: 'pipe', outsideRadiusMm, thicknessMm: part * thickest, uThicknessMm: 0, from };
  });
const parts = fc.oneof(plates, pipes);
const angles = between(20, 70);

function place(pathMm: number, angleDeg: number, section: Section) {
  const leg = section.leg(rad(angleDeg));
  const n = legAt(pathMm, leg?.lengthMm ?? null);
  return { leg: n, ...placeOn(n, pathMm, rad(angleDeg), section, leg) };
}

/** A ray followed through the ring from one wall to the next, mirrored at each: nothing of the legs' own geometry. */
function traced(
  pathMm: number,
  angleDeg: number,
  { outsideRadiusMm, thicknessMm, from }: Extract<Whole, { kind: 'pipe' }>,
) {
  const bore = outsideRadiusMm - thicknessMm;
  const start = from === 'outside' ? outsideRadiusMm : bore;
  let [x, y] = [0, start];
  let [dx, dy] = [Math.sin(rad(angleDeg)), (from === 'outside' ? -1 : 1) * Math.cos(rad(angleDeg))];
  let [left, leg, turned] = [pathMm, 1, 0];
  for (;;) {
    const way = Math.min(...[outsideRadiusMm, bore].flatMap((radius) => toCircle(x, y, dx, dy, radius)));
    const step = Math.min(left, way);
    const [nx, ny] = [x + step * dx, y + step * dy];
    turned += Math.atan2(y * nx - x * ny, x * nx + y * ny);
    [x, y] = [nx, ny];
    if (left <= way) return { leg, depthMm: Math.abs(Math.hypot(x, y) - start), alongMm: start * turned };
    left -= way;
    leg += 1;
    const outward = (dx * x + dy * y) / (x * x + y * y);
    [dx, dy] = [dx - 2 * outward * x, dy - 2 * outward * y];
  }
}

/** How far it is to a circle about the axis, wherever that is ahead. */
function toCircle(x: number, y: number, dx: number, dy: number, radius: number): number[] {
  const towards = x * dx + y * dy;
  const square = towards ** 2 - (x * x + y * y - radius * radius);
  if (square < 0) return [];
  return [-towards - Math.sqrt(square), -towards + Math.sqrt(square)].filter((way) => way > 1e-6 * radius);
}

describe('path and place in plates and pipes', () => {
  it('path → place → path is the identity over legs, angles, thicknesses and curvatures', () => {
    fc.assert(
      fc.property(parts, angles, between(0, 9), (shape, angleDeg, legs) => {
        const section = sectionOf(shape);
        const pathMm = legs * section.leg(rad(angleDeg))!.lengthMm;
        const at = place(pathMm, angleDeg, section);
        expect(pathTo(at.depthMm, at.leg, rad(angleDeg), section)! / Math.max(1, pathMm)).toBeCloseTo(
          pathMm / Math.max(1, pathMm),
          6,
        );
      }),
    );
  });

  it('the ray to a place is the ray that made it', () => {
    fc.assert(
      fc.property(parts, angles, between(0.02, 5.98), (shape, angleDeg, legs) => {
        // At a surface itself the leg before or behind is meant: inside of a leg there is one ray.
        fc.pre(Math.abs(legs - Math.round(legs)) > 0.01);
        const section = sectionOf(shape);
        const pathMm = legs * section.leg(rad(angleDeg))!.lengthMm;
        const at = place(pathMm, angleDeg, section);
        const ray = rayTo(at.alongMm, at.depthMm, at.leg, section)!;
        expect(ray.angleDeg).toBeCloseTo(angleDeg, 4);
        expect(ray.pathMm / pathMm).toBeCloseTo(1, 6);
      }),
    );
  });

  it('the depth never leaves the wall, and the way along the surface never goes back', () => {
    fc.assert(
      fc.property(parts, angles, between(0, 9), between(0, 1), (shape, angleDeg, legs, more) => {
        const section = sectionOf(shape);
        const { lengthMm } = section.leg(rad(angleDeg))!;
        const [near, far] = [
          place(legs * lengthMm, angleDeg, section),
          place((legs + more) * lengthMm, angleDeg, section),
        ];
        const rounding = 1e-7 * (1 + shape.thicknessMm);
        for (const { depthMm } of [near, far]) {
          expect(depthMm).toBeGreaterThanOrEqual(-rounding);
          expect(depthMm).toBeLessThanOrEqual(shape.thicknessMm + rounding);
        }
        expect(far.alongMm).toBeGreaterThanOrEqual(near.alongMm - 1e-6 * (1 + near.alongMm));
      }),
    );
  });

  it('a ray followed through a pipe from wall to wall comes to the same place', () => {
    fc.assert(
      fc.property(pipes, angles, between(0.05, 6.95), (shape, angleDeg, legs) => {
        fc.pre(Math.abs(legs - Math.round(legs)) > 0.01 && shape.kind === 'pipe');
        if (shape.kind !== 'pipe') return;
        const section = sectionOf(shape);
        const pathMm = legs * section.leg(rad(angleDeg))!.lengthMm;
        const [at, followed] = [place(pathMm, angleDeg, section), traced(pathMm, angleDeg, shape)];
        expect(at.leg).toBe(followed.leg);
        expect(at.depthMm).toBeCloseTo(followed.depthMm, 6);
        expect(at.alongMm).toBeCloseTo(followed.alongMm, 6);
      }),
    );
  });

  it('a pipe becomes a plate as its radius grows: the difference falls with 1 / radius', () => {
    fc.assert(
      fc.property(
        angles,
        between(5, 40),
        between(0.1, 3.9),
        fc.constantFrom('outside' as const, 'inside' as const),
        (angleDeg, thicknessMm, legs, from) => {
          fc.pre(Math.abs(legs - Math.round(legs)) > 0.05);
          const plate = sectionOf({ kind: 'plate', thicknessMm, uThicknessMm: 0 });
          const pathMm = legs * plate.leg(rad(angleDeg))!.lengthMm;
          const flat = place(pathMm, angleDeg, plate);
          const off = (outsideRadiusMm: number) => {
            const pipe = sectionOf({ kind: 'pipe', outsideRadiusMm, thicknessMm, uThicknessMm: 0, from });
            const round = placeOn(flat.leg, pathMm, rad(angleDeg), pipe, pipe.leg(rad(angleDeg)));
            return Math.hypot(round.depthMm - flat.depthMm, round.alongMm - flat.alongMm);
          };
          const [near, far] = [off(1e5), off(1e6)];
          expect(far).toBeLessThan(0.05);
          expect(far).toBeLessThan(0.2 * near + 1e-6);
        },
      ),
    );
  });
});
