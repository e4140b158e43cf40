import { describe, expect, it } from 'vitest';
import { referAmplitude, scanReferences } from '../../core/rating/amplitude.ts';
import { attenuationFactor, rateIndication, wholeDbHalfUp } from '../../core/rating/aws-d1.1.ts';
import { emptyReview } from '../../core/review/review.ts';
import type { ScanDecision } from '../../core/review/scan-decision.ts';
import { ratioQuantity } from '../../core/sensitivity/reference-level.ts';
import { lengthOf } from '../../core/sizing/length.ts';
import { dbFromRatio } from '../../core/units/decibel.ts';
import { pointAt, readingOf } from '../build/echo-dynamic.ts';

const inch = 25.4;

describe('attenuation factor of AWS D1.1', () => {
  it.each([
    {
      pathMm: 1.9 * inch,
      form: 'inch' as const,
      factorDb: 2,
      source: 'published example: S = 1.9 in, 1.8 is rounded to 2 dB',
    },
    { pathMm: 100, form: 'si' as const, factorDb: 6, source: 'published example: S = 100 mm, 0.08 · 75 = 6 dB' },
    { pathMm: 2.25 * inch, form: 'inch' as const, factorDb: 3, source: 'rule as published (0.5 and up: up): 2.5 is 3' },
    {
      pathMm: 1.24 * inch,
      form: 'inch' as const,
      factorDb: 0,
      source: 'rule as published (below 0.5: down): 0.48 is 0',
    },
    { pathMm: 1 * inch, form: 'inch' as const, factorDb: 0, source: 'derived: the formula begins at 1 in' },
    { pathMm: 25, form: 'si' as const, factorDb: 0, source: 'derived: the formula begins at 25 mm' },
    {
      pathMm: 5.75 * inch,
      form: 'inch' as const,
      factorDb: 10,
      source: 'rule as published, derived: 9.5 is 10 (not to the even one)',
    },
  ])('$source', ({ pathMm, form, factorDb }) => {
    expect(attenuationFactor(pathMm, form, true).factorDb).toBe(factorDb);
  });

  it.each([
    { raw: 2.5, rounded: 3 },
    { raw: 9.5, rounded: 10 },
    { raw: 0.48, rounded: 0 },
    { raw: 0.5, rounded: 1 },
    { raw: -0.5, rounded: 0 },
    { raw: -0.51, rounded: -1 },
  ])('half up: $raw is $rounded (rule as published; derived)', ({ raw, rounded }) => {
    expect(wholeDbHalfUp(raw)).toBe(rounded);
  });

  it('nearer than 1 in the floor is a setting', () => {
    expect(attenuationFactor(5, 'si', true)).toMatchObject({ factorDb: 0, floored: true, rawDb: -1.6 });
    expect(attenuationFactor(5, 'si', false)).toMatchObject({ factorDb: -2, floored: false });
  });

  it('the two forms differ by at most 1 dB up to 500 mm, and where they do a rating says so', () => {
    const differing = Array.from({ length: 4751 }, (_, i) => 25 + i / 10).filter((mm) => {
      const [a, b] = [attenuationFactor(mm, 'inch', true).factorDb, attenuationFactor(mm, 'si', true).factorDb];
      expect(Math.abs(a - b)).toBeLessThanOrEqual(1);
      return a !== b;
    });
    expect(differing.length).toBeGreaterThan(0);
    const remarksAt = (mm: number) =>
      rateIndication({ value: 0, standardUncertainty: 0 }, false, { value: mm, standardUncertainty: 0 }, null, {
        form: 'inch',
        floorAtZero: true,
      }).remarks;
    expect(remarksAt(differing[0])[0]).toMatch(/SI form of the attenuation factor gives/);
    expect(remarksAt(25.4)).toEqual([]);
  });
});

describe('indication rating of AWS D1.1: d = a − b − c', () => {
  it('a 60, b 50, S 100 mm: 60 − 50 − 6 = 4 (derived from the published formula)', () => {
    // An echo that needs 60 dB for the height that the reference has at 50 dB stands 10 dB below it.
    const rating = rateIndication(
      { value: -10, standardUncertainty: 0.5 },
      false,
      { value: 100, standardUncertainty: 0 },
      50,
      { form: 'si', floorAtZero: true },
    );
    expect(rating).toMatchObject({
      indicationLevelDb: 60,
      referenceLevelDb: 50,
      ratingDb: { value: 4, standardUncertainty: 0.5 },
    });
  });

  it('the same by screen heights: 80 % at 60 dB against 80 % at 50 dB', () => {
    const decision: ScanDecision = {
      captures: [],
      fromMm: 20,
      toMm: 120,
      level: { kind: 'screen', percent: 20 },
      scanningGainDb: null,
      sizing: { kind: 'drop-6-db' },
      beamWidthMm: null,
      uBeamWidthMm: 0,
      uPositionMm: 0,
      reference: { percent: 80, gainDb: 50, uGainDb: 0 },
      rating: { kind: 'aws-d1.1', form: 'si', floorAtZero: true },
      indications: [],
    };
    const { level } = scanReferences(decision, null, emptyReview.sensitivity);
    const reading = readingOf('c', {
      amplitudePercent: 80,
      signalToNoiseDb: 60,
      soundPathMm: { value: 100, standardUncertainty: 0 },
    });
    const { held } = referAmplitude(reading, 60, level);
    const rating = rateIndication(held!.levelDb!, false, reading.soundPathMm!, 50, decision.rating!);
    expect(rating.ratingDb.value).toBeCloseTo(4, 9);
  });

  it('a lower bound of the height is an upper bound of the rating: a higher one is a smaller indication (from memory)', () => {
    expect(
      rateIndication({ value: 3, standardUncertainty: 0 }, true, { value: 50, standardUncertainty: 0 }, 50, {
        form: 'si',
        floorAtZero: true,
      }).atMost,
    ).toBe(true);
  });
});

describe('decibels (derived; common practice)', () => {
  it('80 against 40 % is 6.0206 dB', () => expect(dbFromRatio(80 / 40)).toBeCloseTo(6.0206, 4));
  it('20 % of the curve is −13.9794 dB', () => {
    expect(dbFromRatio(0.2)).toBeCloseTo(-13.9794, 4);
    expect(ratioQuantity({ value: -13.9794, standardUncertainty: 0 }, 100).value).toBeCloseTo(20, 4);
  });
  it.each([
    { kind: 'drop-6-db' as const, percentOfPeak: 50 },
    { kind: 'drop-20-db' as const, percentOfPeak: 10 },
  ])('$kind goes to $percentOfPeak % of the peak (common practice)', ({ kind, percentOfPeak }) => {
    const points = [1, 60, 80, 80, 80, 60, 1].map((percent, i) => pointAt(i, percent));
    const { endLevelDb } = lengthOf(
      points,
      { first: 0, last: 6 },
      { sizing: { kind }, beamWidthMm: null, uBeamWidthMm: 0, uPositionMm: 0, curveDbAt: () => null },
    );
    expect(10 ** (endLevelDb! / 20)).toBeCloseTo((80 * percentOfPeak) / 100, 6);
  });
});
