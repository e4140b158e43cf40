import { describe, expect, it } from 'vitest';
import {
  aboveLogarithmDb,
  curveAt,
  curveDifference,
  curveSamples,
  linesAboveLogarithmDb,
} from '../../../core/sensitivity/distance-amplitude-curve.ts';
import { curveOf, curvePoint } from '../../build/sensitivity.ts';

const straightInDb = curveOf([
  [20, 0],
  [40, -6],
  [80, -20],
]);
/** 80, 40 and 20 % at 80 % reference. */
const straightInPercent = curveOf(
  [
    [20, 0],
    [40, 20 * Math.log10(1 / 2)],
    [80, 20 * Math.log10(1 / 4)],
  ],
  'percent',
);

describe('the curve says nothing', () => {
  it.each([
    ['before its first point', 19.999],
    ['behind its last', 80.001],
    ['at no distance at all', Number.NaN],
  ])('%s', (_, distanceMm) => {
    expect(curveAt(straightInDb, distanceMm)).toBeNull();
    expect(curveDifference(straightInDb, 40, distanceMm)).toBeNull();
  });
});

describe('the curve between its points', () => {
  it.each<[string, typeof straightInDb, number, number]>([
    ['at the first point', straightInDb, 20, 0],
    ['at a middle point', straightInDb, 40, -6],
    ['at the last point', straightInDb, 80, -20],
    ['halfway in dB: the mean of the levels', straightInDb, 30, -3],
    ['a quarter of the way in dB', straightInDb, 50, -9.5],
    ['at a point of the other', straightInPercent, 40, 20 * Math.log10(1 / 2)],
    ['halfway in %: the mean of 80 and 40 is 60', straightInPercent, 30, 20 * Math.log10(60 / 80)],
    ['a quarter of the way in %: 35 of 40 and 20', straightInPercent, 50, 20 * Math.log10(35 / 80)],
  ])('%s', (_, curve, distanceMm, levelDb) => {
    expect(curveAt(curve, distanceMm)!.levelDb.value).toBeCloseTo(levelDb, 12);
  });

  it.each(['db', 'percent'] as const)('has the slope of its line, in %s', (straightIn) => {
    const curve = straightIn === 'db' ? straightInDb : straightInPercent;
    const step = 1e-5;
    const [before, after] = [55 - step, 55 + step].map((mm) => curveAt(curve, mm)!.levelDb.value);
    expect(curveAt(curve, 55)!.slopeDbPerMm).toBeCloseTo((after - before) / (2 * step), 6);
  });

  it('is drawn through its points, both ends included', () => {
    const samples = curveSamples(straightInPercent, 80, 2);
    expect(samples.map(({ distanceMm }) => distanceMm)).toEqual([20, 30, 40, 60, 80]);
    [80, 60, 40, 30, 20].forEach((percent, i) => {
      expect(samples[i].heightPercent).toBeCloseTo(percent, 9);
    });
  });
});

describe('the uncertainty of the curve', () => {
  const u = 0.3;
  const curve = curveOf(
    [
      [20, 0],
      [40, -6],
      [80, -20],
    ],
    'db',
    u,
  );

  it('is a point’s own at the point, and less halfway between two', () => {
    expect(curveAt(curve, 40)!.levelDb.standardUncertainty).toBeCloseTo(u, 12);
    expect(curveAt(curve, 30)!.levelDb.standardUncertainty).toBeCloseTo(u / Math.SQRT2, 12);
  });

  it('takes the error of a distance along the slope', () => {
    const placed = { ...curve, points: curve.points.map((point) => ({ ...point, uDistanceMm: 0.5 })) };
    expect(curveAt(placed, 20)!.levelDb.standardUncertainty).toBeCloseTo(Math.hypot(u, 0.3 * 0.5), 12);
  });

  it('is not known where that of a needed point is not, and only there', () => {
    const points = [curvePoint(20, 0, { uDb: u }), curvePoint(40, -6, { uDb: u }), curvePoint(80, -20, { uDb: null })];
    const partly = { points, straightIn: 'db' as const };
    expect(curveAt(partly, 30)!.levelDb.standardUncertainty).not.toBeNull();
    expect(curveAt(partly, 40)!.levelDb.standardUncertainty).toBeCloseTo(u, 12);
    expect(curveAt(partly, 41)!.levelDb.standardUncertainty).toBeNull();
    expect(curveDifference(partly, 20, 41)!.standardUncertainty).toBeNull();
  });

  it('of a difference leaves out what both ends share', () => {
    expect(curveDifference(curve, 25, 25)).toEqual({ value: 0, standardUncertainty: 0 });
    const { value, standardUncertainty } = curveDifference(curve, 20, 30)!;
    expect(value).toBeCloseTo(-3, 12);
    expect(standardUncertainty).toBeCloseTo(u * Math.hypot(0.5, 0.5), 12);
    expect(curveDifference(curve, 20, 60)!.standardUncertainty).toBeCloseTo(u * Math.hypot(1, 0.5, 0.5), 12);
  });
});

describe('how far a line lies above one over the logarithm of the distance', () => {
  it('is nothing at the points', () => {
    for (const mm of [20, 40, 80]) expect(aboveLogarithmDb(straightInDb, mm)).toBe(0);
  });

  it('for 1/path^1.5 is the departure of the chord from the law, greatest at (b − a)/ln(b/a)', () => {
    const law = (mm: number) => -30 * Math.log10(mm / 20);
    const curve = curveOf([20, 40, 80].map((mm) => [mm, law(mm)] as const));
    const atGreatest = 20 / Math.log(2);
    expect(aboveLogarithmDb(curve, atGreatest)).toBeCloseTo(
      curveAt(curve, atGreatest)!.levelDb.value - law(atGreatest),
      12,
    );
    const [first, second] = linesAboveLogarithmDb(curve);
    expect(first).toBeCloseTo(aboveLogarithmDb(curve, atGreatest), 4);
    expect(second).toBeCloseTo(first, 9);
    expect(first).toBeGreaterThan(0.7);
  });

  it('is greater for lines straight in %', () => {
    const [inDb] = linesAboveLogarithmDb({ ...straightInPercent, straightIn: 'db' });
    const [inPercent] = linesAboveLogarithmDb(straightInPercent);
    expect(inPercent).toBeGreaterThan(1.5 * inDb);
  });

  it('is negative where the echoes rise', () => {
    expect(
      linesAboveLogarithmDb(
        curveOf([
          [20, -4],
          [40, 0],
          [80, -6],
        ]),
      )[0],
    ).toBeLessThan(0);
  });
});
