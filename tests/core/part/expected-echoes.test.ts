import { describe, expect, it } from 'vitest';
import {
  type BeamReach,
  expectedBackWalls,
  expectedFromCorners,
  matchGeometry,
  plateEdge,
  type Reflecting,
  reflectingCorners,
} from '../../../core/part/expected-echoes.ts';
import type { BeamInPart } from '../../../core/part/locate-in-part.ts';
import { rayTo } from '../../../core/part/ray-to.ts';
import { sectionOf } from '../../../core/part/section.ts';
import { preparationFaults, type WeldPreparation, weldOutline } from '../../../core/part/weld-preparation.ts';

const plate = (thicknessMm: number) => sectionOf({ kind: 'plate', thicknessMm, uThicknessMm: 0 });
const beam: BeamInPart = {
  angleDeg: { value: 60, standardUncertainty: 0 },
  sectionWith: plate,
  thicknessMm: { value: 16, standardUncertainty: 0 },
  indexToFrontMm: null,
  uIndexMm: 0,
};
const reach = (given: Partial<BeamReach> = {}): BeamReach => ({
  edges: { steepestDeg: 55, flattestDeg: 66 },
  toMm: 200,
  ...given,
});
const corner = (acrossMm: number, depthMm: number, name = 'corner', toleranceMm = 0.5): Reflecting => ({
  name,
  acrossMm,
  depthMm,
  toleranceMm,
});
const left = (offsetMm: number, uOffsetMm = 0) => ({ side: 'left' as const, offsetMm, uOffsetMm });
const tan = (deg: number) => Math.tan((deg * Math.PI) / 180);

describe('a ray to a place', () => {
  it.each([
    ['the index point itself, on leg 1', 0, 0, 1],
    ['above the scanned surface, on a leg that goes down', 10, -2, 3],
    ['below the far surface, on a leg that comes up', 10, 18, 2],
    ['the far surface, on a leg that comes up from it', 10, 16, 2],
  ])('is none: %s', (_, along, depth, leg) => {
    expect(rayTo(along, depth, leg, plate(16))).toBeNull();
  });

  it('is none behind a bore that is in the way', () => {
    const pipe = sectionOf({ kind: 'pipe', outsideRadiusMm: 100, thicknessMm: 10, uThicknessMm: 0, from: 'outside' });
    expect(rayTo(200, 9, 1, pipe)).toBeNull();
    expect(rayTo(8, 9, 1, pipe)).not.toBeNull();
  });

  it.each([
    ['leg 1', 24, 12, 1, Math.hypot(24, 12)],
    ['leg 2, mirrored in the far surface', 60, 6, 2, Math.hypot(60, 26)],
    ['leg 3', 70, 4, 3, Math.hypot(70, 36)],
    ['on into a root that stands out', 28.9, 16.7, 1, Math.hypot(28.9, 16.7)],
    ['on into a cap that stands above', 59.2, -2.2, 2, Math.hypot(59.2, 34.2)],
    ['backwards', -24, 12, 1, Math.hypot(24, 12)],
    ['straight down', 0, 12, 1, 12],
  ])('in a plate is the straight line in the unfolded plate: %s', (_, along, depth, leg, pathMm) => {
    const ray = rayTo(along, depth, leg, plate(16))!;
    expect(ray.pathMm).toBeCloseTo(pathMm, 6);
    expect(ray.pathMm * Math.sin((ray.angleDeg * Math.PI) / 180)).toBeCloseTo(along, 6);
  });
});

describe('expected echoes', () => {
  it('are none for a corner out of the beam, out of the range, or where there is none', () => {
    const place = left(26);
    expect(expectedFromCorners([], beam, place, reach())).toEqual([]);
    expect(expectedFromCorners([corner(60, 8)], beam, place, reach({ toMm: 30 }))).toEqual([]);
    expect(
      expectedFromCorners([corner(0, 16)], beam, left(16 * tan(45)), reach()).filter(({ leg }) => leg === 1),
    ).toEqual([]);
  });

  it('name a root on its leg, with the shares of place, index and tolerance', () => {
    const near = { ...beam, uIndexMm: 0.3 };
    const offset = 16 * tan(60);
    const [echo, ...more] = expectedFromCorners([corner(0, 16, 'root')], near, left(offset, 0.4), reach());
    expect(more).toEqual([]);
    expect(echo).toMatchObject({ name: 'root', leg: 1, angleDeg: expect.closeTo(60, 6) });
    expect(echo!.pathMm.value).toBeCloseTo(32, 6);
    const sine = Math.sin(Math.PI / 3);
    expect(echo!.pathMm.standardUncertainty).toBeCloseTo(
      Math.hypot(sine * Math.hypot(0.4, 0.3), 0.5 / Math.sqrt(3)),
      5,
    );
  });

  it('follow the far surface of a thicker plate, and the thickness as often as a leg has passed it', () => {
    const unsure = { ...beam, thicknessMm: { value: 16, standardUncertainty: 0.1 } };
    const u = (depth: number, offset: number) =>
      expectedFromCorners([corner(0, depth, 'c', 1e-9)], unsure, left(offset), reach())[0]!.pathMm.standardUncertainty!;
    // dpath/dT = cos angle · thicknesses that the depth of the unfolded place has in it.
    expect(u(16, 16 * tan(60))).toBeCloseTo(0.1 * 0.5, 5);
    expect(u(8, 8 * tan(60))).toBeCloseTo(0, 6);
    expect(u(6, 26 * tan(60))).toBeCloseTo(0.1 * 0.5 * 2, 5);
  });

  it('are seen the same from the right, mirrored', () => {
    const fromLeft = expectedFromCorners([corner(2, 16), corner(9.7, -2.2)], beam, left(49.5), reach());
    const fromRight = expectedFromCorners(
      [corner(-2, 16), corner(-9.7, -2.2)],
      beam,
      { side: 'right', offsetMm: 49.5, uOffsetMm: 0 },
      reach(),
    );
    expect(fromLeft.length).toBeGreaterThan(0);
    expect(fromRight.map(({ pathMm, leg }) => [pathMm, leg])).toEqual(fromLeft.map(({ pathMm, leg }) => [pathMm, leg]));
  });

  it('are the two corners of a plate’s edge, in order of path', () => {
    const edge = plateEdge(30, 16, 0.5);
    const found = expectedFromCorners(edge, beam, left(30), reach());
    expect(found.map(({ name, leg }) => [name, leg])).toEqual([['plate edge, near corner', 2]]);
    const nearer = expectedFromCorners(edge, beam, left(-2), reach());
    expect(nearer.map(({ name, leg }) => [name, leg])).toEqual([['plate edge, far corner', 1]]);
  });

  it('are the back walls of a straight beam, once and again', () => {
    const walls = expectedBackWalls(plate(20), { value: 20, standardUncertainty: 0.1 }, 65);
    expect(walls.map(({ name, pathMm }) => [name, pathMm.value])).toEqual([
      ['back wall', 20],
      ['back wall, echo 2', 40],
      ['back wall, echo 3', 60],
    ]);
    expect(walls[2]!.pathMm.standardUncertainty).toBeCloseTo(0.3, 12);
  });
});

