import { describe, expect, it } from 'vitest';
import { dbFromRatio, differenceDb, percentAtGain, ratioFromDb } from '../../../core/units/decibel.ts';

describe('dB of a ratio of amplitudes', () => {
  it('a ratio of 0 has no lowest level, a negative one no level at all', () => {
    expect(dbFromRatio(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(dbFromRatio(-1)).toBeNaN();
  });

  it.each([
    // 20 · log10(A2/A1) (derived)
    { ratio: 1, db: 0 },
    { ratio: 2, db: 6.0206 },
    { ratio: 10, db: 20 },
    { ratio: 5, db: 13.9794 },
    { ratio: 4, db: 12.0412 },
    { ratio: 1.25, db: 1.9382 },
    { ratio: Math.SQRT2, db: 3.0103 },
    { ratio: 0.501187, db: -6 },
    { ratio: 0.199526, db: -14 },
    { ratio: 0.1, db: -20 },
  ])('$ratio is $db dB, and back', ({ ratio, db }) => {
    expect(dbFromRatio(ratio)).toBeCloseTo(db, 4);
    expect(ratioFromDb(db)).toBeCloseTo(ratio, 4);
  });

  it('80 % stands 6.0206 dB above 40 %', () => expect(differenceDb(80, 40)).toBeCloseTo(6.0206, 4));
});

describe('percentAtGain', () => {
  it('leaves the height as read where the gain is unknown', () => expect(percentAtGain(80, null, 0)).toBe(80));

  it.each([
    { percent: 80, gainDb: 42, at: 42, expected: 80 },
    { percent: 80, gainDb: 42, at: 40, expected: 63.546 },
    { percent: 80, gainDb: 42, at: 44, expected: 100.714 },
    { percent: 40, gainDb: 48, at: 42, expected: 20.0475 },
  ])('$percent % at $gainDb dB would be $expected % at $at dB', ({ percent, gainDb, at, expected }) => {
    expect(percentAtGain(percent, gainDb, at)).toBeCloseTo(expected, 3);
  });
});
