import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { fitLine, type LineFit } from '../../core/statistics/line-fit.ts';

/** Number of correct significant digits. */
function digits(value: number | null, certified: number): number {
  if (value === certified) return 16;
  return -Math.log10(Math.abs((value ?? Number.NaN) / certified - 1));
}

function line(x: ArrayLike<number>, y: ArrayLike<number>): LineFit {
  const fit = fitLine(x, y);
  if (!fit.ok) throw new Error(fit.reason);
  return fit.value;
}

// NIST Statistical Reference Datasets, linear regression, Norris (observed data, public domain): x, y
const norris =
  `0.2 0.1  337.4 338.8  118.2 118.1  884.6 888.0  10.1 9.2  226.5 228.1  666.3 668.5  996.3 998.5  448.6 449.1
  777.0 778.9  558.2 559.2  0.4 0.3  0.6 0.1  775.5 778.1  666.9 668.8  338.0 339.3  447.5 448.9  11.6 10.8  556.0 557.7
  228.1 228.3  995.8 998.0  887.6 888.8  120.2 119.6  0.3 0.3  0.3 0.6  556.8 557.6  339.1 339.3  887.2 888.0  999.0 998.5
  779.0 778.9  11.1 10.2  118.3 117.6  229.2 228.9  669.1 668.4  448.9 449.2  0.5 0.2`
    .trim()
    .split(/\s+/)
    .map(Number);

function expectNorris(x: ArrayLike<number>, y: ArrayLike<number>) {
  const fit = line(x, y);
  expect(fit.degreesOfFreedom).toBe(34);
  expect(digits(fit.intercept, -0.262323073774029)).toBeGreaterThan(12);
  expect(digits(fit.slope, 1.00211681802045)).toBeGreaterThan(12);
  expect(digits(fit.uIntercept, 0.232818234301152)).toBeGreaterThan(12);
  expect(digits(fit.uSlope, 0.429796848199937e-3)).toBeGreaterThan(12);
  expect(digits(fit.residualSd, 0.884796396144373)).toBeGreaterThan(12);
}

describe('straight lines certified by NIST (Statistical Reference Datasets, linear regression)', () => {
  it('Norris, 36 points, to more than 12 digits', () => {
    expectNorris(
      norris.filter((_, i) => i % 2 === 0),
      norris.filter((_, i) => i % 2 === 1),
    );
  });
});

const folder = fileURLToPath(new URL('../../../shared/data/nist/', import.meta.url));

describe.skipIf(!existsSync(folder))(
  'the same from NIST’s own files (skipped where the shared data folder is absent)',
  () => {
    it('Norris.dat', () => {
      const rows = readFileSync(`${folder}Norris.dat`, 'latin1').split('\n').slice(60, 96);
      const values = rows.map((row) => row.trim().split(/\s+/).map(Number));
      expect(values.length).toBe(36);
      expectNorris(
        values.map((v) => v[1]),
        values.map((v) => v[0]),
      );
    });
  },
);

describe('thermometer calibration, JCGM 100:2008 (GUM), H.3 (data from memory; every printed result reproduced)', () => {
  const temperature = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
  const correction = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
  const fit = line(
    temperature.map((t) => t - 20),
    correction,
  );

  it.each([
    { what: 'intercept', value: fit.intercept, recomputed: -0.17120379, printed: -0.1712, to: 4 },
    { what: 'its standard deviation', value: fit.uIntercept, recomputed: 0.002877598, printed: 0.0029, to: 4 },
    { what: 'slope', value: fit.slope, recomputed: 0.002182698, printed: 0.00218, to: 5 },
    { what: 'its standard deviation', value: fit.uSlope, recomputed: 0.000667939, printed: 0.00067, to: 5 },
    { what: 'residual standard deviation', value: fit.residualSd, recomputed: 0.003497564, printed: 0.0035, to: 4 },
  ])('$what: $recomputed, printed as $printed', ({ value, recomputed, printed, to }) => {
    expect(value).toBeCloseTo(recomputed, 8);
    expect(Number(value!.toFixed(to))).toBe(printed);
  });

  it('correlation of the two: −0.930', () => {
    expect(fit.covariance! / (fit.uIntercept! * fit.uSlope!)).toBeCloseTo(-0.930429603, 8);
  });

  it('predicted correction at 30 °C: −0.1494 with u = 0.0041', () => {
    expect(fit.intercept + 10 * fit.slope).toBeCloseTo(-0.149376813, 8);
    const variance = fit.uIntercept! ** 2 + 100 * fit.uSlope! ** 2 + 20 * fit.covariance!;
    expect(Math.sqrt(variance)).toBeCloseTo(0.004138596, 8);
  });
});

describe('velocities in liquids: distance against one-way time (published student measurements; figures only)', () => {
  it.each([
    // fitted as distance on time; one way, so without a factor of two
    {
      liquid: 'glycerol 100 %',
      d: [0, 1, 2, 3],
      t: [0, 0.517, 1.05, 1.57],
      velocity: 1907.24,
      u: 7.66,
      inverted: 1907.3,
    },
    {
      liquid: 'glycerol 75 %',
      d: [0, 1, 2, 3],
      t: [0, 0.537, 1.07, 1.62],
      velocity: 1854.17,
      u: 8.72,
      inverted: 1854.26,
    },
    { liquid: 'glycerol 50 %', d: [0, 0.5, 1], t: [0, 0.276, 0.557], velocity: 1795.28, u: 9.3, inverted: 1795.33 },
    {
      liquid: 'glycerol 25 %',
      d: [0, 0.5, 1, 1.5],
      t: [0, 0.3, 0.603, 0.89],
      velocity: 1681.57,
      u: 13.89,
      inverted: 1681.8,
    },
    { liquid: 'water', d: [0, 0.6, 1.2, 3], t: [0, 0.4, 0.8, 2.02], velocity: 1484.07, u: 4.54, inverted: 1484.1 },
  ])(
    '$liquid: $velocity ± $u m/s; the fit of time on distance, inverted, gives $inverted',
    ({ d, t, velocity, u, inverted }) => {
      const fit = line(t, d);
      expect(Number((1000 * fit.slope).toFixed(2))).toBe(velocity);
      expect(Number((1000 * fit.uSlope!).toFixed(2))).toBe(u);
      expect(Number((1000 / line(d, t).slope).toFixed(2))).toBe(inverted);
    },
  );
});
