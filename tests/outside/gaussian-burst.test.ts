import { describe, expect, it } from 'vitest';
import { envelopeOf } from '../../core/signal/envelope.ts';
import { powerSpectrum } from '../../core/signal/fft.ts';
import { highestIn } from '../../core/signal/peak.ts';
import { logParabola, threePoint } from '../../core/signal/vertex.ts';
import { firstCrossing } from '../build/first-crossing.ts';
import { type Burst, trace } from '../build/trace.ts';

// The closed form of x(t) = A·exp(−t²/2σ²)·cos(2π·f·t): derived, with each figure's formula beside it.

const middleUs = 20;
const wide = { timeUs: middleUs, amplitudePercent: 80, frequencyMHz: 5, bandwidthPercent: 60 };
/** σ = √(2·ln 2)/(π·bandwidth·f): 0.1249 µs at 5 MHz and 60 %. */
const sigmaOf = (burst: Required<Pick<Burst, 'frequencyMHz' | 'bandwidthPercent'>>) =>
  Math.sqrt(2 * Math.LN2) / (Math.PI * (burst.bandwidthPercent / 100) * burst.frequencyMHz);
const record = (burst: Burst) => trace().record(0, 4096).burst(burst);

describe('the envelope of a Gaussian burst', () => {
  it.each([
    { downDb: 6, widthInSigma: 2 * Math.sqrt(2 * Math.log(10 ** (6 / 20))), source: '2.35079 σ, closed form' },
    { downDb: 14, widthInSigma: 2 * Math.sqrt(2 * Math.log(10 ** (14 / 20))), source: '3.59089 σ, closed form' },
    { downDb: 20, widthInSigma: 2 * Math.sqrt(2 * Math.log(10)), source: '4.29193 σ, closed form' },
  ])('is as wide $downDb dB down as its closed form says ($source)', ({ downDb, widthInSigma }) => {
    const conditioned = record(wide).conditioned();
    const level = 80 * 10 ** (-downDb / 20);
    const rising = firstCrossing(conditioned, { first: 1900, last: 2000 }, level);
    const half = middleUs - (rising?.timeUs ?? Number.NaN);
    // Straight lines between samples 10 ns apart: within 0.1 %.
    expect(2 * half).toBeCloseTo(widthInSigma * sigmaOf(wide), 3);
  });

  it('is A·exp(−t²/2σ²) to 1e-8 of A where no spectrum reaches below zero frequency (30 %)', () => {
    const narrow = { ...wide, bandwidthPercent: 30 };
    const { samples } = record(narrow).waveform();
    const envelope = envelopeOf(samples);
    const sigma = sigmaOf(narrow);
    for (let i = 1900; i <= 2100; i++) {
      const t = i / 100 - middleUs;
      expect(Math.abs(envelope[i] - 80 * Math.exp((-t * t) / (2 * sigma * sigma)))).toBeLessThan(80e-8);
    }
  });

  it('has its −6 dB edges at 3.5 and 6.5 MHz for 5 MHz and 60 % (half amplitude, closed form)', () => {
    const { samples } = record(wide).waveform();
    const power = powerSpectrum(samples, 0, 4096, 4096);
    const amplitudeAt = (frequencyMHz: number) => {
      const bin = (frequencyMHz / 100) * 4096;
      const low = Math.floor(bin);
      const [a, b] = [Math.sqrt(power[low]), Math.sqrt(power[low + 1])];
      return a + (bin - low) * (b - a);
    };
    const top = amplitudeAt(5);
    expect(amplitudeAt(3.5) / top).toBeCloseTo(0.5, 3);
    expect(amplitudeAt(6.5) / top).toBeCloseTo(0.5, 3);
  });
});

