import type { SampleRange } from '../capture/waveform.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import type { Trace } from './conditioning.ts';
import { echoSigma } from './echo-sigma.ts';
import type { Model } from './model-draws.ts';
import { interferenceAt } from './neighbours.ts';
import { timeUncertaintyUs } from './time-uncertainty.ts';
import { unevennessOf } from './unevenness.ts';

/** Where the envelope rises through a threshold: `part` of the way from sample `upper` − 1 to `upper`. */
export interface Rise {
  readonly timeUs: number;
  readonly upper: number;
  readonly part: number;
}

/**
 * The first time in a range at which the envelope rises through a threshold, on the straight line between the samples
 * on either side. A fixed threshold meets a higher echo earlier (time walk): bring echoes to one height before their
 * crossings are compared.
 *
 *     envelope        _--.
 *     threshold ----x'----\----
 *                .-'
 *
 * @param range inside the trace
 * @param thresholdPercent above 0
 * @returns `null` where the threshold is never risen through. If the first sample of the range already stands at or
 * above the threshold, that is no crossing (the flank lies before the range), and only a later one counts: the caller
 * knows by `envelope[range.first] >= thresholdPercent`. Its uncertainty, which is the most of the work, is `riseUncertaintyUs`.
 * Source: common practice (flank timing); error of the straight line at most Δ²·max|x″|/8 in amplitude.
 */
export function firstRise(trace: Trace, range: SampleRange, thresholdPercent: number): Rise | null {
  const { envelope } = trace;
  const last = Math.min(envelope.length - 1, range.last);
  for (let i = Math.max(0, range.first) + 1; i <= last; i++) {
    const below = envelope[i - 1];
    const above = envelope[i];
    if (below < thresholdPercent && above >= thresholdPercent) return riseBetween(trace, i, thresholdPercent);
  }
  return null;
}

/**
 * Where the flank that leads up to one peak rises through a threshold: the last rise before it.
 * @param index of the peak's highest sample
 * @param ripple the envelope may rise by so much on the way down and still be the same flank
 * @returns `null` where the peak stays below the threshold, where its flank does not come down so far before another echo stands on it,
 * or where the record begins first
 */
export function flankRise(trace: Trace, index: number, thresholdPercent: number, ripple: number): Rise | null {
  const { envelope } = trace;
  if (envelope[index] < thresholdPercent) return null;
  let lowest = envelope[index];
  for (let i = index - 1; i >= 0; i--) {
    const value = envelope[i];
    if (value < thresholdPercent) return riseBetween(trace, i + 1, thresholdPercent);
    if (value > lowest + ripple) return null;
    lowest = Math.min(lowest, value);
  }
  return null;
}

function riseBetween(trace: Trace, upper: number, thresholdPercent: number): Rise {
  const below = trace.envelope[upper - 1];
  const above = trace.envelope[upper];
  const rise = above - below;
  // Counted back from the upper sample, which is exact when the threshold is met there.
  return {
    timeUs: trace.startUs + (upper - (above - thresholdPercent) / rise) * trace.stepUs,
    upper,
    part: (thresholdPercent - below) / rise,
  };
}

/** The flank's slope must rise by so many standard deviations of the noise over the samples it is taken from, or from half of σ to either side: its slope is then known to a tenth. */
const clearSlope = 16;
const widestSlope = 16;
/** Noise does not reach so many of its standard deviations. */
const clearRise = 8;

/** The flank of a filled-in half wave errs 1.75 times as far as its peak, and mostly early (measured: `tests/outside/half-wave.test.ts`). */
const flankFilling = 1.75;

/** The ripple of a short burst's envelope moves its flank so many times as far as its peak (measured: `tests/outside/timing-bias.test.ts`). */
const flankRipple = 1.4;

const rise = Float64Array.of(-1, 1);

/** Noise where the threshold is met, divided by the flank's slope. `null` where the trace has no quiet part. */
export function riseUncertaintyUs(trace: Trace, { upper, part }: Rise): number | null {
  const { envelope, noisePercent } = trace;
  const noise = noisePercent ?? 0;
  const top = summit(envelope, upper);
  const sigma = echoSigma(envelope, top, unevennessOf(trace));
  const widest = Math.min(widestSlope, Math.max(1, Math.round((sigma ?? widestSlope) / 2)));
  let slope = envelope[upper] - envelope[upper - 1];
  for (let half = 1; half <= widest && slope * 2 * half < clearSlope * noise; half++) {
    const wider = slopeAbout(envelope, upper, half);
    if (wider === null || !(wider > 0)) break;
    slope = wider;
  }
  const beside =
    sigma === null ? 0 : interferenceAt(envelope, top, sigma, unevennessOf(trace), upper - 1 + part).height / slope;
  return timeUncertaintyUs(
    trace,
    { first: upper - 3 * widestSlope, last: upper + 3 * widestSlope },
    {
      influence: Float64Array.of(-(1 - part) / slope, -part / slope),
      sigma,
      interpolation: hypot(straightLineError(envelope, upper, sigma) / slope, beside),
      leaning: 0,
      fillingFactor: flankFilling,
      rippleFactor: flankRipple,
      tilt: { weights: rise, bound: slope },
      model: () => flankModel(slope, noise, part),
    },
  );
}

/** Up the flank to where the envelope falls by a tenth again. */
function summit(envelope: Float64Array, upper: number): number {
  let highest = upper;
  for (let i = upper + 1; i < envelope.length && envelope[i] > 0.9 * envelope[highest]; i++) {
    if (envelope[i] > envelope[highest]) highest = i;
  }
  return highest;
}

/**
 * The flank's second difference over 8: the most that (1 − p)·p/2 is over the parts p of a sample, since it is early
 * every time. Of an echo as short as the samples are apart the difference sees less than there is: 1 + 1/σ² makes up for that (measured).
 */
function straightLineError(envelope: Float64Array, upper: number, sigma: number | null): number {
  if (upper < 2 || upper + 1 >= envelope.length) return 0;
  const bend = (envelope[upper - 2] - envelope[upper - 1] - envelope[upper] + envelope[upper + 1]) / 2;
  return (Math.abs(bend) / 8) * (sigma === null ? 1 : 1 + 1 / sigma ** 2);
}

/** Least-squares slope over the samples from `upper` − 1 − half to `upper` + half; `null` where they leave the record. */
function slopeAbout(envelope: Float64Array, upper: number, half: number): number | null {
  if (upper - 1 - half < 0 || upper + half >= envelope.length) return null;
  let product = 0;
  let square = 0;
  for (let k = -half - 1; k <= half; k++) {
    product += (k + 0.5) * envelope[upper + k];
    square += (k + 0.5) * (k + 0.5);
  }
  return product / square;
}

/** A straight flank through 0, long enough that noise does not reach the level from its foot. */
function flankModel(slope: number, noise: number, part: number): Model {
  const reach = Math.min(128, Math.ceil((clearRise * noise) / slope) + 2);
  const middle = reach + part;
  return {
    envelope: Float64Array.from({ length: 2 * reach + 2 }, (_, k) => slope * (k - middle)),
    find: (noisy) => {
      for (let k = 1; k < noisy.length; k++) {
        if (noisy[k - 1] < 0 && noisy[k] >= 0) return k - noisy[k] / (noisy[k] - noisy[k - 1]) - middle;
      }
      return null;
    },
  };
}
