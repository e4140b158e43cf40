import { describe, expect, it } from 'vitest';
import { highestDistanceMm, timeCorrectedGain } from '../../../core/sensitivity/time-corrected-gain.ts';
import { curveOf } from '../../build/sensitivity.ts';

describe('timeCorrectedGain', () => {
  const curve = curveOf(
    [
      [23, -1],
      [41, 0],
      [80, -13],
    ],
    'db',
    0.2,
  );
  const rows = timeCorrectedGain(curve, highestDistanceMm(curve));

  it('is told against the highest point, wherever that stands', () => {
    expect(highestDistanceMm(curve)).toBe(41);
    expect(rows.find((row) => row.distanceMm === 41)!.addedGainDb).toEqual({ value: 0, standardUncertainty: 0 });
  });

  it('brings every place of the curve to one height', () => {
    for (const { curveLevelDb, addedGainDb } of rows) expect(curveLevelDb.value + addedGainDb.value).toBeCloseTo(0, 12);
  });

  it('stands at each point and at round distances between, in order, and nowhere outside', () => {
    const distances = rows.map((row) => row.distanceMm);
    expect(distances).toEqual([23, 25, 30, 35, 40, 41, 45, 50, 55, 60, 65, 70, 75, 80]);
    expect(rows.filter((row) => row.isPoint).map((row) => row.distanceMm)).toEqual([23, 41, 80]);
  });

  it.each([
    ['a centimetre', 10, 0.5],
    ['a metre', 1000, 50],
    ['a tenth of a millimetre', 0.1, 0.005],
  ])('has no more than a table holds, over %s', (_, spanMm, stepMm) => {
    const of = curveOf([
      [spanMm, 0],
      [1.5 * spanMm, -6],
      [2 * spanMm, -12],
    ]);
    const table = timeCorrectedGain(of, spanMm);
    expect(table.length).toBeGreaterThan(10);
    expect(table.length).toBeLessThanOrEqual(23);
    expect(table[1].distanceMm - table[0].distanceMm).toBeCloseTo(stepMm, 9);
  });
});
