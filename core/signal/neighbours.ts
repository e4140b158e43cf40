import { exp } from '../elementary/exponential.ts';
import { localMaxima } from './prominence.ts';

/** Farther than so many σ a Gaussian echo has nothing left to give: exp(−12.5). */
const farthestInSigma = 5;
/** Two echoes nearer than so many σ show one top, unevenly: what stands out there is noise, or the two undo each other. */
const nearestInSigma = 1.5;
/** So many times as far as noise makes a top uneven must an echo stand out to be one. */
const clearlyOut = 2;

export interface Interference {
  /** What echoes beside this one add here, as a standard uncertainty: in or out of step with it, nobody knows. In % FSH. */
  readonly height: number;
  /** And to its slope, in % for each sample. */
  readonly slope: number;
}

/**
 * What the echoes beside one add to its envelope at a place: each as high as it shows, as wide as this one and at any
 * phase of its carrier, B·exp(−d²/2σ²)·cos φ, whose root mean square over φ is 1/√2 of its height.
 *
 *     B   .'.      .-'-.   A
 *        /   \   .'     '.
 *     __/     \_/         \__     d from B to the place
 *
 * @param summit the highest sample of the echo itself
 * @param unevenness of its top by noise: what stands out less than twice as far is no echo
 * Source: derived from two Gaussian bursts of one carrier.
 */
export function interferenceAt(
  envelope: Float64Array,
  summit: number,
  sigma: number,
  unevenness: number,
  place: number,
): Interference {
  const reach = Math.ceil(farthestInSigma * sigma);
  const range = { first: Math.max(0, summit - reach), last: Math.min(envelope.length - 1, summit + reach) };
  let height = 0;
  let slope = 0;
  for (const { index } of localMaxima(envelope, range, clearlyOut * unevenness, clearlyOut * unevenness)) {
    if (Math.abs(index - summit) < nearestInSigma * sigma) continue;
    const away = (place - index) / sigma;
    const left = envelope[index] * exp(-0.5 * away * away);
    height += left * left;
    slope += ((left * away) / sigma) ** 2;
  }
  return { height: Math.sqrt(height / 2), slope: Math.sqrt(slope / 2) };
}
