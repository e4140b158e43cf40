import { failure, type Outcome, problem, success } from '../outcome.ts';

/**
 * Published fits of the speed of sound in pure water at one atmosphere, c = Σ aₙ·Tⁿ in m/s, T in °C. The two fits that go by the
 * names of Del Grosso and Mader (1972) are kept apart: they differ by 0.015 m/s, and their labels are often exchanged.
 */
export const waterSpeedFits = {
  'marczak-1997': {
    title: 'Marczak 1997',
    source: 'J. Acoust. Soc. Am. 102, 2776, doi:10.1121/1.420332 (ITS-90)',
    coefficients: [1.402385e3, 5.038813, -5.799136e-2, 3.287156e-4, -1.398845e-6, 2.78786e-9],
    fromC: 0,
    toC: 95,
  },
  'del-grosso-1972': {
    title: 'Del Grosso 1972, table III',
    source: 'J. Acoust. Soc. Am. 52, 1442, doi:10.1121/1.1913258, table III (IPTS-68)',
    coefficients: [1402.38754, 5.03711129, -5.80852166e-2, 3.34198834e-4, -1.47800417e-6, 3.14643091e-9],
    fromC: 0,
    toC: 95,
  },
  'mader-1972': {
    title: 'Del Grosso and Mader 1972, Mader’s coefficients',
    source: 'J. Acoust. Soc. Am. 52, 1442, doi:10.1121/1.1913258, as commonly coded (IPTS-68)',
    coefficients: [1402.38744, 5.03836171, -5.81172916e-2, 3.34638117e-4, -1.48259672e-6, 3.1658502e-9],
    fromC: 0,
    toC: 95,
  },
  'lubbers-graaff-1998': {
    title: 'Lubbers and Graaff 1998',
    source: 'Ultrasound Med. Biol. 24, 1065 (place from memory): simplified formula for 10 to 40 °C',
    coefficients: [1405.03, 4.624, -0.0383],
    fromC: 10,
    toC: 40,
  },
} as const;

export type WaterSpeedFit = keyof typeof waterSpeedFits;

/** Speed of sound in pure water in m/s. Problem `water-temperature-out-of-range`: the fit says nothing there, or there is no number. */
export function waterSpeed(temperatureC: number, fit: WaterSpeedFit): Outcome<number> {
  const { coefficients, fromC, toC, title } = waterSpeedFits[fit];
  if (!(temperatureC >= fromC && temperatureC <= toC)) {
    const sentence = `${title} gives the speed of sound in water from ${fromC} to ${toC} °C, not at ${temperatureC} °C; check the temperature or choose another fit`;
    return failure(problem('water-temperature-out-of-range', { file: '' }, sentence));
  }
  return success(coefficients.reduceRight((sum: number, coefficient) => sum * temperatureC + coefficient, 0));
}