describe('three points of a cosine, 10 samples to the period', () => {
  // tan(ωδ)/(2·tan(ω/2)), exact; figures: derived.
  it.each([
    { samplesPerPeriod: 10, offset: 0.25, found: 0.2437286, height: 0.9988937 },
    { samplesPerPeriod: 10, offset: 0, found: 0, height: 1 },
  ])('finds $found where the truth is $offset', ({ samplesPerPeriod, offset, found, height }) => {
    const omega = (2 * Math.PI) / samplesPerPeriod;
    const envelope = Float64Array.from([-1, 0, 1], (k) => Math.cos(omega * (k - offset)));
    const refined = threePoint(envelope, 1);
    expect(refined?.offset).toBeCloseTo(found, 7);
    expect(refined?.amplitudePercent).toBeCloseTo(height, 7);
  });

  it.each([
    { samplesPerPeriod: 4, worst: 0.045273 },
    { samplesPerPeriod: 10, worst: 0.006459 },
    { samplesPerPeriod: 20, worst: 0.001591 },
  ])('errs by at most $worst samples at $samplesPerPeriod samples to the period', ({ samplesPerPeriod, worst }) => {
    const omega = (2 * Math.PI) / samplesPerPeriod;
    let greatest = 0;
    for (let offset = -0.5; offset <= 0.5; offset += 0.001) {
      const envelope = Float64Array.from([-1, 0, 1], (k) => Math.cos(omega * (k - offset)));
      greatest = Math.max(greatest, Math.abs((threePoint(envelope, 1)?.offset ?? Number.NaN) - offset));
    }
    expect(greatest).toBeCloseTo(worst, 6);
  });
});

describe('the parabola through the logarithm', () => {
  it.each([2, 3.1, 6, 12.5, 40])('is exact for a Gaussian of σ %d samples, wherever its peak lies', (sigma) => {
    for (const offset of [-0.5, -0.3, 0, 0.123, 0.49]) {
      const envelope = Float64Array.from(
        { length: 401 },
        (_, i) => 70 * Math.exp(-0.5 * ((i - 200 - offset) / sigma) ** 2),
      );
      const refined = logParabola(envelope, 200);
      expect(refined?.offset).toBeCloseTo(offset, 9);
      expect(refined?.amplitudePercent).toBeCloseTo(70, 9);
    }
  });
});

describe('time walk of a fixed threshold', () => {
  it('is 0.0975398 µs between an echo and one half as high, σ 0.2 µs, at a quarter of the higher (closed form)', () => {
    const burst = { timeUs: middleUs, frequencyMHz: 5, bandwidthPercent: (100 * 0.37478125) / (5 * 0.2) };
    const crossingOf = (amplitudePercent: number) =>
      firstCrossing(
        trace()
          .sampledAt(400)
          .record(0, 16384)
          .burst({ ...burst, amplitudePercent })
          .conditioned(),
        { first: 7000, last: 8100 },
        20,
      )?.timeUs ?? Number.NaN;
    expect(crossingOf(40) - crossingOf(80)).toBeCloseTo(0.0975398, 5);
  });
});

describe('the least spread that any method could reach on the envelope (Cramér–Rao)', () => {
  it('is never undercut by the stated uncertainty, and met within 3.5 times by half a σ to either side', () => {
    // u ≥ (σn/A)/√(fs·√π/(2σ)) for white noise of the envelope; the RF's noise in phase has twice its density. 0.672 ns for
    // σ 0.2 µs, 100 MHz, 1 % of the height (Kay 1993, chapter 3, from memory; derived).
    const bound = (1000 * 0.01 * Math.SQRT2) / Math.sqrt((100 * Math.sqrt(Math.PI)) / (2 * 0.2));
    expect(bound).toBeCloseTo(0.4750535 * Math.SQRT2, 4);
    const conditioned = trace()
      .record(0, 4096)
      .burst({
        timeUs: middleUs,
        amplitudePercent: 50,
        frequencyMHz: 5,
        bandwidthPercent: (100 * 0.37478125) / (5 * 0.2),
      })
      .noise(0.5, 3)
      .conditioned();
    const stated = (highestIn(conditioned, { first: 1950, last: 2050 })?.uTimeUs ?? Number.NaN) * 1000;
    expect(stated).toBeGreaterThan(bound);
    expect(stated).toBeLessThan(3.5 * bound);
  });
});
