import { log } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { cos, sin } from '../elementary/trigonometric.ts';
import { realSpectrum, transformSize } from '../signal/fft.ts';
import { correlationOf, type NoiseForm, noisePower } from './noise-form.ts';
import { type SpectrumSettings, windowWeights } from './window.ts';

/** A gated echo, its base line taken out and weighted by a window, with its amplitude spectrum. */
export interface AmplitudeSpectrum {
  readonly stepUs: number;
  /** What the spectrum was taken of. */
  readonly weighted: Float64Array;
  readonly weights: Float64Array;
  /** |X| · step at k · `stepMHz`, from 0 to half the sampling rate, in % FSH · µs. */
  readonly amplitude: Float64Array;
  readonly stepMHz: number;
  /** Two frequencies nearer than this are not told apart: one over the gate’s length. */
  readonly resolutionMHz: number;
  /** Root mean square of the noise’s own spectrum at the same frequencies; `null` where the noise is not known. */
  readonly noiseAmplitudeAt: ((frequencyMHz: number) => number) | null;
}

/** So much of a gate at either end tells its base line: an echo that lies whole in the gate does not reach there. */
const edgeShare = 0.1;

const edgeOf = (count: number): number => Math.max(1, Math.floor(edgeShare * count));

/**
 * Amplitude spectrum of a stretch of samples: base line taken out, window, zeros behind, discrete Fourier transform. The base line is the mean of
 * the outer tenths, not of all samples: a broad-band echo has a mean of its own, which is part of its spectrum (taken out, it moved the lower
 * limit of a damped sine of 0.8 periods by 0.5 %).
 * @param samples in % FSH @param noise of the record about the echo
 * Source: ASTM E1065 leaves window and padding open (from memory); zero-padding at least eightfold is common practice.
 */
export function amplitudeSpectrum(
  samples: Float64Array,
  stepUs: number,
  settings: SpectrumSettings,
  noise: NoiseForm | null,
): AmplitudeSpectrum {
  const count = samples.length;
  const edge = edgeOf(count);
  let base = 0;
  for (let k = 0; k < edge; k++) base += (samples[k] + samples[count - 1 - k]) / (2 * edge);
  const weights = windowWeights(settings.window, count);
  const weighted = samples.map((sample, k) => (sample - base) * weights[k]);
  const size = transformSize(Math.max(1, settings.padding) * count);
  const { real, imaginary } = realSpectrum(weighted, 0, count, size);
  const amplitude = real.map((part, k) => hypot(part, imaginary[k]) * stepUs);
  return {
    stepUs,
    weighted,
    weights,
    amplitude,
    stepMHz: 1 / (size * stepUs),
    resolutionMHz: 1 / (count * stepUs),
    noiseAmplitudeAt: noise === null ? null : noiseAmplitude(noise, weights, stepUs),
  };
}

function noiseAmplitude(noise: NoiseForm, weights: Float64Array, stepUs: number): (frequencyMHz: number) => number {
  const correlation = correlationOf(weights, noise.covariance.length);
  return (frequencyMHz) => stepUs * Math.sqrt(noisePower(noise, correlation, 2 * Math.PI * frequencyMHz * stepUs));
}

/** The transform at one frequency, and how the logarithm of its modulus bends there, by radians for each sample. */
export interface SpectrumAt {
  readonly real: number;
  readonly imaginary: number;
  /** ln |X| and its first two derivatives. */
  readonly logarithm: number;
  readonly slope: number;
  readonly curvature: number;
  /** Of each sample of the gate (before the window) on ln |X|, and on its slope. */
  readonly influence: () => Float64Array;
  readonly slopeInfluence: () => Float64Array;
}

/** Exact at any frequency, so that no figure depends on how far the record was padded. */
export function spectrumAt({ weighted, weights }: AmplitudeSpectrum, radians: number): SpectrumAt {
  const count = weighted.length;
  const middle = (count - 1) / 2;
  // Moments Σ κᵐ·y·exp(−iωκ), κ counted from the middle so that the derivatives stay small.
  const moments = new Float64Array(6);
  for (let k = 0; k < count; k++) {
    const away = k - middle;
    const c = weighted[k] * cos(radians * away);
    const s = -weighted[k] * sin(radians * away);
    moments[0] += c;
    moments[1] += s;
    moments[2] += away * c;
    moments[3] += away * s;
    moments[4] += away * away * c;
    moments[5] += away * away * s;
  }
  const [real, imaginary] = moments;
  const square = real * real + imaginary * imaginary;
  // X' = −i·S₁ and X'' = −S₂; q = X'/X, p = X''/X.
  const qReal = (moments[3] * real - moments[2] * imaginary) / square;
  const qImaginary = (-moments[2] * real - moments[3] * imaginary) / square;
  const pReal = -(moments[4] * real + moments[5] * imaginary) / square;
  const influenceOf = (of: (c: number, s: number, away: number) => number): Float64Array => {
    const influence = new Float64Array(count);
    let sum = 0;
    for (let k = 0; k < count; k++) {
      const away = k - middle;
      influence[k] = weights[k] * of(cos(radians * away), -sin(radians * away), away);
      sum += influence[k];
    }
    // The base line is taken out before the window: a sample at an edge moves all others by its share in it.
    const edge = edgeOf(count);
    for (let k = 0; k < edge; k++) {
      influence[k] -= sum / (2 * edge);
      influence[count - 1 - k] -= sum / (2 * edge);
    }
    return influence;
  };
  // Re(e/X) = (real·c + imaginary·s)/|X|², Im(e/X) = (real·s − imaginary·c)/|X|².
  const overReal = (c: number, s: number) => (real * c + imaginary * s) / square;
  const overImaginary = (c: number, s: number) => (real * s - imaginary * c) / square;
  return {
    real,
    imaginary,
    logarithm: log(square) / 2,
    slope: qReal,
    curvature: pReal - (qReal * qReal - qImaginary * qImaginary),
    influence: () => influenceOf(overReal),
    // d(X'/X) = dX'/X − dX·X'/X², with dX' = −iκ·e.
    slopeInfluence: () =>
      influenceOf((c, s, away) => {
        const a = overReal(c, s);
        const b = overImaginary(c, s);
        return away * b - (a * qReal - b * qImaginary);
      }),
  };
}
