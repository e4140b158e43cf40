import { describe, expect, it } from 'vitest';
import {
  addPowerOfPair,
  envelopeIn,
  hilbert,
  oneSidedCorrelation,
  powerSpectrum,
  transformSize,
} from '../../../core/signal/fft.ts';
import { uniform } from '../../build/random.ts';

describe('the size of a transform', () => {
  it.each([
    [0, 4],
    [1, 4],
    [4, 4],
    [5, 8],
    [2000, 2048],
    [2048, 2048],
    [2049, 4096],
  ])('for %d samples is %d', (count, size) => expect(transformSize(count)).toBe(size));
});

describe('against the sums they stand for', () => {
  const random = uniform(9);
  const samples = Float64Array.from({ length: 32 }, () => random() - 0.5);
  const term = (k: number) => {
    let [re, im] = [0, 0];
    for (let n = 0; n < 32; n++) {
      re += samples[n] * Math.cos((2 * Math.PI * k * n) / 32);
      im -= samples[n] * Math.sin((2 * Math.PI * k * n) / 32);
    }
    return { re, im };
  };

  it('the power is |Σ x·exp(−2πikn/N)|²', () => {
    const power = powerSpectrum(samples, 0, 32, 32);
    for (let k = 0; k <= 16; k++) expect(power[k]).toBeCloseTo(term(k).re ** 2 + term(k).im ** 2, 12);
  });

  it('two records in one transform have the power of each, added to what stood there', () => {
    const other = Float64Array.from(samples, (sample, n) => 0.3 * sample + (n % 5) - 2);
    const pair = Float64Array.from({ length: 64 }, (_, i) => (i % 2 === 0 ? samples : other)[i >> 1]);
    const power = new Float64Array(17).fill(1000);
    addPowerOfPair(power, pair);
    const [one, two] = [powerSpectrum(samples, 0, 32, 32), powerSpectrum(other, 0, 32, 32)];
    for (let k = 0; k <= 16; k++) expect(power[k] - 1000).toBeCloseTo(one[k] + two[k], 10);
  });

  it('the envelope of a part is that part of the envelope', () => {
    const quadrature = hilbert(samples, 64);
    const envelope = envelopeIn(samples, 5, 20, 64);
    expect(envelope).toHaveLength(20);
    for (let i = 0; i < 20; i++) expect(envelope[i]).toBeCloseTo(Math.hypot(samples[5 + i], quadrature[5 + i]), 12);
  });

  it('the Hilbert transform turns each positive frequency by −90°', () => {
    const turned = hilbert(samples, 32);
    for (let n = 0; n < 32; n++) {
      let sum = 0;
      for (let k = 1; k < 16; k++) {
        const angle = (2 * Math.PI * k * n) / 32;
        sum += (2 / 32) * (term(k).re * Math.sin(angle) + term(k).im * Math.cos(angle));
      }
      expect(turned[n]).toBeCloseTo(sum, 12);
    }
  });

  it('the correlation is Σ P·exp(2πikl/N) over the positive frequencies', () => {
    const power = powerSpectrum(samples, 0, 32, 32);
    const { real, imaginary } = oneSidedCorrelation(power, 16);
    for (const lag of [0, 1, 7, 15]) {
      let [re, im] = [0, 0];
      for (let k = 0; k <= 16; k++) {
        re += power[k] * Math.cos((2 * Math.PI * k * lag) / 32);
        im += power[k] * Math.sin((2 * Math.PI * k * lag) / 32);
      }
      expect(real[lag]).toBeCloseTo(re, 10);
      expect(imaginary[lag]).toBeCloseTo(im, 10);
    }
  });
});
