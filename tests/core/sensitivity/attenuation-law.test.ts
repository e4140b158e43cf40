import { describe, expect, it } from 'vitest';
import { fitAttenuationLaw, lawAt } from '../../../core/sensitivity/attenuation-law.ts';
import { tQuantile } from '../../../core/statistics/t-quantile.ts';
import { curvePoint } from '../../build/sensitivity.ts';

/** 20 dB/m of travel behind the spreading of a side-drilled hole. */
const lawLevel = (mm: number, exponent = 1.5) => -20 * exponent * Math.log10(mm / 30) - 0.02 * 2 * (mm - 30);
const points = (distances: readonly number[], offDb: readonly number[] = [], uDb: number | null = 0, exponent = 1.5) =>
  distances.map((mm, i) => curvePoint(mm, lawLevel(mm, exponent) + (offDb[i] ?? 0), { uDb }));

describe('fitAttenuationLaw', () => {
  it.each([
    ['large back wall', 1],
    ['side-drilled hole', 1.5],
    ['disc', 2],
  ])('finds what the material takes away beside the spreading of a %s', (_, exponent) => {
    const law = fitAttenuationLaw(points([90, 30, 60], [], 0, exponent), exponent);
    expect(law.attenuationDbPerMm.value).toBeCloseTo(0.02, 12);
    expect(law.levelAtFromDb.value).toBeCloseTo(0, 12);
    expect([law.fromMm, law.toMm, law.degreesOfFreedom]).toEqual([30, 90, 1]);
    for (const { residualDb } of law.points) expect(residualDb).toBeCloseTo(0, 12);
  });

  it('takes the wrong kind for an attenuation that is not there', () => {
    // Equally spaced, the slope of three points is that of the outer two: 10 · log10(3) dB more or less over 120 mm of travel.
    const missed = (10 * Math.log10(3)) / 120;
    const fitted = (exponent: number) => fitAttenuationLaw(points([30, 60, 90]), exponent).attenuationDbPerMm.value;
    expect(fitted(1)).toBeCloseTo(0.02 + missed, 12);
    expect(fitted(2)).toBeCloseTo(0.02 - missed, 12);
  });

  it('has Student’s t over the residuals where nothing else is known', () => {
    const off = [0.1, -0.2, 0.1];
    const law = fitAttenuationLaw(points([30, 60, 90], off, null), 1.5);
    // Equal steps of 60 mm of travel: the residuals are the errors themselves, s² = Σ r² / 1, u = s / √Σ(x − x̄)².
    const s = Math.sqrt(0.01 + 0.04 + 0.01);
    expect(law.residualSdDb).toBeCloseTo(s, 12);
    expect(law.attenuationDbPerMm.standardUncertainty).toBeCloseTo(s / Math.sqrt(2 * 60 ** 2), 12);
    expect(law.attenuationHalfWidth95DbPerMm).toBeCloseTo((tQuantile(0.975, 1) * s) / Math.sqrt(2 * 60 ** 2), 12);
  });

  it('has at least what the heights’ own uncertainties imply', () => {
    const law = fitAttenuationLaw(points([30, 60, 90], [], 0.3), 1.5);
    expect(law.attenuationDbPerMm.standardUncertainty).toBeCloseTo(0.3 / Math.sqrt(2 * 60 ** 2), 12);
    expect(law.attenuationHalfWidth95DbPerMm).toBeCloseTo((1.959964 * 0.3) / Math.sqrt(2 * 60 ** 2), 6);
  });

  it('counts a tolerance of the distances', () => {
    const placed = points([30, 60, 90]).map((point) => ({ ...point, uDistanceMm: 0.5 }));
    expect(fitAttenuationLaw(placed, 1.5).attenuationDbPerMm.standardUncertainty).toBeGreaterThan(0.001);
  });

  it('does not know its uncertainty where nothing tells of it', () => {
    const law = fitAttenuationLaw(
      [...points([1, 2, 4], [], null, 0)].map((p) => ({ ...p, levelDb: { value: 0, standardUncertainty: null } })),
      0,
    );
    expect([law.attenuationDbPerMm.standardUncertainty, law.attenuationHalfWidth95DbPerMm]).toEqual([null, null]);
    expect(lawAt(law, 2)!.standardUncertainty).toBeNull();
  });
});

describe('lawAt', () => {
  const law = fitAttenuationLaw(points([30, 60, 90, 120], [0.1, -0.1, -0.1, 0.1], 0.2), 1.5);

  it('says nothing outside the points that it was fitted to', () => {
    expect([lawAt(law, 29.9), lawAt(law, 120.1)]).toEqual([null, null]);
  });

  it('is surest in the middle', () => {
    const u = (mm: number) => lawAt(law, mm)!.standardUncertainty!;
    expect(u(75)).toBeCloseTo(0.2 / Math.sqrt(4), 9);
    expect(u(30)).toBeGreaterThan(u(75));
    expect(u(30)).toBeCloseTo(u(120), 9);
    expect(u(30)).toBeCloseTo(law.levelAtFromDb.standardUncertainty!, 12);
  });

  it('goes through the level less the residual at each point', () => {
    for (const { distanceMm, levelDb, residualDb } of law.points)
      expect(lawAt(law, distanceMm)!.value).toBeCloseTo(levelDb - residualDb, 12);
  });
});