describe('a reading where geometry is expected', () => {
  const expected = expectedFromCorners(
    [corner(0, 16, 'root', 0.5), corner(1, 16, 'far root', 0.5)],
    beam,
    left(27),
    reach(),
  );

  it('is matched within k = 2 of both uncertainties, the nearest first, with a sentence', () => {
    const [root, farRoot] = expected;
    const u = Math.hypot(0.1, root!.pathMm.standardUncertainty!);
    const matches = matchGeometry({ value: root!.pathMm.value + 0.1, standardUncertainty: 0.1 }, expected);
    expect(matches[0]).toMatchObject({
      expected: root,
      differenceMm: expect.closeTo(0.1, 9),
      toleranceMm: expect.closeTo(2 * u, 9),
    });
    expect(matches[0]!.sentence).toMatch(
      /^Geometry expected here: root, on leg 1 .* A flaw there would show at the same path/,
    );
    expect(
      matchGeometry({ value: farRoot!.pathMm.value + 0.01, standardUncertainty: 0.1 }, expected)[0]!.expected,
    ).toBe(farRoot);
  });

  it('is not where it lies farther off, and with nothing expected', () => {
    expect(matchGeometry({ value: expected[0]!.pathMm.value - 2, standardUncertainty: 0.1 }, expected)).toEqual([]);
    expect(matchGeometry({ value: 30, standardUncertainty: null }, [])).toEqual([]);
  });
});

describe('a weld', () => {
  const v: WeldPreparation = {
    rootGapMm: 3,
    rootFaceMm: 2,
    bevelDeg: 30,
    capHeightMm: 2,
    capOverlapMm: 1,
    rootBeadMm: 0.8,
  };

  it('is drawn from its preparation, symmetric, round the section', () => {
    const outline = weldOutline(v, 16);
    const top = 1.5 + 14 * tan(30) + 1;
    expect(outline).toHaveLength(10);
    expect(outline).toContainEqual({ acrossMm: 0, depthMm: -2 });
    expect(outline).toContainEqual({ acrossMm: 0, depthMm: 16.8 });
    expect(outline.some(({ acrossMm, depthMm }) => Math.abs(acrossMm + top) < 1e-9 && depthMm === 0)).toBe(true);
    for (const { acrossMm, depthMm } of outline)
      expect(outline.some((other) => other.acrossMm + acrossMm === 0 && other.depthMm === depthMm)).toBe(true);
  });

  it('that is flush and closed still has an area', () => {
    const outline = weldOutline(
      { ...v, rootGapMm: 2, rootFaceMm: 0, capHeightMm: 0, capOverlapMm: 0, rootBeadMm: 0 },
      10,
    );
    expect(outline.map(({ depthMm }) => depthMm)).toEqual([0, 10, 10, 0]);
  });

  it('sends echoes from its corners on and beyond the surfaces, not from its fusion faces', () => {
    const corners = reflectingCorners({ outline: weldOutline(v, 16), toleranceMm: 0.5 }, 16);
    expect(corners.map(({ name }) => name)).toContain('weld root, 1.5 mm to the left');
    expect(corners.map(({ name }) => name)).toContain('weld cap, in the middle');
    expect(corners.every(({ depthMm }) => depthMm >= 16 || depthMm <= 0)).toBe(true);
    expect(corners).toHaveLength(8);
  });

  it.each<[string, Partial<WeldPreparation>, RegExp]>([
    ['a gap below nought', { rootGapMm: -1 }, /root gap cannot be -1 mm/],
    ['a root face higher than the plate', { rootFaceMm: 20 }, /higher than the plate/],
    ['a bevel of 90°', { bevelDeg: 90 }, /bevel of 90° is none/],
    ['no number', { capHeightMm: Number.NaN }, /cap cannot be NaN/],
  ])('cannot be drawn: %s', (_, given, words) => {
    expect(preparationFaults({ ...v, ...given }, 16).join()).toMatch(words);
    expect(preparationFaults(v, 16)).toEqual([]);
  });
});
