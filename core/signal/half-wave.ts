import { log } from '../elementary/exponential.ts';
import type { Trace } from './conditioning.ts';
import { echoSigma } from './echo-sigma.ts';
import { carrierRadians, isHalfWave } from './time-uncertainty.ts';
import { threePoint } from './vertex.ts';

/** From a bandwidth of 64 % on the height of a filled-in half wave errs by 1 dB (measured: `tests/outside/half-wave.test.ts`). */
const fewestRadians = 3.7;
/** A crest lower than this part of the highest is as good as none. */
const leastCrest = 1e-3;

/**
 * Whether a half wave is too short for its missing half to be filled in. Filling in makes it look longer than it is; its
 * own crests, one period apart, do not: of a Gaussian burst the logarithms of three of them have the second difference
 * −(T/σ)², whatever the phase of its carrier.
 *
 *     samples       ^
 *                 ^ | ^         T between crests
 *             ____|_|_|_^__     left out: every other half wave
 *
 * Source: derived from A·exp(−t²/2σ²)·cos(ω₀·t + φ).
 */
export function isTooShortToFillIn(trace: Trace, index: number): boolean {
  if (!isHalfWave(trace)) return false;
  const { samples } = trace;
  const sigma = echoSigma(trace.envelope, index);
  if (sigma === null) return false;
  const radians = carrierRadians(trace, { first: Math.floor(index - sigma), last: Math.ceil(index + sigma) });
  if (radians === 0) return false;
  const period = (2 * Math.PI) / radians;
  const middle = highestAbout(samples, index, 0.75 * period);
  const top = crestAt(samples, middle);
  if (!(top > 0)) return false;
  const beside = (from: number) => {
    const crest = crestAt(samples, highestAbout(samples, from, period / 4));
    return log(Math.max(leastCrest, crest / top));
  };
  const secondDifference = beside(middle - period) + beside(middle + period);
  return 2 * Math.PI < fewestRadians * Math.sqrt(Math.max(0, -secondDifference));
}

function highestAbout(samples: Float64Array, from: number, reach: number): number {
  const first = Math.max(0, Math.ceil(from - reach));
  const last = Math.min(samples.length - 1, Math.floor(from + reach));
  let highest = Math.min(first, samples.length - 1);
  for (let i = first + 1; i <= last; i++) if (samples[i] > samples[highest]) highest = i;
  return highest;
}

/** Between samples where it can be had. */
function crestAt(samples: Float64Array, index: number): number {
  return threePoint(samples, index)?.amplitudePercent ?? samples[index];
}
