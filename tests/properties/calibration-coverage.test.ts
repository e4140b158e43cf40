import { describe, expect, it } from 'vitest';
import { multipleErrors, type SharedDistanceErrors, twoRadiusErrors } from '../../core/block/reference-block.ts';
import { type CalibrationPoint, fitDistance, pathFromTime } from '../../core/calibration/distance.ts';
import { normalFactor95, rectangularUncertainty } from '../../core/units/quantity.ts';

/** Seeded numbers between 0 and 1 (mulberry32, public domain), so that a failure can be repeated. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

interface Situation {
  readonly distancesMm: readonly number[];
  readonly velocityMPerS: number;
  readonly zeroOffsetUs: number;
  readonly uTimeUs: number;
  /** Each distance wrong by itself, evenly within ± this. */
  readonly toleranceMm?: number;
  /** Dimensions each wrong evenly within ± this, and how the distances are made of them. */
  readonly shared?: {
    readonly errors: SharedDistanceErrors;
    readonly toleranceMm: number;
    readonly weights: readonly (readonly number[])[];
  };
  /** Whether the person knows the timing's uncertainty. */
  readonly timingStated?: boolean;
}

/** Of so many simulated calibrations, how many in a hundred held velocity, zero offset and a path in their 95 % intervals. */
function coverage(situation: Situation, runs: number, seed: number) {
  const { distancesMm, velocityMPerS, zeroOffsetUs, uTimeUs, toleranceMm = 0, shared, timingStated = true } = situation;
  const random = seeded(seed);
  const gaussian = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const evenly = (halfWidth: number) => halfWidth * (2 * random() - 1);
  const held = { velocity: 0, zeroOffset: 0, path: 0 };
  const pathMm = 0.7 * distancesMm[0] + 0.3 * distancesMm[distancesMm.length - 1];
  for (let run = 0; run < runs; run++) {
    const dimensions = shared?.weights[0].map(() => evenly(shared.toleranceMm)) ?? [];
    const points = distancesMm.map((distanceMm, i): CalibrationPoint => {
      const common = dimensions.reduce((sum, error, k) => sum + error * (shared?.weights[i][k] ?? 0), 0);
      const trueMm = distanceMm + evenly(toleranceMm) + common;
      return {
        distanceMm,
        uDistanceMm: rectangularUncertainty(toleranceMm),
        timeUs: zeroOffsetUs + (2000 * trueMm) / velocityMPerS + uTimeUs * gaussian(),
        uTimeUs: timingStated ? uTimeUs : null,
        amplitudePercent: null,
        captureId: null,
        from: null,
        flags: [],
      };
    });
    const fit = fitDistance(points, shared?.errors ?? null);
    if (!fit.ok) throw new Error(fit.problems[0].sentence);
    const calibration = fit.value;
    if (Math.abs(calibration.velocityMPerS.value - velocityMPerS) <= calibration.velocityHalfWidth95MPerS!)
      held.velocity++;
    if (Math.abs(calibration.zeroOffsetUs.value - zeroOffsetUs) <= calibration.zeroOffsetHalfWidth95Us!)
      held.zeroOffset++;
    const reading = pathFromTime(
      calibration,
      zeroOffsetUs + (2000 * pathMm) / velocityMPerS + uTimeUs * gaussian(),
      uTimeUs,
    );
    if (Math.abs(reading.value - pathMm) <= normalFactor95 * reading.standardUncertainty!) held.path++;
  }
  return {
    velocity: (100 * held.velocity) / runs,
    zeroOffset: (100 * held.zeroOffset) / runs,
    path: (100 * held.path) / runs,
  };
}

const transverse = { velocityMPerS: 3241, zeroOffsetUs: 7.31, uTimeUs: 0.01 };
const longitudinal = { velocityMPerS: 5925, zeroOffsetUs: 0.3, uTimeUs: 0.005 };
const multiplesOf25 = [25, 50, 75, 100, 125];
const runs = 5000;

function expectBetween(percent: number, least: number, most: number) {
  expect(percent).toBeGreaterThanOrEqual(least);
  expect(percent).toBeLessThanOrEqual(most);
}

