import { exp, log, log1p } from '../elementary/exponential.ts';
import { invariant } from '../invariant.ts';

/** Coefficients of Lanczos's approximation for g = 7 (from memory; checked against SciPy in the test of Welch's t). */
const lanczos = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];

/** ln Γ(x) for x ≥ 0.5, to 13 digits. Source: Lanczos 1964, SIAM J. Numer. Anal. 1, 86 (from memory). */
function logGamma(x: number): number {
  const y = x - 1;
  let sum = lanczos[0];
  for (let k = 1; k < lanczos.length; k++) sum += lanczos[k] / (y + k);
  const t = y + 7.5;
  return log(Math.sqrt(2 * Math.PI) * sum) + (y + 0.5) * log(t) - t;
}

/**
 * The regularised incomplete beta function I_x(a, b) for a, b ≥ 0.5 and 0 ≤ x ≤ 1.
 * Source: continued fraction of DLMF 8.17.22, evaluated forward by Lentz's method (both from memory); symmetry 8.17.4 where that converges faster.
 */
export function incompleteBeta(x: number, a: number, b: number): number {
  invariant(a >= 0.5 && b >= 0.5 && x >= 0 && x <= 1, 'the incomplete beta function is asked for outside its range');
  if (x === 0 || x === 1) return x;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = exp(a * log(x) + b * log1p(-x) + logGamma(a + b) - logGamma(a) - logGamma(b));
  const tiny = 1e-300;
  const nonZero = (value: number) => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / nonZero(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m < 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / nonZero(1 + even * d);
    c = nonZero(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / nonZero(1 + odd * d);
    c = nonZero(1 + odd / c);
    fraction *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) break;
  }
  return (front * fraction) / a;
}
