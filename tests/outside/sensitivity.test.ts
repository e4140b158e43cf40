import { describe, expect, it } from 'vitest';
import { apparentAttenuation } from '../../core/sensitivity/apparent-attenuation.ts';
import { levelsInDb, publishedLevels } from '../../core/sensitivity/evaluation-levels.ts';
import { nearField } from '../../core/sensitivity/near-field.ts';
import { type ReflectorKind, spreadingOf } from '../../core/sensitivity/reflector-kind.ts';
import { dbFromRatio, differenceDb, ratioFromDb } from '../../core/units/decibel.ts';

const exactly = (value: number) => ({ value, standardUncertainty: 0 });

describe('decibels', () => {
  it.each([
    ['80 % against 40 %', 80, 40, 6.0206, '20 · log10(A2 / A1), derived'],
    ['20 % of a curve', 20, 100, -13.9794, 'ASME V, T-482 (from memory) by 20 · log10, derived'],
    ['a third of a curve', 100 / 3, 100, -9.5424, 'derived'],
    ['ten to one', 10, 1, 20, 'definition'],
  ])('%s', (_, amplitude, reference, db) => {
    expect(differenceDb(amplitude, reference)).toBeCloseTo(db, 4);
  });

  it.each([
    ['−6 dB', -6, 0.501187],
    ['−14 dB', -14, 0.199526],
    ['−20 dB', -20, 0.1],
  ])('%s as a ratio (derived)', (_, db, ratio) => {
    expect(ratioFromDb(db)).toBeCloseTo(ratio, 6);
  });
});

describe('evaluation levels', () => {
  it('20 % of the reference is −13.98 dB (ASME V, Article 4, T-482, from memory)', () => {
    const set = publishedLevels.find(({ name }) => name === 'asme-v-t-482')!;
    expect(levelsInDb(set)[0].db).toBeCloseTo(-13.9794, 4);
  });
});

describe('attenuation from two back-wall echoes', () => {
  const echo = (percent: number, distanceMm: number) => ({
    distanceMm,
    uDistanceMm: 0,
    levelDb: exactly(dbFromRatio(percent)),
  });
  const { attenuationDbPerMm, dropDb, spreadingDb, travelMm } = apparentAttenuation(echo(80, 50), echo(32, 100));

  it('80 and 32 % from 50 and 100 mm: 0.019382 dB per mm of travel (formula of Krautkrämer and ASTM E664, from memory; figure derived)', () => {
    expect(attenuationDbPerMm.value).toBeCloseTo(0.019382, 6);
    expect([dropDb.value, spreadingDb]).toEqual([expect.closeTo(7.9588, 4), expect.closeTo(6.0206, 4)]);
  });

  it('is not the 79.6 dB/m that the same echoes give where the spread is left in', () => {
    const leftIn = dropDb.value / travelMm;
    expect(1000 * leftIn).toBeCloseTo(79.6, 1);
    expect(1000 * attenuationDbPerMm.value).toBeLessThan(20);
  });
});

describe('near field (N = D²/4λ and the last maximum on the axis, Krautkrämer, from memory; figures derived)', () => {
  it.each([
    ['10 mm, 5 MHz in steel', 10, 5, 5920, 1.184, 21.11486, 20.81886],
    ['24 mm, 4 MHz in steel', 24, 4, 5920, 1.48, 97.2973, 96.9273],
    ['12.7 mm, 2.25 MHz in steel', 12.7, 2.25, 5920, 2.63111, 15.3253, 14.6675],
    ['20 mm, 2 MHz transverse', 20, 2, 3255, 1.6275, 61.4439, 61.0371],
  ])('%s', (_, elementMm, frequencyMHz, velocityMPerS, wavelength, length, exact) => {
    const field = nearField({ elementMm, frequencyMHz, velocityMPerS });
    const digits = elementMm === 10 ? 5 : 4;
    expect(field.wavelengthMm).toBeCloseTo(wavelength, digits);
    expect(field.lengthMm).toBeCloseTo(length, digits);
    expect(field.exactMm).toBeCloseTo(exact, digits);
    expect(field.lawsFromMm).toBeCloseTo(3 * field.lengthMm, 9);
  });

  it('is none for an element smaller than a wavelength', () => {
    expect(nearField({ elementMm: 1, frequencyMHz: 1, velocityMPerS: 5920 }).exactMm).toBe(0);
  });
});

describe('fall over double the path in the far field (Krautkrämer, from memory; derived)', () => {
  it.each<[ReflectorKind, number]>([
    ['back-wall', 6.0206],
    ['flat-bottomed-hole', 12.0412],
    ['side-drilled-hole', 9.0309],
  ])('%s: %d dB', (kind, db) => {
    expect(dbFromRatio(2 ** spreadingOf[kind].exponent!)).toBeCloseTo(db, 4);
  });

  it('a disc falls against a back wall as the disc formula says: 20 · log10(π d² / 2 λ s), −27.4416 dB for 2 mm at 100 mm and 4 MHz (derived)', () => {
    const formula = (mm: number) => dbFromRatio((Math.PI * 2 ** 2) / (2 * 1.48 * mm));
    expect(formula(100)).toBeCloseTo(-27.4416, 4);
    const fall = (kind: ReflectorKind, a: number, b: number) => -spreadingOf[kind].exponent! * dbFromRatio(b / a);
    const apart = fall('flat-bottomed-hole', 100, 150) - fall('back-wall', 100, 150);
    expect(apart).toBeCloseTo(formula(150) - formula(100), 9);
  });
});
