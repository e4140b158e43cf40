import { describe, expect, it } from 'vitest';
import { bandPass, designBandPass, zeroPhaseGain } from '../../core/signal/band-pass.ts';
import { baselineOf } from '../../core/signal/baseline.ts';
import { condition } from '../../core/signal/conditioning.ts';
import { envelopeOf } from '../../core/signal/envelope.ts';
import { peakAt } from '../../core/signal/peak.ts';
import { localMaxima } from '../../core/signal/prominence.ts';
import reference from './fixtures/signal-scipy.json' with { type: 'json' };

// Source of every expected value here: SciPy 1.10.1, run by fixtures/signal_scipy.py.

/** Greatest difference, as a share of the largest sample of the record. */
function worst(values: Float64Array, expected: readonly number[], picked: readonly number[], largest: number): number {
  return Math.max(...picked.map((index, k) => Math.abs(values[index] - expected[k]))) / largest;
}

describe.each(reference.records)('$name, $rate_mhz MHz', (record) => {
  const samples = Float64Array.from(record.counts);
  const largest = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  const base = baselineOf(samples, 'linear');
  const flat = samples.map((sample, i) => sample - base.level - base.slope * (i - base.origin));

  it('takes out the least-squares line as scipy.signal.detrend does', () => {
    expect(worst(flat, record.detrend, record.picked, largest)).toBeLessThan(1e-13);
    expect(baselineOf(samples, 'mean').level).toBeCloseTo(record.mean, 10);
  });

  it('has the envelope of scipy.signal.hilbert, zeros to the next power of two', () => {
    expect(worst(envelopeOf(samples), record.envelope, record.picked, largest)).toBeLessThan(1e-13);
  });

  it.each(record.filters)(
    'order $order, $low_mhz to $high_mhz MHz: filtered as by butter and sosfiltfilt',
    (filter) => {
      const design = designBandPass(filter.low_mhz, filter.high_mhz, filter.order, record.rate_mhz);
      const filtered = bandPass(flat, design);
      expect(worst(filtered, filter.filtered, record.picked, largest)).toBeLessThan(1e-11);
      expect(worst(envelopeOf(filtered), filter.envelope, record.picked, largest)).toBeLessThan(1e-11);
      for (const [k, frequency] of filter.frequencies_mhz.entries()) {
        expect(zeroPhaseGain(design, frequency)).toBeCloseTo(filter.gains[k], 10);
      }
    },
  );

  it.each(record.filters)(
    'order $order, $low_mhz to $high_mhz MHz: the same peaks, times and heights to 1e-9',
    (filter) => {
      const outcome = condition(
        {
          startUs: 0,
          stepUs: 1 / record.rate_mhz,
          samples,
          amplitudeUnit: 'count',
          fullScreen: 100,
          zeroLevel: 0,
          rectification: 'rf',
        },
        {
          baseline: 'linear',
          bandPass: { lowMHz: filter.low_mhz, highMHz: filter.high_mhz, order: filter.order },
          padding: 'none',
          peak: 'three-point',
        },
      );
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
      const whole = { first: 0, last: samples.length - 1 };
      const maxima = localMaxima(outcome.value.envelope, whole, filter.height, filter.height);
      const peaks = maxima.map(({ index }) => peakAt(outcome.value, index));
      expect(peaks.map((peak) => peak.index)).toEqual(filter.peaks.map((peak) => peak.index));
      for (const [k, peak] of peaks.entries()) {
        expect(Math.abs(peak.timeUs - filter.peaks[k].time_us)).toBeLessThan(1e-9);
        expect(Math.abs(peak.amplitudePercent / filter.peaks[k].height - 1)).toBeLessThan(1e-11);
      }
    },
  );
});

describe('local maxima and prominence as scipy.signal.find_peaks has them', () => {
  it.each(reference.peaks)('$name', ({ values, index, prominence }) => {
    const maxima = localMaxima(Float64Array.from(values), { first: 0, last: values.length - 1 }, 0, 0);
    expect(maxima.map((maximum) => maximum.index)).toEqual(index);
    for (const [k, maximum] of maxima.entries()) expect(maximum.prominence).toBeCloseTo(prominence[k], 12);
  });
});
