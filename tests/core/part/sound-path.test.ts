import { describe, expect, it } from 'vitest';
import { beamProblems, locate } from '../../../core/part/sound-path.ts';
import type { Quantity } from '../../../core/units/quantity.ts';

const exactly = (value: number): Quantity => ({ value, standardUncertainty: 0 });

describe('beamProblems', () => {
  it.each([
    { angleDeg: 0, thicknessMm: 25, codes: ['angle-out-of-range'] },
    { angleDeg: 90, thicknessMm: 25, codes: ['angle-out-of-range'] },
    { angleDeg: -45, thicknessMm: 25, codes: ['angle-out-of-range'] },
    { angleDeg: Number.NaN, thicknessMm: null, codes: ['angle-out-of-range'] },
    { angleDeg: 60, thicknessMm: 0, codes: ['thickness-not-positive'] },
    { angleDeg: 60, thicknessMm: Number.POSITIVE_INFINITY, codes: ['thickness-not-positive'] },
    { angleDeg: 95, thicknessMm: -3, codes: ['angle-out-of-range', 'thickness-not-positive'] },
    { angleDeg: 60, thicknessMm: null, codes: [] },
    { angleDeg: 70, thicknessMm: 12, codes: [] },
  ])('$angleDeg° in $thicknessMm mm: $codes', ({ codes, ...beam }) => {
    expect(beamProblems(beam, 'weld.csv').map((p) => p.code)).toEqual(codes);
  });

  it('are our own mistake once they reach the geometry', () => {
    expect(() => locate(exactly(10), { angleDeg: 0, thicknessMm: 25 }, 0)).toThrow('should not happen');
  });
});

describe('locate', () => {
  it('has no place for an echo from before the plate', () => {
    expect(locate(exactly(-0.1), { angleDeg: 60, thicknessMm: 25 }, 0)).toBeNull();
    expect(locate(exactly(Number.NaN), { angleDeg: 60, thicknessMm: 25 }, 0)).toBeNull();
  });

  it('is at the surface at path 0', () => {
    expect(locate(exactly(0), { angleDeg: 60, thicknessMm: 25 }, 0)).toMatchObject({ depthMm: { value: 0 }, leg: 1 });
  });

  it('knows one leg only without a back wall', () => {
    expect(locate(exactly(1000), { angleDeg: 60, thicknessMm: null }, 0)).toMatchObject({
      leg: 1,
      depthMm: { value: expect.closeTo(500, 9) },
    });
  });

  it.each([1, 2, 3, 4, 5, 6, 7])('a path that ends exactly at a surface ends leg %i', (leg) => {
    for (const [angleDeg, thicknessMm] of [
      [45, 20],
      [60, 25],
      [70, 15],
      [60, 0.3],
      [38.2, 16],
    ]) {
      const beam = { angleDeg, thicknessMm };
      const end = (leg * thicknessMm) / Math.cos((angleDeg * Math.PI) / 180);
      expect(locate(exactly(end), beam, 0)).toMatchObject({
        leg,
        depthMm: { value: expect.closeTo(leg % 2 === 1 ? thicknessMm : 0, 6) },
      });
    }
  });

  it('turns to the next leg beyond the surface, to the last micrometre', () => {
    const beam = { angleDeg: 60, thicknessMm: 25 };
    expect(locate(exactly(50.001), beam, 0)!.leg).toBe(2);
    expect(locate(exactly(49.999), beam, 0)!.leg).toBe(1);
  });

  it.each([
    { leg: 1, path: 40, uPath: 0.1, uAngle: 0, uDepth: 0.05, uSurface: 0.0866 },
    { leg: 2, path: 60, uPath: 0.1, uAngle: 0, uDepth: 0.05, uSurface: 0.0866 },
    // 1° is 0.01745 rad: depth turns by the surface distance, surface distance by the depth way
    { leg: 1, path: 40, uPath: 0, uAngle: 1, uDepth: 34.641 * 0.0174533, uSurface: 20 * 0.0174533 },
    {
      leg: 1,
      path: 40,
      uPath: 0.1,
      uAngle: 1,
      uDepth: Math.hypot(0.05, 0.6046),
      uSurface: Math.hypot(0.0866, 0.34907),
    },
  ])('path $path ± $uPath mm, angle 60 ± $uAngle°: depth ± $uDepth, surface distance ± $uSurface', (row) => {
    const at = locate(
      { value: row.path, standardUncertainty: row.uPath },
      { angleDeg: 60, thicknessMm: 25 },
      row.uAngle,
    )!;
    expect(at.leg).toBe(row.leg);
    expect(at.depthMm.standardUncertainty).toBeCloseTo(row.uDepth, 4);
    expect(at.surfaceDistanceMm.standardUncertainty).toBeCloseTo(row.uSurface, 4);
  });

  it.each([
    { what: 'path', uPath: null, uAngle: 1 },
    { what: 'angle', uPath: 0.1, uAngle: null },
  ])('knows no uncertainty where that of the $what is unknown', ({ uPath, uAngle }) => {
    const at = locate({ value: 40, standardUncertainty: uPath }, { angleDeg: 60, thicknessMm: 25 }, uAngle)!;
    expect(at.depthMm.standardUncertainty).toBeNull();
    expect(at.surfaceDistanceMm.standardUncertainty).toBeNull();
  });
});
