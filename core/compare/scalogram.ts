import { exp, power } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { analyticSignal, realSpectrum, transformSize } from '../signal/fft.ts';
import type { TimeFrequency } from './spectrogram.ts';

/** Angular frequency of the Morlet wavelet in its own width: 6 keeps its mean below 1e-7 (common practice). */
export const morletOmega = 6;

/**
 * Wavelet scalogram with the analytic Morlet wavelet ψ̂(s·ω) = exp(−(s·ω − 6)²/2) for ω > 0, s = 6/(2πf): for each frequency the record is
 * filtered by a Gaussian band of relative width f/6 (standard deviation) and its modulus taken. A steady sine of amplitude A reads A at its own frequency.
 * The record is padded with zeros to twice its length, so that its ends do not meet.
 * @param frequenciesMHz above 0, one row each
 * @param every a column for each so many samples
 * Source: Torrence & Compo 1998, Bull. Amer. Meteor. Soc. 79, 61 (from memory), here with unit amplitude in place of unit energy.
 */
export function scalogram(
  record: { readonly samples: Float64Array; readonly startUs: number; readonly stepUs: number },
  frequenciesMHz: Float64Array,
  every = 1,
): TimeFrequency {
  const { samples, startUs, stepUs } = record;
  const size = transformSize(2 * samples.length);
  const spectrum = realSpectrum(samples, 0, samples.length, size);
  const columns = Math.ceil(samples.length / every);
  const rows = frequenciesMHz.length;
  const values = new Float64Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    const scale = morletOmega / (2 * Math.PI * frequenciesMHz[row]);
    const gain = spectrum.real.map((_, k) => {
      if (k === 0) return 0;
      const omega = (2 * Math.PI * k) / (size * stepUs);
      return exp(-0.5 * (scale * omega - morletOmega) ** 2);
    });
    const { real, imaginary } = analyticSignal(
      {
        real: spectrum.real.map((value, k) => value * gain[k]),
        imaginary: spectrum.imaginary.map((value, k) => value * gain[k]),
      },
      size,
    );
    for (let column = 0; column < columns; column++)
      values[column * rows + row] = hypot(real[column * every], imaginary[column * every]);
  }
  return {
    method: 'Morlet wavelet, ω₀ = 6',
    timesUs: Float64Array.from({ length: columns }, (_, c) => startUs + c * every * stepUs),
    frequenciesMHz,
    values,
  };
}

/** Frequencies from the lowest to the highest, evenly in their logarithm. */
export function logarithmicFrequencies(fromMHz: number, toMHz: number, count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, k) => fromMHz * power(toMHz / fromMHz, k / Math.max(1, count - 1)));
}
