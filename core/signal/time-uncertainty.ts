import type { SampleRange } from '../capture/waveform.ts';
import { exp } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { acos } from '../elementary/trigonometric.ts';
import type { Trace } from './conditioning.ts';
import { type Model, spreadOnModel } from './model-draws.ts';
import { carrierOfTrace, levelAbout, levelAt, noiseCorrelationOf, spreadOf } from './noise-correlation.ts';

/*
 * How sure a time is, from the record's own noise.
 *
 * Near an echo the envelope is A·g(t) + n(t), where n is the noise component in phase with the carrier. A time made
 * from envelope samples moves by Σ wₖ·nₖ (w: the influence of each sample), so its variance is
 * Σ wⱼ·wₖ·R(j − k) with R(l) = ½·Re[C(l)·exp(−iω₀l)], C being the correlation of the analytic noise and ω₀ the echo's
 * carrier. C comes from the quiet part itself, white or coloured; where that is quieter than the converter's own
 * rounding, an echo still crosses many counts, and rounding noise of q²/12 is put in its place, through the band-pass
 * if there is one. For white RF noise of σ² per sample R has the in-phase density 2σ²/fs.
 *
 * Where the noise dies away along the record (grain), it is brought to what it is at the echo.
 *
 * That holds while noise only tilts the top or the flank. Where it decides which sample is the highest, or the first
 * above a threshold, the time is found anew on a smooth model of the echo to which pieces of the quiet part are added,
 * and the root mean square of what comes out is stated.
 */

/** What a time was made from, and how to make it again. */
export interface Timed {
  /** Of each sample used on the time, in samples for 1 %. */
  readonly influence: Float64Array;
  /** Of the echo, in samples; `null` where it could not be had. */
  readonly sigma: number | null;
  /** What the interpolation itself errs by, in samples. */
  readonly interpolation: number;
  /** How much worse the missing half of a half wave, as it is filled in, is where this time is read than at the peak. */
  readonly fillingFactor: number;
  /** How much farther the ripple of a short burst's envelope moves this time than the peak. */
  readonly rippleFactor: number;
  /** How far the method lies aside on an echo that leans, in samples, as far as noise leaves it be seen. */
  readonly leaning: number;
  /** A model of the echo without noise, and the method on it. */
  readonly model: () => Model | null;
  /** The combination of the samples whose noise must stay well below `bound` for the influence to hold. */
  readonly tilt: { readonly weights: Float64Array; readonly bound: number };
}

/** Noise that moves the tilt by more than this part of its bound is no longer small. */
const smallTilt = 0.2;

/**
 * What leans by less than this part of the spread is noise: leaning is told from two windows' vertices, which noise moves
 * apart by 0.3 of the spread (derived, and tried), and twice that is exceeded in one of twenty.
 */
const leansBeyond = 0.6;

/** Noise that a half wave does not show: measured, u is then 1.4 (white noise) to 2.1 times (probe-shaped) the spread. */
const halfWaveFactor = 2;

/**
 * Standard uncertainty in µs of a time made from envelope samples.
 * @param about samples of the echo around which its carrier is measured
 * @returns `null` where the trace has no quiet part to measure its noise in
 * Source: linear propagation, JCGM 100:2008 section 5 (from memory); beyond it resampling of the record's own noise.
 */
export function timeUncertaintyUs(trace: Trace, about: SampleRange, timed: Timed): number | null {
  const noise = noiseCorrelationOf(trace);
  if (noise === null) return null;
  const radians = trace.rectification === 'envelope' ? 0 : carrierRadians(trace, about);
  const level = levelAbout(trace, noise, Math.round((about.first + about.last) / 2));
  let spread = level * spreadOf(timed.influence, noise, radians);
  if (level * spreadOf(timed.tilt.weights, noise, radians) > smallTilt * timed.tilt.bound) {
    const model = timed.model();
    const against = (middle: number) => level / levelAt(noise.trend, middle);
    spread = (model && spreadOnModel(trace, model, against, radians)) ?? spread;
  }
  if (isHalfWave(trace)) spread *= halfWaveFactor;
  const method = timed.sigma === null || radians === 0 ? 0 : methodError(trace, timed.sigma, radians, timed);
  const leaning = timed.leaning > leansBeyond * spread ? timed.leaning : 0;
  return hypot(spread, method, timed.interpolation, leaning) * trace.stepUs;
}

/**
 * Carrier of an echo in radians for each sample, from samples about its peak: for any sine of any phase
 * x(k−1) + x(k+1) = 2·cos(ω)·x(k), here in the least-squares sense. Source: derived.
 */
export function carrierRadians(trace: Trace, from: SampleRange): number {
  const samples = carrierOfTrace(trace);
  const last = Math.min(samples.length - 2, from.last);
  let square = 0;
  let product = 0;
  for (let k = Math.max(1, from.first); k <= last; k++) {
    square += samples[k] * samples[k];
    product += samples[k] * (samples[k - 1] + samples[k + 1]);
  }
  return square > 0 ? acos(Math.max(-1, Math.min(1, product / (2 * square)))) : 0;
}

/**
 * What is left without any noise, in samples: root mean square over all phases of the carrier, measured on Gaussian
 * bursts, with x = ω₀·σ (3.93 at 60 % bandwidth, 2.94 at 80 %).
 * - The analytic signal of a short burst ripples at twice the carrier by exp(−x²/2), because its spectrum reaches below
 *   zero frequency: 0.36 of that, times σ (0.01 ns at 5 MHz and 60 %, 0.3 ns at 80 %, 1 ns at 100 %), with x as it is
 *   measured, which comes out a twelfth too large of a burst so short. As much comes from above half the sampling rate,
 *   with (π − ω₀)·σ in the place of x.
 * - A half wave's missing half is filled in: 0.115·exp(−1.25·(x − 3.92)) times σ (8 ns at 5 MHz and 60 %, 0.2 ns at 30 %).
 *   The flank comes early as well, see `tests/outside/half-wave.test.ts`.
 */
function methodError(trace: Trace, sigma: number, radians: number, { fillingFactor, rippleFactor }: Timed): number {
  const x = radians * sigma;
  const y = (Math.PI - radians) * sigma;
  const ripple = rippleFactor * 0.36 * sigma * hypot(exp(-0.5 * x * x), exp(-0.5 * y * y));
  return isHalfWave(trace) ? ripple + fillingFactor * 0.115 * sigma * exp(-1.25 * (x - 3.92)) : ripple;
}

export function isHalfWave(trace: Trace): boolean {
  return trace.rectification === 'positive' || trace.rectification === 'negative';
}
