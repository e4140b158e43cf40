import { atan, cos, sin } from '../elementary/trigonometric.ts';
import { invariant } from '../invariant.ts';

/**
 * The probability that |t| of Student's distribution with a whole number of degrees of freedom is at least `t`, either sign: the p value of a two-sided
 * test. `tBeyond(12.706, 1)` is 0.05. Good to 14 decimals, so nothing can be told of p below 1e-14.
 * Source: Abramowitz & Stegun (1964), 26.7.3 and 26.7.4.
 */
export function tBeyond(t: number, degreesOfFreedom: number): number {
  invariant(!Number.isNaN(t), 'a probability is asked for beyond no number');
  requireDegrees(degreesOfFreedom);
  return Math.max(0, 1 - probabilityWithin(atan(Math.abs(t) / Math.sqrt(degreesOfFreedom)), degreesOfFreedom));
}

export function requireDegrees(degreesOfFreedom: number): void {
  invariant(
    Number.isInteger(degreesOfFreedom) && degreesOfFreedom >= 1,
    'degrees of freedom must be whole and positive',
  );
}

/** P(|t| < √ν · tan θ). */
export function probabilityWithin(angle: number, degreesOfFreedom: number): number {
  const cosine = cos(angle);
  const odd = degreesOfFreedom % 2 === 1;
  let term = odd ? cosine : 1;
  let sum = degreesOfFreedom === 1 ? 0 : term;
  for (let k = odd ? 3 : 2; k < degreesOfFreedom; k += 2) {
    term *= ((k - 1) / k) * cosine * cosine;
    sum += term;
  }
  return odd ? (2 / Math.PI) * (angle + sin(angle) * sum) : sin(angle) * sum;
}
