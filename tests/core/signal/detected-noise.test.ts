import { describe, expect, it } from 'vitest';
import type { SampleRange } from '../../../core/capture/waveform.ts';
import {
  detectedCorrelation,
  detectedNoise,
  detectedSigma,
  inPhaseVariance,
  isSmoothed,
  quietMoments,
} from '../../../core/signal/detected-noise.ts';
import { normalNumbers } from '../../../core/signal/normal-numbers.ts';
import { normal } from '../../build/random.ts';

const count = 40_000;
const whole: readonly SampleRange[] = [{ first: 0, last: count - 1 }];
const flat = () => 1;

/** The length of two independent normal numbers of standard deviation 1, each hung together over `width` samples by a sliding sum. */
function lengths(width: number, seed: number): Float64Array {
  const random = normal(seed);
  const made = () => {
    const white = Float64Array.from({ length: count + width }, random);
    return Float64Array.from({ length: count }, (_, i) => {
      let sum = 0;
      for (let k = 0; k < width; k++) sum += white[i + k];
      return sum / Math.sqrt(width);
    });
  };
  const inPhase = made();
  const across = made();
  return inPhase.map((value, i) => Math.hypot(value, across[i]));
}

describe('noise of a detected record', () => {
  it.each([
    { name: 'nothing is quiet', quiet: [] },
    { name: 'fewer than 32 samples are', quiet: [{ first: 0, last: 30 }] },
  ])('is unknown where $name', ({ quiet }) => {
    expect(detectedNoise(new Float64Array(100), quiet, 0.1)).toBeNull();
  });

  it('is the rounding’s alone where no sample reaches a count', () => {
    expect(detectedNoise(new Float64Array(100), [{ first: 0, last: 99 }], 0.4)).toBeCloseTo(0.4 / Math.sqrt(12), 12);
  });

  // Rayleigh's distribution has the mean square 2σ²; the second column is the converter's count against σ.
  it.each([
    { noise: 'not rounded', sigma: 0.3, step: 0 },
    { noise: 'three counts', sigma: 0.3, step: 0.1 },
    { noise: 'one count', sigma: 0.3, step: 0.3 },
    { noise: 'half a count, mostly 0 or 1', sigma: 0.3, step: 0.6 },
    { noise: 'a quarter of a count, one sample in seven not 0', sigma: 0.3, step: 1.2 },
  ])('is told to 3 % from its quiet part: $noise', ({ sigma, step }) => {
    const quiet = lengths(1, 5).map((value) => (step > 0 ? step * Math.round((sigma * value) / step) : sigma * value));
    const { meanSquare } = quietMoments(quiet, whole, flat);
    expect(Math.abs(detectedSigma(meanSquare, step) / sigma - 1)).toBeLessThan(0.03);
  });

  it('smoothed after the rectifier: what a crest suffers follows from the spread, to 5 %, and lengths count as not smoothed', () => {
    const random = normal(9);
    const width = 12;
    const white = Float64Array.from({ length: count + width }, random);
    const smoothed = Float64Array.from({ length: count }, (_, i) => {
      let sum = 0;
      for (let k = 0; k < width; k++) sum += Math.abs(white[i + k]) / width;
      return sum;
    });
    const moments = quietMoments(smoothed, whole, flat);
    expect(isSmoothed(moments)).toBe(true);
    // The mean of twelve normal numbers with the signs of a carrier that is there: 1/12.
    expect(Math.abs(inPhaseVariance(moments, 0) * width - 1)).toBeLessThan(0.05);
    expect(isSmoothed(quietMoments(lengths(4, 11), whole, flat))).toBe(false);
  });

  it('hangs together from lag to lag as that before detection did: a sliding sum over four samples, to within 0.06', () => {
    const envelope = lengths(4, 7);
    const correlation = detectedCorrelation(envelope, whole, quietMoments(envelope, whole, flat), flat);
    [1, 0.75, 0.5, 0.25].forEach((expected, lag) => {
      expect(Math.abs(correlation[lag] - expected)).toBeLessThan(0.06);
    });
    expect(correlation[6] ?? 0).toBeLessThan(0.2);
  });

  it('hangs together by nothing where it did not', () => {
    const envelope = lengths(1, 9);
    expect(detectedCorrelation(envelope, whole, quietMoments(envelope, whole, flat), flat)).toHaveLength(1);
  });
});

describe('the normal numbers a method is tried with', () => {
  it('are the same each time, and others for another seed', () => {
    expect(normalNumbers(8, 1)).toEqual(normalNumbers(8, 1));
    expect(normalNumbers(8, 1)).not.toEqual(normalNumbers(8, 2));
  });

  it('have mean 0, standard deviation 1, 4.55 % beyond two of them, and no memory', () => {
    const values = normalNumbers(count, 1);
    const mean = (of: (value: number, i: number) => number) =>
      values.reduce((sum, value, i) => sum + of(value, i), 0) / count;
    const chance = 4 / Math.sqrt(count);
    expect(Math.abs(mean((value) => value))).toBeLessThan(chance);
    expect(Math.abs(mean((value) => value * value) - 1)).toBeLessThan(Math.SQRT2 * chance);
    expect(Math.abs(mean((value) => (Math.abs(value) > 2 ? 1 : 0)) - 0.0455)).toBeLessThan(0.21 * chance);
    expect(Math.abs(mean((value, i) => value * values[(i + 1) % count]))).toBeLessThan(chance);
  });
});
