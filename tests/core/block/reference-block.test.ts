import { describe, expect, it } from 'vitest';
import { multipleErrors, twoRadiusDistances, twoRadiusErrors } from '../../../core/block/reference-block.ts';

describe('errors that a series shares', () => {
  it('a thickness of 25 ± 0.1 mm scales all multiples by 0.23 %', () => {
    expect(multipleErrors(25, 0.1)).toEqual({ uScale: expect.closeTo(0.0023094, 7), uShiftMm: 0, covarianceMm: 0 });
  });

  it.each([
    { facing: 25, other: 50 },
    { facing: 50, other: 25 },
    { facing: 100, other: 25 },
    { facing: 25.4, other: 76.2 },
  ])('radii $facing and $other mm: every distance has the uncertainty of its own sum', ({ facing, other }) => {
    const { uScale, uShiftMm, covarianceMm } = twoRadiusErrors(facing, other, 0.1);
    const u = 0.1 / Math.sqrt(3);
    twoRadiusDistances(facing, other, 5).forEach((d, n) => {
      // d = (n + 1)·R1 + n·R2, the radii independent
      const expected = u ** 2 * ((n + 1) ** 2 + n ** 2);
      expect((d * uScale) ** 2 + 2 * d * covarianceMm + uShiftMm ** 2).toBeCloseTo(expected, 12);
    });
  });
});
