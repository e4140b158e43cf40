import type { Rectification } from '../capture/waveform.ts';
import { cos } from '../elementary/trigonometric.ts';
import { filterBlockInto, powerSpectrum, transformSize } from './fft.ts';

/**
 * What a rectifier took away, put back as far as the record allows, so that its envelope is the analytic signal's and
 * not a smoothed guess.
 *
 * - `full`: the RF changes sign wherever the record touches the base line in a cusp. The signs are chosen that leave the
 *   curve most like a carrier; the result is the RF up to one sign for a whole burst, which the envelope does not see.
 * - `positive`, `negative`: a half wave is half the RF, plus half its modulus; the modulus lives near 0 and near twice
 *   the carrier, so a band about the carrier (0.5 to 1.5 times, raised-cosine edges), taken twice, is the RF. Where the
 *   bandwidth is wide the neighbours leak in.
 * - `rf`: as it is. `envelope`: there is no carrier to be had.
 *
 * Measured on Gaussian bursts, see `tests/outside/timing-against-truth.test.ts` for the table: bias of time and amplitude.
 */
export function carrierOf(samples: Float64Array, rectification: Rectification): Float64Array {
  if (rectification === 'full') return withSigns(samples);
  if (rectification === 'positive' || rectification === 'negative') return aboutCarrier(samples);
  return samples;
}

/**
 * The signs that make a fully rectified record most like a carrier: of all choices the one with the least
 * Σ (x(k−1) − 2·cos(ω)·x(k) + x(k+1))², which is 0 for a sine of ω radians to the sample. What matters is whether the
 * sign changes from one sample to the next: two states for each sample, the best way to each of them remembered
 * (dynamic programming; Bellman 1957, from memory).
 */
function withSigns(rectified: Float64Array): Float64Array {
  const count = rectified.length;
  const signed = rectified.slice();
  if (count < 3) return signed;
  const doubled = 2 * cos(rectifiedCarrier(rectified));
  /** For sample k, sign kept or changed against k − 1: was it kept or changed one sample before, on the best way here? */
  const changedBefore = new Uint8Array(2 * count);
  let kept = 0;
  let changed = 0;
  for (let k = 1; k + 1 < count; k++) {
    const a = rectified[k - 1];
    const b = doubled * rectified[k];
    const c = rectified[k + 1];
    const keptKept = kept + (a - b + c) ** 2;
    const changedKept = changed + (a + b - c) ** 2;
    const keptChanged = kept + (a - b - c) ** 2;
    const changedChanged = changed + (a + b + c) ** 2;
    changedBefore[2 * (k + 1)] = changedKept < keptKept ? 1 : 0;
    changedBefore[2 * (k + 1) + 1] = changedChanged < keptChanged ? 1 : 0;
    kept = Math.min(keptKept, changedKept);
    changed = Math.min(keptChanged, changedChanged);
  }
  const changes = new Uint8Array(count);
  let state = changed < kept ? 1 : 0;
  for (let k = count - 1; k >= 1; k--) {
    changes[k] = state;
    if (k >= 2) state = changedBefore[2 * k + state];
  }
  let sign = 1;
  for (let k = 1; k < count; k++) {
    if (changes[k] === 1) sign = -sign;
    signed[k] *= sign;
  }
  return signed;
}

/**
 * Radians to the sample of the carrier that was rectified: half of what its square repeats at, in which noise counts for
 * less beside an echo than in the modulus. 0 where there is none.
 */
function rectifiedCarrier(rectified: Float64Array): number {
  const size = transformSize(rectified.length);
  const squares = rectified.map((value) => value * value);
  const bin = carrierBin(powerSpectrum(squares, 0, squares.length, size));
  return bin === null ? 0 : (Math.PI * bin) / size;
}

/** Rounds of filling the missing half waves. */
const fillingRounds = 12;

/**
 * The RF of a positive half wave. A first guess is twice the part that lies about the carrier: a half wave is half the
 * RF, and half its modulus, which lives near 0 and near twice the carrier. Then, in turn: what the record shows is put
 * back, what it does not show is kept from rising above 0, and all is held to the band about the carrier.
 * Source: Papoulis 1975 and Gerchberg 1974, extrapolation of band-limited signals (from memory).
 */
function aboutCarrier(halfWave: Float64Array): Float64Array {
  const count = halfWave.length;
  const size = transformSize(2 * count);
  const padded = new Float64Array(size);
  padded.set(halfWave);
  const centre = carrierBin(powerSpectrum(padded, 0, size, size));
  const carrier = new Float64Array(count);
  if (centre === null) return carrier;
  const quadrature = new Float64Array(count);
  const gainOf = (inner: number, outer: number, scale: number) =>
    Float64Array.from({ length: size / 2 + 1 }, (_, k) => scale * bandAbout(k / centre, inner, outer));
  const whole = { samples: padded, from: 0, count, at: 0 };
  filterBlockInto(carrier, quadrature, whole, size, gainOf(0.35, 0.65, 2));
  const gain = gainOf(0.7, 0.95, 1);
  for (let round = 0; round < fillingRounds; round++) {
    for (let i = 0; i < count; i++) padded[i] = halfWave[i] > 0 ? halfWave[i] : Math.min(0, carrier[i]);
    filterBlockInto(carrier, quadrature, whole, size, gain);
  }
  return carrier;
}

/**
 * The bin at which a rectified record repeats. A half wave has three humps (0, carrier, twice the carrier), and the
 * carrier's is highest once the power is weighted by the frequency; a full wave has two, and that of twice the carrier is.
 */
function carrierBin(power: Float64Array): number | null {
  let best = 0;
  for (let k = 1; k < power.length; k++) if (k * power[k] > best * power[best]) best = k;
  return best === 0 ? null : best;
}

/** 1 while the ratio to the carrier is within `inner` of 1, a raised-cosine edge to 0 at `outer`. */
function bandAbout(ratio: number, inner: number, outer: number): number {
  const outside = (Math.abs(ratio - 1) - inner) / (outer - inner);
  if (outside <= 0) return 1;
  return outside >= 1 ? 0 : (1 + cos(Math.PI * outside)) / 2;
}
