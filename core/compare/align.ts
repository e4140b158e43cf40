import { analyticSignal, realSpectrum, transformSize } from '../signal/fft.ts';

/** One waveform on its own time axis. */
export interface TimedWaveform {
  readonly startUs: number;
  readonly stepUs: number;
  readonly samples: Float64Array;
}

/** How far one waveform lies behind another, and how alike they are there. */
export interface Alignment {
  readonly by: 'cross-correlation' | 'envelope-peak';
  /** To be taken off the times of the second for it to lie on the first. */
  readonly shiftUs: number;
  /** Normalised cross-correlation at that shift, −1 to 1; `null` where it was not worked out. */
  readonly correlation: number | null;
}

/** Points for each sample between which the correlation's vertex is found. */
const pointsForSample = 8;

/**
 * The shift at which two waveforms are most alike: highest cross-correlation, of positive sign, between samples (band-limited interpolation, then
 * a parabola). The second is brought onto the first's steps first.
 *
 *     first   ___/\/\____
 *     second  _____/\/\__     shift > 0: the second lies behind
 *
 * @returns `null` where one of them is nothing but 0
 * Source: common practice; normalised by both energies.
 */
export function alignByCorrelation(first: TimedWaveform, second: TimedWaveform): Alignment | null {
  const other = resampled(second, first.stepUs);
  const size = transformSize(first.samples.length + other.samples.length);
  const a = realSpectrum(first.samples, 0, first.samples.length, size);
  const b = realSpectrum(other.samples, 0, other.samples.length, size);
  const product = {
    real: a.real.map((value, k) => value * b.real[k] + a.imaginary[k] * b.imaginary[k]),
    imaginary: a.real.map((value, k) => value * b.imaginary[k] - a.imaginary[k] * b.real[k]),
  };
  const energy = Math.sqrt(energyOf(first.samples) * energyOf(other.samples));
  if (!(energy > 0)) return null;
  const fine = size * pointsForSample;
  const { real } = analyticSignal(product, fine);
  let highest = 0;
  for (let i = 1; i < fine; i++) if (real[i] > real[highest]) highest = i;
  const before = real[(highest + fine - 1) % fine];
  const after = real[(highest + 1) % fine];
  const bend = before - 2 * real[highest] + after;
  const offset = bend < 0 ? (before - after) / (2 * bend) : 0;
  const lag = (highest > fine / 2 ? highest - fine : highest) + offset;
  return {
    by: 'cross-correlation',
    shiftUs: (lag / pointsForSample) * first.stepUs + other.startUs - first.startUs,
    correlation: Math.min(1, (real[highest] - ((before - after) * offset) / 4) / energy),
  };
}

/** The shift from one envelope peak to the other. */
export function alignByPeak(firstPeakUs: number, secondPeakUs: number): Alignment {
  return { by: 'envelope-peak', shiftUs: secondPeakUs - firstPeakUs, correlation: null };
}

function energyOf(samples: Float64Array): number {
  let energy = 0;
  for (const sample of samples) energy += sample * sample;
  return energy;
}

/** A waveform at given times, band-limited; 0 outside. */
export function valuesAt(
  waveform: TimedWaveform,
  times: { readonly startUs: number; readonly stepUs: number; readonly count: number },
): Float64Array {
  const { samples, startUs, stepUs } = waveform;
  const size = transformSize(2 * samples.length);
  const fine = size * 2 * pointsForSample;
  const { real } = analyticSignal(realSpectrum(samples, 0, samples.length, size), fine);
  const values = new Float64Array(times.count);
  for (let i = 0; i < times.count; i++) {
    const sample = (times.startUs + i * times.stepUs - startUs) / stepUs;
    if (sample < 0 || sample > samples.length - 1) continue;
    const at = sample * 2 * pointsForSample;
    const below = Math.floor(at);
    const share = at - below;
    values[i] = real[below] * (1 - share) + (share === 0 ? 0 : share * real[below + 1]);
  }
  return values;
}

function resampled(waveform: TimedWaveform, stepUs: number): TimedWaveform {
  if (Math.abs(waveform.stepUs / stepUs - 1) < 1e-9) return waveform;
  const count = Math.floor(((waveform.samples.length - 1) * waveform.stepUs) / stepUs) + 1;
  return {
    startUs: waveform.startUs,
    stepUs,
    samples: valuesAt(waveform, { startUs: waveform.startUs, stepUs, count }),
  };
}
