import type { Rectification } from '../capture/waveform.ts';
import { filterBlockInto, powerSpectrum, transformSize } from './fft.ts';

/**
 * What a rectifier took away, put back as far as the record allows, so that its envelope is the analytic signal's and
 * not a smoothed guess.
 *
 * - `full`: the RF changes sign wherever the record touches the base line in a cusp. At each local minimum the signs are
 *   chosen that leave the smoothest curve; the result is the RF up to one sign for a whole burst, which the envelope
 *   does not see.
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

/** The signs that make a fully rectified record smooth. At a local minimum: none, a change before it, or after it. */
function withSigns(rectified: Float64Array): Float64Array {
  const count = rectified.length;
  const signed = new Float64Array(count);
  let sign = 1;
  for (let i = 0; i < count; i++) {
    if (i >= 2 && i + 2 < count && rectified[i] <= rectified[i - 1] && rectified[i] < rectified[i + 1]) {
      const a = sign * signed[i - 2];
      const b = sign * signed[i - 1];
      const [c, d, e] = [rectified[i], rectified[i + 1], rectified[i + 2]];
      const kept = roughness(a, b, c, d, e);
      const before = roughness(a, b, -c, -d, -e);
      const after = roughness(a, b, c, -d, -e);
      if (before < kept && before <= after) sign = -sign;
      signed[i] = sign * rectified[i];
      if (after < kept && after < before) sign = -sign;
    } else {
      signed[i] = sign * rectified[i];
    }
  }
  return signed;
}

function roughness(a: number, b: number, c: number, d: number, e: number): number {
  return (a - 2 * b + c) ** 2 + (b - 2 * c + d) ** 2 + (c - 2 * d + e) ** 2;
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
 * The bin of a half wave's carrier. Of its three humps (0, carrier, twice the carrier) the carrier's is highest once
 * the power is weighted by the frequency: for a sine 0.06 against at most 0.04 of the others.
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
  return outside >= 1 ? 0 : (1 + Math.cos(Math.PI * outside)) / 2;
}
