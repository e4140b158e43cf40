import { describe, expect, it } from 'vitest';
import { alignByCorrelation } from '../../core/compare/align.ts';
import { scalogram } from '../../core/compare/scalogram.ts';
import { spectrogram } from '../../core/compare/spectrogram.ts';
import { besselJ, pistonDiffraction } from '../../core/material/diffraction.ts';
import { amplitudeSpectrum } from '../../core/probe/amplitude-spectrum.ts';
import { frequencyLimits, spectrumPeak } from '../../core/probe/frequency-limits.ts';
import { type SpectrumWindow, windowWeights } from '../../core/probe/window.ts';
import { normalBelow } from '../../core/statistics/normal-probability.ts';
import { sampleOf } from '../../core/statistics/sample.ts';
import { studentBeyond, welchTest } from '../../core/statistics/welch.ts';
import reference from './fixtures/probes-scipy.json' with { type: 'json' };

// Source of every expected value here: SciPy 1.10.1, run by fixtures/probes_scipy.py.

function windowOf({ kind, taper }: { kind: string; taper: number | null }): SpectrumWindow {
  if (kind === 'tukey') return { kind: 'tukey', taper: taper ?? 0 };
  return kind === 'hann' ? { kind: 'hann' } : { kind: 'rectangular' };
}

describe('windows as scipy.signal.get_window has them, symmetric', () => {
  it.each(reference.windows)('$kind $taper, $count samples', (row) => {
    const weights = windowWeights(windowOf(row), row.count);
    for (const [i, expected] of row.weights.entries()) expect(weights[i]).toBeCloseTo(expected, 14);
  });
});

describe('amplitude spectrum of an echo of 5 MHz', () => {
  it.each(reference.spectra)('$kind $taper: the lines of numpy.fft.rfft', (row) => {
    const settings = { window: windowOf(row), padding: 8 };
    const spectrum = amplitudeSpectrum(Float64Array.from(row.counts), 0.01, settings, null);
    expect(spectrum.amplitude).toHaveLength(row.size / 2 + 1);
    const highest = Math.max(...row.amplitude);
    for (const [i, expected] of row.amplitude.entries())
      expect(Math.abs(spectrum.amplitude[16 * i] - expected) / highest).toBeLessThan(1e-13);
  });

  it.each(reference.spectra)('$kind $taper: peak and limits to a line of a transform of a million points', (row) => {
    const settings = { window: windowOf(row), padding: 8 };
    const spectrum = amplitudeSpectrum(Float64Array.from(row.counts), 0.01, settings, null);
    const peak = spectrumPeak(spectrum, null);
    if (peak === null) throw new Error('no peak');
    const line = 100 / 2 ** 20;
    expect(Math.abs(peak.frequencyMHz.value - row.peak_mhz)).toBeLessThan(line);
    for (const [level, [lower, upper]] of Object.entries(row.limits_mhz)) {
      const outcome = frequencyLimits(spectrum, peak, Number(level), null);
      if (!outcome.ok) throw new Error(outcome.hindrance);
      expect(Math.abs(outcome.limits.lowerMHz - lower)).toBeLessThan(line);
      expect(Math.abs(outcome.limits.upperMHz - upper)).toBeLessThan(line);
    }
  });

  it.each([1, 2, 8, 64])('does not depend on how far it is padded: %i times', (padding) => {
    const [row] = reference.spectra;
    const spectrum = amplitudeSpectrum(Float64Array.from(row.counts), 0.01, { window: windowOf(row), padding }, null);
    const peak = spectrumPeak(spectrum, null);
    const outcome = peak === null ? null : frequencyLimits(spectrum, peak, 6, null);
    expect(outcome?.ok === true ? outcome.limits.upperMHz : null).toBeCloseTo(row.limits_mhz['6'][1], 3);
  });
});

