import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultRecipe, type Trace } from '../../core/signal/conditioning.ts';
import { echoSigma } from '../../core/signal/echo-sigma.ts';
import { findEchoes } from '../../core/signal/echoes.ts';
import { type Peak, peakAt } from '../../core/signal/peak.ts';
import { localMaxima } from '../../core/signal/prominence.ts';
import { unevennessOf } from '../../core/signal/unevenness.ts';
import { trace } from '../build/trace.ts';

/** Bursts that overlap, in noise, with or without a crest that is cut off, at few and many samples to the period. */
const described = fc
  .record({
    frequencyMHz: fc.double({ min: 1.5, max: 6, noNaN: true }),
    bandwidthPercent: fc.double({ min: 25, max: 100, noNaN: true }),
    rateMHz: fc.constantFrom(25, 50, 100),
    bursts: fc.array(
      fc.record({
        sigmasLater: fc.double({ min: 0, max: 8, noNaN: true }),
        amplitudePercent: fc.double({ min: 10, max: 160, noNaN: true }),
        phaseDeg: fc.double({ min: 0, max: 360, noNaN: true }),
      }),
      { minLength: 1, maxLength: 5 },
    ),
    noisePercent: fc.constantFrom(0, 0.2, 1, 4),
    seed: fc.integer({ min: 1, max: 1e6 }),
    screen: fc.constantFrom<'open' | 'clipped' | 'rounded'>('open', 'clipped', 'rounded'),
    abovePercent: fc.constantFrom(1, 5, 20),
  })
  .map((d) => {
    const { frequencyMHz, bandwidthPercent } = d;
    const sigmaUs = 0.37478125 / ((bandwidthPercent / 100) * frequencyMHz);
    let built = trace()
      .record(0, 16 * d.rateMHz)
      .sampledAt(d.rateMHz);
    for (const { sigmasLater, amplitudePercent, phaseDeg } of d.bursts) {
      const timeUs = 6 + sigmasLater * sigmaUs;
      built = built.burst({ timeUs, amplitudePercent, frequencyMHz, bandwidthPercent, phaseDeg });
    }
    if (d.noisePercent > 0) built = built.noise(d.noisePercent, d.seed);
    if (d.screen !== 'open') built = built.clippedAt(100).quantised(d.screen === 'rounded' ? 6 : 8);
    return { trace: built.conditioned(defaultRecipe), abovePercent: d.abovePercent };
  });

const placeOf = (trace: Trace, { timeUs }: Pick<Peak, 'timeUs'>) => (timeUs - trace.startUs) / trace.stepUs;

/** Every local maximum above the height, however little it stands out. */
function everyPeak({ trace, abovePercent }: { trace: Trace; abovePercent: number }): Peak[] {
  const whole = { first: 0, last: trace.envelope.length - 1 };
  return localMaxima(trace.envelope, whole, abovePercent, 0).map(({ index }) => peakAt(trace, index));
}

describe('a peak refined between samples, on overlapping, noisy and cut-off echoes', () => {
  it('lies within the samples that it was made from, the highest sample among them', () => {
    fc.assert(
      fc.property(described, (given) => {
        for (const peak of everyPeak(given)) {
          const place = placeOf(given.trace, peak);
          expect(place).toBeGreaterThanOrEqual(peak.from.first - 1e-6);
          expect(place).toBeLessThanOrEqual(peak.from.last + 1e-6);
          expect(peak.index).toBeGreaterThanOrEqual(peak.from.first);
          expect(peak.index).toBeLessThanOrEqual(peak.from.last);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('is no farther from the highest sample than the echo’s σ, rounded to whole samples', () => {
    fc.assert(
      fc.property(described, (given) => {
        for (const peak of everyPeak(given)) {
          const sigma = echoSigma(given.trace.envelope, peak.index, unevennessOf(given.trace)) ?? 0;
          const half = Math.max(1, Math.round(sigma / 2));
          expect(Math.abs(placeOf(given.trace, peak) - peak.index)).toBeLessThanOrEqual(2 * half + 1e-6);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('is never lower than the highest sample by more than four standard deviations of the noise', () => {
    fc.assert(
      fc.property(described, (given) => {
        const { envelope, noisePercent } = given.trace;
        for (const { index, amplitudePercent } of everyPeak(given)) {
          expect(amplitudePercent).toBeGreaterThanOrEqual(envelope[index] - 4 * (noisePercent ?? 0) - 1e-9);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('is parted from its highest sample by no valley that noise does not explain', () => {
    fc.assert(
      fc.property(described, (given) => {
        const { envelope, noisePercent } = given.trace;
        for (const peak of everyPeak(given)) {
          const place = placeOf(given.trace, peak);
          const step = place < peak.index ? -1 : 1;
          let lowest = envelope[peak.index];
          for (let i = peak.index; step * (place - i) >= 0; i += step) {
            lowest = Math.min(lowest, envelope[i]);
            expect(envelope[i] - lowest).toBeLessThanOrEqual(4 * (noisePercent ?? 0) + 1e-9);
          }
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe('the list of echoes, overlapping, noisy and cut off', () => {
  it('is in order of time', () => {
    fc.assert(
      fc.property(described, ({ trace, abovePercent }) => {
        const echoes = findEchoes(trace, { abovePercent, fromUs: null, toUs: null });
        for (let k = 1; k < echoes.length; k++) expect(echoes[k].timeUs).toBeGreaterThan(echoes[k - 1].timeUs);
      }),
      { numRuns: 400 },
    );
  });
});
