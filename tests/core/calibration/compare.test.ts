import { describe, expect, it } from 'vitest';
import { againstNominal, compareCalibrations } from '../../../core/calibration/compare.ts';

const line = (velocity: number, uVelocity: number | null, offset: number, uOffset: number | null) => ({
  velocityMPerS: { value: velocity, standardUncertainty: uVelocity },
  zeroOffsetUs: { value: offset, standardUncertainty: uOffset },
});

describe('compareCalibrations', () => {
  it('the same calibration twice differs by nothing', () => {
    const same = line(3240, 2, 7.3, 0.03);
    const { velocityMPerS, zeroOffsetUs, velocityDiffers, zeroOffsetDiffers, pathMm } = compareCalibrations(
      same,
      same,
      [100],
    );
    expect([velocityMPerS.value, zeroOffsetUs.value, velocityDiffers, zeroOffsetDiffers]).toEqual([0, 0, false, false]);
    expect(pathMm[0]?.differenceMm).toBeCloseTo(0, 9);
  });

  // Independent uncertainties add as squares (JCGM 100:2008, 5.1.2): √(3² + 4²) = 5.
  it.each([
    ['within twice the uncertainty', 3250, false],
    ['beyond twice the uncertainty', 3250.1, true],
    ['below by more', 3229.9, true],
  ])('%s', (_, velocity, differs) => {
    const difference = compareCalibrations(line(3240, 3, 7.3, 0.03), line(velocity, 4, 7.3, 0.04), []);
    expect(difference.velocityMPerS.standardUncertainty).toBeCloseTo(5, 12);
    expect(difference.velocityDiffers).toBe(differs);
  });

  it('an unknown uncertainty leaves open whether they differ', () => {
    const difference = compareCalibrations(line(3240, null, 7.3, 0.03), line(3260, 4, 7.9, 0.04), []);
    expect([difference.velocityDiffers, difference.zeroOffsetDiffers]).toEqual([null, true]);
  });

  it('the paths of one echo by the two: 1 % more velocity puts 100 mm at 101 mm, 1 µs less offset adds v/2', () => {
    const before = line(3200, 1, 7, 0.01);
    expect(compareCalibrations(before, line(3232, 1, 7, 0.01), [100]).pathMm[0]?.differenceMm).toBeCloseTo(1, 9);
    expect(compareCalibrations(before, line(3200, 1, 6, 0.01), [100, 200]).pathMm.map((p) => p.differenceMm)).toEqual([
      expect.closeTo(1.6, 9),
      expect.closeTo(1.6, 9),
    ]);
  });
});

describe('againstNominal', () => {
  const nominal = {
    material: 'steel',
    mode: 'transverse',
    velocityMPerS: 3230,
    toleranceMPerS: 65,
    source: '',
  } as const;
  it.each([
    [3230, 0, true],
    [3295, 100 * (65 / 3230), true],
    [3299.1, 100 * (69.1 / 3230), false],
    [2592, 100 * (-638 / 3230), false],
  ])('%d m/s', (value, percent, isWithin) => {
    const compared = againstNominal({ value, standardUncertainty: 2 }, nominal);
    expect(compared.differencePercent.value).toBeCloseTo(percent, 9);
    expect(compared.isWithin).toBe(isWithin);
  });
});
