import { hypot } from '../elementary/hypotenuse.ts';
import { type SpectrumWindow, windowWeights } from '../probe/window.ts';
import { realSpectrum, transformSize } from '../signal/fft.ts';

/** A picture of how the spectrum of a record goes along it: one column for each time, one row for each frequency. */
export interface TimeFrequency {
  readonly method: string;
  readonly timesUs: Float64Array;
  readonly frequenciesMHz: Float64Array;
  /** Amplitude by column, then row: `values[column · rows + row]`. */
  readonly values: Float64Array;
}

export interface SpectrogramSettings {
  readonly window: SpectrumWindow;
  /** Samples in each piece. */
  readonly length: number;
  /** Samples from one piece to the next. */
  readonly hop: number;
  /** Each piece is padded to the next power of two from so many times its length. */
  readonly padding: number;
}

/**
 * Short-time Fourier transform: |Σ w(n)·x(n)·exp(−iωn)| of pieces that overlap, each divided by Σ w, so that a steady sine of amplitude A reads A/2.
 * Pieces lie wholly inside the record; a column stands at the middle of its piece. As SciPy's `spectrogram` with `mode='magnitude'`,
 * `scaling='spectrum'`, `detrend=False`.
 * @returns no columns where the record is shorter than a piece
 * Source: Allen 1977 (from memory); checked against SciPy.
 */
export function spectrogram(
  record: { readonly samples: Float64Array; readonly startUs: number; readonly stepUs: number },
  { window, length, hop, padding }: SpectrogramSettings,
): TimeFrequency {
  const { samples, startUs, stepUs } = record;
  const weights = windowWeights(window, length);
  const sum = weights.reduce((total, weight) => total + weight, 0);
  const size = transformSize(padding * length);
  const rows = size / 2 + 1;
  const columns = samples.length < length ? 0 : Math.floor((samples.length - length) / hop) + 1;
  const values = new Float64Array(columns * rows);
  const piece = new Float64Array(length);
  for (let column = 0; column < columns; column++) {
    for (let k = 0; k < length; k++) piece[k] = weights[k] * samples[column * hop + k];
    const { real, imaginary } = realSpectrum(piece, 0, length, size);
    for (let row = 0; row < rows; row++) values[column * rows + row] = hypot(real[row], imaginary[row]) / sum;
  }
  return {
    method: 'short-time Fourier transform',
    timesUs: Float64Array.from({ length: columns }, (_, c) => startUs + (c * hop + (length - 1) / 2) * stepUs),
    frequenciesMHz: Float64Array.from({ length: rows }, (_, row) => row / (size * stepUs)),
    values,
  };
}