describe(`of ${runs} simulated calibrations 93 to 97 in 100 hold the truth in their 95 % intervals`, () => {
  it.each([
    { what: 'two points', situation: { ...transverse, distancesMm: [100, 225] } },
    {
      what: 'two points, distances ± 0.03 mm',
      situation: { ...transverse, distancesMm: [100, 225], toleranceMm: 0.03 },
    },
    { what: 'two points, distances ± 0.1 mm', situation: { ...transverse, distancesMm: [100, 225], toleranceMm: 0.1 } },
    { what: 'three points', situation: { ...longitudinal, distancesMm: [10, 15, 25] } },
    {
      what: 'three points, distances ± 0.05 mm',
      situation: { ...longitudinal, distancesMm: [10, 15, 25], toleranceMm: 0.05 },
    },
    { what: 'five points', situation: { ...longitudinal, distancesMm: multiplesOf25 } },
    {
      what: 'five points, distances ± 0.05 mm',
      situation: { ...longitudinal, distancesMm: multiplesOf25, toleranceMm: 0.05 },
    },
    {
      what: 'three points of two radii, each ± 0.03 mm',
      situation: {
        ...transverse,
        distancesMm: [25, 100, 175],
        shared: { errors: twoRadiusErrors(25, 50, 0.03), toleranceMm: 0.03, weights: [0, 1, 2].map((n) => [n + 1, n]) },
      },
    },
    {
      what: 'five multiples of a thickness ± 0.005 mm',
      situation: {
        ...longitudinal,
        distancesMm: multiplesOf25,
        shared: { errors: multipleErrors(25, 0.005), toleranceMm: 0.005, weights: [1, 2, 3, 4, 5].map((n) => [n]) },
      },
    },
  ])('$what: velocity, zero offset, and a path read with it', ({ situation }) => {
    const { velocity, zeroOffset, path } = coverage(situation, runs, 20260302);
    expectBetween(velocity, 93, 97);
    expectBetween(zeroOffset, 93, 97);
    expectBetween(path, 93, 97);
  });

  it.each([
    { what: 'three points', distancesMm: [10, 15, 25] },
    { what: 'five points', distancesMm: multiplesOf25 },
  ])('$what whose timing nobody stated: Student’s t', ({ distancesMm }) => {
    const { velocity, zeroOffset } = coverage({ ...longitudinal, distancesMm, timingStated: false }, runs, 20260303);
    expectBetween(velocity, 93, 97);
    expectBetween(zeroOffset, 93, 97);
  });
});

describe('where one even tolerance rules, or the timing is not stated, intervals err to the wide side', () => {
  it.each([
    // An even distribution has no tails: where it rules, 1.960 u reaches beyond its ends
    {
      what: 'one thickness ± 0.1 mm behind all echoes',
      situation: {
        ...longitudinal,
        distancesMm: multiplesOf25,
        shared: { errors: multipleErrors(25, 0.1), toleranceMm: 0.1, weights: [1, 2, 3, 4, 5].map((n) => [n]) },
      },
    },
    // Neither the timing's nor the whole error is known, so the larger of two views is taken
    {
      what: 'timing not stated, distances ± 0.05 mm',
      situation: { ...longitudinal, distancesMm: [10, 15, 25], toleranceMm: 0.05, timingStated: false },
    },
  ])('$what', ({ situation }) => {
    const { velocity, zeroOffset } = coverage(situation, runs, 20260304);
    expectBetween(velocity, 95, 100);
    expectBetween(zeroOffset, 95, 100);
  });

  it('and the test can fail: a thickness error that is kept quiet loses the truth', () => {
    const { velocity } = coverage(
      {
        ...longitudinal,
        distancesMm: multiplesOf25,
        shared: { errors: multipleErrors(25, 0), toleranceMm: 0.1, weights: [1, 2, 3, 4, 5].map((n) => [n]) },
      },
      runs,
      20260305,
    );
    expect(velocity).toBeLessThan(40);
  });
});
