import { describe, expect, it } from 'vitest';
import { fitDistance } from '../../core/calibration/distance.ts';
import { type DriftCheck, judgeDrift } from '../../core/check/drift.ts';
import { normalFactor95, type Quantity } from '../../core/units/quantity.ts';
import { normal } from '../build/random.ts';

/*
 * time = zero offset + 2 · distance / velocity, each reflector off its stated distance by an error of its own block.
 * Calibration and check on one block share those errors, on two blocks they do not. The truth is by how much zero offset,
 * velocity and each reflector's path (by the calibration's velocity) have really changed.
 * Source: algebra of the line and of drift (trade practice, derived); Monte Carlo, seeded.
 */
const pairs = 2000;
const uTimeUs = 0.003;
const before = { velocityMPerS: 3240, zeroOffsetUs: 7.3 };
const now = { velocityMPerS: 3243, zeroOffsetUs: 7.34 };

interface Setting {
  readonly calibratedMm: readonly number[];
  readonly checkedMm: readonly number[];
  readonly uDistanceMm: number;
  readonly onSameBlock: boolean;
}

const timeOf = ({ velocityMPerS, zeroOffsetUs }: typeof before, distanceMm: number) =>
  zeroOffsetUs + (2000 * distanceMm) / velocityMPerS;

function checked(setting: Setting, seed: number): { check: DriftCheck; trueMm: (distanceMm: number) => number } {
  const { calibratedMm, checkedMm, uDistanceMm, onSameBlock } = setting;
  const random = normal(seed);
  const errorsMm = new Map(calibratedMm.map((d) => [d, uDistanceMm * random()]));
  const others = new Map(checkedMm.map((d) => [d, onSameBlock ? errorsMm.get(d)! : uDistanceMm * random()]));
  const points = calibratedMm.map((distanceMm) => ({
    distanceMm,
    uDistanceMm,
    timeUs: timeOf(before, distanceMm + errorsMm.get(distanceMm)!) + uTimeUs * random(),
    uTimeUs,
    amplitudePercent: 80,
    captureId: null,
    from: null,
    flags: [],
  }));
  const fit = fitDistance(points);
  if (!fit.ok) throw new Error(fit.problems[0].sentence);
  const outcome = judgeDrift({
    checks: [
      {
        captureId: 'check.csv',
        takenAt: null,
        gainDb: null,
        block: onSameBlock ? 'block 3' : 'block 4',
        reflectors: checkedMm.map((distanceMm) => ({
          distanceMm,
          uDistanceMm,
          timeUs: {
            value: timeOf(now, distanceMm + others.get(distanceMm)!) + uTimeUs * random(),
            standardUncertainty: uTimeUs,
          },
          amplitudePercent: 80,
          signalToNoiseDb: 60,
          flags: [],
          from: null,
        })),
      },
    ],
    calibration: fit.value,
    calibrated: points.map((point) => ({ ...point, gainDb: null, block: 'block 3' })),
    reference: [],
    rule: null,
    rangeMm: null,
  });
  if (!outcome.ok) throw new Error(outcome.problems[0].sentence);
  const trueMm = (distanceMm: number) => {
    const really = distanceMm + others.get(distanceMm)!;
    return ((timeOf(now, really) - timeOf(before, really)) * before.velocityMPerS) / 2000;
  };
  return { check: outcome.value.checks[0], trueMm };
}

/** Of the pairs, the share in which 1.96 times the stated uncertainty holds the truth, in per cent. */
function held(setting: Setting) {
  const inside = { zeroOffset: 0, velocity: 0, distance: 0 };
  const holds = ({ value, standardUncertainty }: Quantity, truth: number) =>
    Math.abs(value - truth) <= normalFactor95 * standardUncertainty! ? 1 : 0;
  for (let seed = 1; seed <= pairs; seed++) {
    const { check, trueMm } = checked(setting, seed);
    inside.zeroOffset += holds(check.zeroOffsetChangeUs!, now.zeroOffsetUs - before.zeroOffsetUs);
    inside.velocity += holds(check.velocityChangePercent!, 100 * (now.velocityMPerS / before.velocityMPerS - 1));
    for (const { distanceMm, distanceErrorMm } of check.reflectors)
      inside.distance += holds(distanceErrorMm!, trueMm(distanceMm)) / check.reflectors.length;
  }
  const percent = (count: number) => (100 * count) / pairs;
  return {
    zeroOffset: percent(inside.zeroOffset),
    velocity: percent(inside.velocity),
    distance: percent(inside.distance),
  };
}

const two = [100, 225];
const four = [25, 50, 75, 100];

describe(`the 95 % interval of a drift check, ${pairs} simulated pairs of calibration and check, timing noise 3 ns`, () => {
  it.each<{ name: string; setting: Setting; least: number; most: number }>([
    {
      name: 'two exact distances',
      setting: { calibratedMm: two, checkedMm: two, uDistanceMm: 0, onSameBlock: true },
      least: 93,
      most: 97,
    },
    {
      name: 'the same two, each off by 0.06 mm: it cancels',
      setting: { calibratedMm: two, checkedMm: two, uDistanceMm: 0.06, onSameBlock: true },
      least: 93,
      most: 97,
    },
    {
      name: 'two of another block, each off by 0.06 mm: it counts twice',
      setting: { calibratedMm: two, checkedMm: two, uDistanceMm: 0.06, onSameBlock: false },
      least: 93,
      most: 97,
    },
    {
      name: 'the same four, exact',
      setting: { calibratedMm: four, checkedMm: four, uDistanceMm: 0, onSameBlock: true },
      least: 93,
      most: 97,
    },
    {
      name: 'the same four, each off by 0.06 mm, which shows in the residuals',
      setting: { calibratedMm: four, checkedMm: four, uDistanceMm: 0.06, onSameBlock: true },
      least: 93,
      most: 97,
    },
    {
      name: 'two of the same four, each off by 0.06 mm: what the line leaves over',
      setting: { calibratedMm: four, checkedMm: [25, 100], uDistanceMm: 0.06, onSameBlock: true },
      least: 93,
      most: 97,
    },
    {
      // Of more than two points the larger of stated and found scatter is taken, which is on the safe side.
      name: 'four of another block, each off by 0.06 mm',
      setting: { calibratedMm: four, checkedMm: four, uDistanceMm: 0.06, onSameBlock: false },
      least: 94,
      most: 98.5,
    },
  ])('$name: holds the truth', ({ setting, least, most }) => {
    const shares = held(setting);
    for (const share of Object.values(shares)) {
      expect(share).toBeGreaterThanOrEqual(least);
      expect(share).toBeLessThanOrEqual(most);
    }
  });

  it('is narrower on one block than on two by the tolerance, and as narrow as with exact distances', () => {
    const u = (setting: Setting) => checked(setting, 1).check.reflectors[0].distanceErrorMm!.standardUncertainty!;
    const exact = u({ calibratedMm: two, checkedMm: two, uDistanceMm: 0, onSameBlock: true });
    const same = u({ calibratedMm: two, checkedMm: two, uDistanceMm: 0.06, onSameBlock: true });
    const other = u({ calibratedMm: two, checkedMm: two, uDistanceMm: 0.06, onSameBlock: false });
    expect(same).toBeCloseTo(exact, 5);
    // At a calibrated reflector: its own tolerance once by the line, once by the other block.
    expect(other ** 2 - same ** 2).toBeCloseTo(2 * 0.06 ** 2, 4);
  });
});