describe('spectrogram as scipy.signal.spectrogram, magnitude of a spectrum', () => {
  const { counts, rate_mhz, length, hop, size, columns, times, frequencies } = reference.spectrogram;
  const picture = spectrogram(
    { samples: Float64Array.from(counts), startUs: 0, stepUs: 1 / rate_mhz },
    { window: { kind: 'hann' }, length, hop, padding: 2 },
  );

  it('has its frequencies and as many columns, each at the middle of its piece', () => {
    expect(picture.frequenciesMHz).toHaveLength(size / 2 + 1);
    for (const [i, expected] of frequencies.entries()) expect(picture.frequenciesMHz[i]).toBeCloseTo(expected, 12);
    expect(picture.timesUs).toHaveLength(times.length);
    // SciPy puts a column at half the piece's length, half a sample later.
    for (const [i, expected] of times.entries()) expect(picture.timesUs[i]).toBeCloseTo(expected - 0.5 / rate_mhz, 12);
  });

  it('has its values', () => {
    const rows = picture.frequenciesMHz.length;
    for (const [c, column] of columns.entries())
      for (const [r, expected] of column.entries())
        expect(Math.abs(picture.values[3 * c * rows + 4 * r] - expected)).toBeLessThan(1e-9);
  });

  it('of a record shorter than a piece is empty', () => {
    const short = { samples: new Float64Array(63), startUs: 0, stepUs: 0.02 };
    expect(spectrogram(short, { window: { kind: 'hann' }, length, hop, padding: 1 }).timesUs).toHaveLength(0);
  });
});

describe('Morlet scalogram', () => {
  it('is the same band-pass as by numpy’s transform', () => {
    const { frequencies, every, rows } = reference.scalogram;
    const { counts, rate_mhz } = reference.spectrogram;
    const record = { samples: Float64Array.from(counts), startUs: 0, stepUs: 1 / rate_mhz };
    const picture = scalogram(record, Float64Array.from(frequencies), every);
    for (const [r, row] of rows.entries())
      for (const [c, expected] of row.entries())
        expect(Math.abs(picture.values[c * frequencies.length + r] - expected)).toBeLessThan(1e-7);
  });

  it.each([2, 5, 9])('reads the amplitude of a steady sine of %i MHz at its own frequency', (frequency) => {
    const samples = Float64Array.from({ length: 4000 }, (_, i) => 37 * Math.sin(2 * Math.PI * frequency * i * 0.01));
    const picture = scalogram({ samples, startUs: 0, stepUs: 0.01 }, Float64Array.of(frequency));
    expect(picture.values[2000]).toBeCloseTo(37, 3);
  });
});

describe('alignment by cross-correlation', () => {
  const { first, second, shift_us, true_us } = reference.alignment;
  it('finds the shift that scipy.signal.correlate finds on 64 points for each sample', () => {
    const waveform = (counts: number[]) => ({ startUs: 0, stepUs: 0.01, samples: Float64Array.from(counts) });
    const alignment = alignByCorrelation(waveform(first), waveform(second));
    expect(Math.abs((alignment?.shiftUs ?? 0) - shift_us)).toBeLessThan(0.01 / 64);
    expect(Math.abs((alignment?.shiftUs ?? 0) - true_us)).toBeLessThan(0.0002);
    expect(alignment?.correlation).toBeGreaterThan(0.999);
  });
});

describe('statistics', () => {
  it.each(reference.welch)('Welch’s t of $first and $second', (row) => {
    const outcome = welchTest(sampleOf(row.first)!, sampleOf(row.second)!);
    if (!outcome.ok) throw new Error(outcome.reason);
    expect(outcome.test.t).toBeCloseTo(row.t, 9);
    expect(outcome.test.degreesOfFreedom).toBeCloseTo(row.degrees_of_freedom, 9);
    expect(outcome.test.p / row.p).toBeCloseTo(1, 8);
  });

  it.each(reference.student)('Student’s t of $t with $degrees_of_freedom degrees of freedom', (row) => {
    expect(studentBeyond(row.t, row.degrees_of_freedom) / row.p).toBeCloseTo(1, 9);
  });

  it.each(reference.normal)('the normal law below $z', ({ z, below }) => {
    expect(Math.abs(normalBelow(z) - below)).toBeLessThan(1.5e-7);
  });
});

describe('diffraction of a piston', () => {
  it.each(reference.bessel)('Bessel functions at $x', ({ x, j0, j1 }) => {
    expect(besselJ(0, x)).toBeCloseTo(j0, 12);
    expect(besselJ(1, x)).toBeCloseTo(j1, 12);
  });

  // Rogers & Van Buren’s is the limit for large ka of Williams’s integral, here at 20 and 40: the difference shrinks with ka.
  it.each(reference.diffraction)(
    's = $s at ka = $ka: within 3 % of the integral over the disc',
    ({ ka, s, modulus }) => {
      expect(Math.abs(pistonDiffraction(s) / modulus - 1)).toBeLessThan(ka === 20 ? 0.03 : 0.015);
    },
  );

  it('is 1 close by, and π/s far away', () => {
    expect(pistonDiffraction(1e-4)).toBeCloseTo(1, 2);
    expect(pistonDiffraction(100) / (Math.PI / 100)).toBeCloseTo(1, 3);
  });
});
