import { exp } from '../elementary/exponential.ts';

/**
 * The probability that a normal variable of mean 0 and standard deviation 1 stays below `z`, to 1e-7.
 * Source: Abramowitz & Stegun (1964), 7.1.26 (from memory; checked against SciPy's values in its test).
 */
export function normalBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const polynomial = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const tail = (polynomial * exp(-x * x)) / 2;
  return z < 0 ? tail : 1 - tail;
}
