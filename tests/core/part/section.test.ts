import { describe, expect, it } from 'vitest';
import { curved, thickestWallMet } from '../../../core/part/curved.ts';
import { flat } from '../../../core/part/flat.ts';
import { legAt, pathTo, placeOn, type Section, sectionOf } from '../../../core/part/section.ts';
import { skips } from '../../../core/part/skips.ts';

const rad = (deg: number) => (deg * Math.PI) / 180;
const placed = (pathMm: number, angleDeg: number, section: Section) => {
  const leg = section.leg(rad(angleDeg));
  const n = legAt(pathMm, leg?.lengthMm ?? null);
  return { leg: n, ...placeOn(n, pathMm, rad(angleDeg), section, leg) };
};

describe('a beam that meets nothing', () => {
  it('misses the bore of a thick wall: each leg goes from the outside to the outside', () => {
    const rod = curved(50, 30, 'outside');
    const leg = rod.leg(rad(60))!;
    expect(leg.to).toBe('same-surface');
    // A chord of 2 · 50 · cos 60° = 50 mm; 60° of the way round is 50 · π / 3.
    expect(leg.lengthMm).toBeCloseTo(50, 9);
    expect(leg.alongMm).toBeCloseTo((50 * Math.PI) / 3, 9);
    expect(skips(60, rod)).toBeNull();
    const middle = placed(25, 60, rod);
    expect(middle.depthMm).toBeCloseTo(50 - 50 * Math.sin(rad(60)), 9);
    const [before, behind] = [placed(20, 60, rod), placed(30, 60, rod)];
    expect(before.depthMm).toBeCloseTo(behind.depthMm, 9);
    expect(placed(60, 60, rod)).toMatchObject({ leg: 2 });
    expect(placed(60, 60, rod).depthMm).toBeCloseTo(placed(10, 60, rod).depthMm, 9);
  });

  it('never reaches a depth beyond the one it grazes', () => {
    expect(pathTo(10, 1, rad(60), curved(50, 30, 'outside'))).toBeNull();
    expect(pathTo(5, 1, rad(60), curved(50, 30, 'outside'))).toBeGreaterThan(0);
  });

  it.each([
    [45, 0.1464],
    [60, 0.067],
    [70, 0.0302],
  ])('a wall of t/D just above (1 − sin %i°)/2 = %f is missed, one just below is met', (angleDeg, share) => {
    expect(thickestWallMet(angleDeg)).toBeCloseTo(share, 4);
    const exact = thickestWallMet(angleDeg) * 200;
    expect(curved(100, exact * 1.001, 'outside').leg(rad(angleDeg))!.to).toBe('same-surface');
    expect(curved(100, exact * 0.999, 'outside').leg(rad(angleDeg))!.to).toBe('far-surface');
    expect(curved(100, exact, 'outside').leg(rad(angleDeg))!.to).toBe('far-surface');
  });
});

describe('a straight beam', () => {
  it.each<[string, Section]>([
    ['plate', flat(20)],
    ['pipe from outside', curved(100, 20, 'outside')],
    ['pipe from the bore', curved(100, 20, 'inside')],
  ])('goes straight down and comes back: %s', (_, section) => {
    expect(placed(15, 0, section)).toMatchObject({ leg: 1, depthMm: expect.closeTo(15, 9), alongMm: 0 });
    expect(placed(25, 0, section)).toMatchObject({ leg: 2, depthMm: expect.closeTo(15, 9), alongMm: 0 });
    expect(skips(0, section)).toMatchObject({
      legMm: expect.closeTo(20, 9),
      halfSkipMm: 0,
      vPathMm: expect.closeTo(40, 9),
    });
  });
});

describe('a pipe', () => {
  it('scanned from outside: the beam meets the bore flatter than it came, and comes up as it went down', () => {
    const pipe = curved(100, 10, 'outside');
    const leg = pipe.leg(rad(45))!;
    // Triangle of the axis: 90² = 100² + s² − 2 · 100 · s · cos 45°.
    expect(leg.lengthMm ** 2 - 2 * 100 * leg.lengthMm * Math.cos(rad(45)) + 100 ** 2).toBeCloseTo(90 ** 2, 8);
    // Law of sines: angle at the bore asin(100 sin 45° / 90), the way round is the difference of the two angles.
    expect(leg.alongMm).toBeCloseTo(100 * (Math.asin((100 * Math.sin(rad(45))) / 90) - rad(45)), 8);
    const up = placed(1.5 * leg.lengthMm, 45, pipe);
    const down = placed(0.5 * leg.lengthMm, 45, pipe);
    expect(up).toMatchObject({ leg: 2, depthMm: expect.closeTo(down.depthMm, 9) });
    expect(up.alongMm + down.alongMm).toBeCloseTo(2 * leg.alongMm, 9);
  });

  it('scanned from the bore: the same wall, arcs on the bore', () => {
    const pipe = curved(100, 10, 'inside');
    const leg = pipe.leg(rad(45))!;
    expect(leg.lengthMm ** 2 + 2 * 90 * leg.lengthMm * Math.cos(rad(45)) + 90 ** 2).toBeCloseTo(100 ** 2, 8);
    expect(leg.alongMm).toBeCloseTo(90 * (rad(45) - Math.asin((90 * Math.sin(rad(45))) / 100)), 8);
    expect(placed(leg.lengthMm, 45, pipe)).toMatchObject({ leg: 1, depthMm: expect.closeTo(10, 9) });
    expect(placed(leg.lengthMm * 2, 45, pipe)).toMatchObject({ leg: 2, depthMm: expect.closeTo(0, 9) });
  });

  it('is a plate where it is as wide as the earth', () => {
    const pipe = sectionOf({ kind: 'pipe', outsideRadiusMm: 6.4e9, thicknessMm: 20, uThicknessMm: 0, from: 'outside' });
    const plate = sectionOf({ kind: 'plate', thicknessMm: 20, uThicknessMm: 0 });
    expect(placed(50, 60, pipe).depthMm).toBeCloseTo(placed(50, 60, plate).depthMm, 4);
    expect(placed(50, 60, pipe).alongMm).toBeCloseTo(placed(50, 60, plate).alongMm, 4);
  });
});

describe('a surface', () => {
  it('belongs to the leg that arrives there', () => {
    for (const section of [flat(25), curved(100, 6, 'outside'), curved(100, 6, 'inside')]) {
      const { lengthMm } = section.leg(rad(60))!;
      for (const n of [1, 2, 3, 4]) expect(placed(n * lengthMm, 60, section).leg).toBe(n);
    }
  });
});
