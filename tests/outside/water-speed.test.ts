import { describe, expect, it } from 'vitest';
import { type WaterSpeedFit, waterSpeed } from '../../core/material/water-speed.ts';

function speed(temperatureC: number, fit: WaterSpeedFit): number {
  const outcome = waterSpeed(temperatureC, fit);
  if (!outcome.ok) throw new Error(outcome.problems[0].sentence);
  return outcome.value;
}

describe('speed of sound in pure water, m/s (coefficients read in several public sources, values recomputed from them)', () => {
  it.each([
    // Marczak 1997, doi:10.1121/1.420332 | Del Grosso 1972, table III, doi:10.1121/1.1913258 | the same paper, Mader's coefficients
    [0, 1402.385, 1402.3875, 1402.3874],
    [10, 1447.289, 1447.2699, 1447.2795],
    [20, 1482.3795, 1482.3429, 1482.3578],
    [25, 1496.7277, 1496.6873, 1496.7037],
    [30, 1509.1672, 1509.1268, 1509.144],
    [40, 1528.8936, 1528.8629, 1528.8798],
    [50, 1542.5651, 1542.5507, 1542.5652],
    [60, 1550.9863, 1550.9861, 1550.996],
    [74, 1555.1396, 1555.1462, 1555.1464],
    [95, 1547.1679, 1547.1899, 1547.1719],
  ])('%i °C: %d, %d, %d', (temperatureC, marczak, delGrosso, mader) => {
    expect(Math.abs(speed(temperatureC, 'marczak-1997') - marczak)).toBeLessThan(1e-4);
    expect(Math.abs(speed(temperatureC, 'del-grosso-1972') - delGrosso)).toBeLessThan(1e-4);
    expect(Math.abs(speed(temperatureC, 'mader-1972') - mader)).toBeLessThan(1e-4);
  });

  it('Marczak: 1482.380 at 20 °C, not the 1482.460 of a well-known misprint of the second coefficient', () => {
    expect(speed(20, 'marczak-1997')).toBeCloseTo(1482.38, 3);
  });

  it('Marczak: greatest at 74.174 °C with 1555.1402', () => {
    const at = Array.from({ length: 2001 }, (_, i) => 74 + i / 5000);
    const greatest = at.reduce((a, b) => (speed(b, 'marczak-1997') > speed(a, 'marczak-1997') ? b : a));
    expect(greatest).toBeCloseTo(74.174, 3);
    expect(speed(greatest, 'marczak-1997')).toBeCloseTo(1555.1402, 4);
  });

  it('Lubbers and Graaff 1998: 1482.190 at 20 °C', () =>
    expect(speed(20, 'lubbers-graaff-1998')).toBeCloseTo(1482.19, 6));

  it('all four agree to 0.25 m/s from 15 to 35 °C', () => {
    for (let t = 15; t <= 35; t++) {
      const all = (['marczak-1997', 'del-grosso-1972', 'mader-1972', 'lubbers-graaff-1998'] as const).map((fit) =>
        speed(t, fit),
      );
      expect(Math.max(...all) - Math.min(...all)).toBeLessThan(0.25);
    }
  });
});
