import { describe, expect, it } from 'vitest';
import { expectedFromCorners } from '../../core/part/expected-echoes.ts';
import { locateInPart } from '../../core/part/locate-in-part.ts';
import { rayTo } from '../../core/part/ray-to.ts';
import { legAt, placeOn, sectionOf } from '../../core/part/section.ts';
import type { Shape } from '../../core/review/part-decision.ts';
import { normal } from '../build/random.ts';

const trials = 20_000;
const rad = (deg: number) => (deg * Math.PI) / 180;

interface Case {
  readonly name: string;
  readonly shape: Exclude<Shape, { kind: 'step-block' }>;
  readonly angleDeg: number;
  readonly pathMm: number;
  readonly side: 'left' | 'right';
}

const u = { pathMm: 0.15, angleDeg: 0.5, thicknessMm: 0.1, offsetMm: 0.4, indexMm: 0.3 };
const cases: readonly Case[] = [
  {
    name: 'plate, leg 1',
    shape: { kind: 'plate', thicknessMm: 16, uThicknessMm: 0.1 },
    angleDeg: 60,
    pathMm: 20,
    side: 'left',
  },
  {
    name: 'plate, leg 2',
    shape: { kind: 'plate', thicknessMm: 16, uThicknessMm: 0.1 },
    angleDeg: 60,
    pathMm: 50,
    side: 'right',
  },
  {
    name: 'plate, leg 3',
    shape: { kind: 'plate', thicknessMm: 16, uThicknessMm: 0.1 },
    angleDeg: 45,
    pathMm: 56,
    side: 'left',
  },
  {
    name: 'pipe from outside, leg 1',
    shape: { kind: 'pipe', outsideRadiusMm: 150, thicknessMm: 12, uThicknessMm: 0.1, from: 'outside' },
    angleDeg: 45,
    pathMm: 10,
    side: 'left',
  },
  {
    name: 'pipe from outside, leg 2',
    shape: { kind: 'pipe', outsideRadiusMm: 150, thicknessMm: 12, uThicknessMm: 0.1, from: 'outside' },
    angleDeg: 45,
    pathMm: 28,
    side: 'right',
  },
  {
    name: 'pipe from the bore, leg 2',
    shape: { kind: 'pipe', outsideRadiusMm: 150, thicknessMm: 12, uThicknessMm: 0.1, from: 'inside' },
    angleDeg: 60,
    pathMm: 30,
    side: 'left',
  },
];

/** 1 − e⁻²: of a normal law of two dimensions within k = 2. */
const within2 = 1 - Math.exp(-2);

describe('the ellipse at k = 2', () => {
  it.each(cases)(`holds 86 % of the places that wrong inputs make ($name)`, ({ shape, angleDeg, pathMm, side }) => {
    const draw = normal(7);
    const offsetMm = 30;
    const toRight = side === 'left' ? 1 : -1;
    const truth = locateInPart(
      { value: pathMm, standardUncertainty: u.pathMm },
      {
        angleDeg: { value: angleDeg, standardUncertainty: u.angleDeg },
        sectionWith: (mm) => sectionOf(shape, mm),
        thicknessMm: { value: shape.thicknessMm, standardUncertainty: u.thicknessMm },
        indexToFrontMm: null,
        uIndexMm: u.indexMm,
      },
      { side, offsetMm, uOffsetMm: u.offsetMm },
    );
    const { semiMajorMm, semiMinorMm, tiltDeg } = truth.ellipse!;
    let inside = 0;
    for (let i = 0; i < trials; i++) {
      const section = sectionOf(shape, shape.thicknessMm + u.thicknessMm * draw());
      const angle = rad(angleDeg + u.angleDeg * draw());
      const path = pathMm + u.pathMm * draw();
      const leg = section.leg(angle);
      // A place is drawn on the leg that it lies on: near no surface here.
      expect(legAt(path, leg!.lengthMm)).toBe(truth.leg);
      const at = placeOn(truth.leg, path, angle, section, leg);
      const across = toRight * (at.alongMm - offsetMm + Math.hypot(u.offsetMm, u.indexMm) * draw());
      const [dx, dy] = [across - truth.acrossMm!.value, at.depthMm - truth.depthMm.value];
      const [c, s] = [Math.cos(rad(tiltDeg)), Math.sin(rad(tiltDeg))];
      if (((c * dx + s * dy) / semiMajorMm) ** 2 + ((c * dy - s * dx) / semiMinorMm) ** 2 <= 1) inside += 1;
    }
    // Three standard deviations of a share of 20,000, and 1 % for what is not linear in an angle.
    expect(Math.abs(inside / trials - within2)).toBeLessThan(0.0173);
  });
});

describe('the tolerance of an expected echo', () => {
  it('holds 95 % of the paths that wrong places, corners and thicknesses make', () => {
    const draw = normal(11);
    const shape = { kind: 'plate', thicknessMm: 16, uThicknessMm: 0.1 } as const;
    const toleranceMm = 0.5;
    const truth = { acrossMm: 3, depthMm: 9 };
    const beam = {
      angleDeg: { value: 60, standardUncertainty: 0.5 },
      sectionWith: (mm: number) => sectionOf(shape, mm),
      thicknessMm: { value: 16, standardUncertainty: u.thicknessMm },
      indexToFrontMm: null,
      uIndexMm: u.indexMm,
    };
    const [echo] = expectedFromCorners(
      [{ name: 'counterbore', ...truth, toleranceMm }],
      beam,
      { side: 'left', offsetMm: 36, uOffsetMm: u.offsetMm },
      { edges: { steepestDeg: 55, flattestDeg: 66 }, toMm: 60 },
    );
    expect(echo!.leg).toBe(2);
    const { value, standardUncertainty } = echo!.pathMm;
    let inside = 0;
    for (let i = 0; i < trials; i++) {
      const along =
        36 + truth.acrossMm + Math.hypot(u.offsetMm, u.indexMm) * draw() + (toleranceMm / Math.sqrt(3)) * draw();
      const depth = truth.depthMm + (toleranceMm / Math.sqrt(3)) * draw();
      const ray = rayTo(along, depth, echo!.leg, sectionOf(shape, 16 + u.thicknessMm * draw()))!;
      if (Math.abs(ray.pathMm - value) <= 2 * standardUncertainty!) inside += 1;
    }
    expect(Math.abs(inside / trials - 0.9545)).toBeLessThan(0.01);
  });
});
