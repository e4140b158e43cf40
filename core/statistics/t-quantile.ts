import { tan } from '../elementary/trigonometric.ts';
import { invariant } from '../invariant.ts';
import { probabilityWithin, requireDegrees } from './t-probability.ts';

/**
 * The value that Student's t with a whole number of degrees of freedom stays below with probability p, 0 < p < 1:
 * tQuantile(0.975, 1) = 12.706. Good to 12 digits for p from 0.0001 to 0.9999.
 * The closed sums of Abramowitz & Stegun (1964), 26.7.3 and 26.7.4, inverted by halving the angle θ = atan(t/√ν).
 * An effective number of degrees of freedom is cut to the next lower whole number (JCGM 100:2008 (GUM), G.4.2).
 */
export function tQuantile(p: number, degreesOfFreedom: number): number {
  invariant(p > 0 && p < 1, 'a quantile is asked for outside 0 … 1');
  requireDegrees(degreesOfFreedom);
  if (p < 0.5) return -tQuantile(1 - p, degreesOfFreedom);
  const wanted = 2 * p - 1;
  let low = 0;
  let high = Math.PI / 2;
  for (;;) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) return Math.sqrt(degreesOfFreedom) * tan(middle);
    if (probabilityWithin(middle, degreesOfFreedom) < wanted) low = middle;
    else high = middle;
  }
}
