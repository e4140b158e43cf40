import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alignByCorrelation, valuesAt } from '../../core/compare/align.ts';
import { spreadingDb } from '../../core/material/diffraction.ts';
import { probeFigureNames } from '../../core/probe/figures.ts';
import { measurePulse } from '../../core/probe/pulse.ts';
import { defaultSpectrumSettings, windowWeights } from '../../core/probe/window.ts';
import { condition, defaultRecipe } from '../../core/signal/conditioning.ts';
import { sampleOf } from '../../core/statistics/sample.ts';
import { welchTest } from '../../core/statistics/welch.ts';
import { normal } from '../build/random.ts';

interface Made {
  readonly frequencyMHz: number;
  readonly share: number;
  readonly phase: number;
  readonly percent: number;
  readonly seed: number;
}

const made = fc.record({
  frequencyMHz: fc.double({ min: 2, max: 8, noNaN: true }),
  share: fc.double({ min: 0.3, max: 0.7, noNaN: true }),
  phase: fc.double({ min: 0, max: 6.28, noNaN: true }),
  percent: fc.double({ min: 20, max: 90, noNaN: true }),
  seed: fc.integer({ min: 1, max: 1e6 }),
});

function samplesOf({ frequencyMHz, share, phase, percent, seed }: Made, timeUs = 20, scale = 1): Float64Array {
  const sigma = 0.37478125 / (share * frequencyMHz);
  const random = normal(seed);
  return Float64Array.from({ length: 2000 }, (_, i) => {
    const t = 10 + i / 100 - timeUs;
    const echo = percent * Math.exp(-0.5 * (t / sigma) ** 2) * Math.cos(2 * Math.PI * frequencyMHz * t + phase);
    return scale * (echo + 0.02 * random());
  });
}

function pulseOf(samples: Float64Array, startUs = 10, gainDb = 40) {
  const outcome = condition(
    { startUs, stepUs: 0.01, samples, amplitudeUnit: 'percent', fullScreen: 1000, zeroLevel: 0, rectification: 'rf' },
    { ...defaultRecipe, baseline: 'none' },
  );
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return measurePulse('a', outcome.value, gainDb, {
    gate: { fromUs: startUs + 7, toUs: startUs + 13 },
    spectrum: defaultSpectrumSettings,
    elementMm: 10,
    velocityMPerS: 5920,
    curves: false,
  });
}

const ofHeight = new Set(['height', 'sensitivity', 'signal-to-noise']);

describe('figures of a probe', () => {
  it('do not change with the scale of the record, but for its height', () => {
    fc.assert(
      fc.property(made, fc.double({ min: 0.1, max: 5, noNaN: true }), (echo, scale) => {
        const one = pulseOf(samplesOf(echo));
        const other = pulseOf(samplesOf(echo, 20, scale));
        for (const name of probeFigureNames) {
          const [a, b] = [one.figures[name].quantity, other.figures[name].quantity];
          if (ofHeight.has(name) || a === null || b === null) continue;
          expect(b.value / a.value).toBeCloseTo(1, 6);
        }
        const level = (pulse: typeof one) => pulse.figures.sensitivity.quantity?.value ?? 0;
        expect(level(other) - level(one)).toBeCloseTo(20 * Math.log10(scale), 6);
      }),
      { numRuns: 25 },
    );
  });

  it('do not change with where the record begins', () => {
    fc.assert(
      fc.property(made, fc.integer({ min: 0, max: 500 }), (echo, startUs) => {
        const one = pulseOf(samplesOf(echo));
        const other = pulseOf(samplesOf(echo), startUs);
        for (const name of probeFigureNames) {
          const [a, b] = [one.figures[name].quantity, other.figures[name].quantity];
          expect(b === null).toBe(a === null);
          if (a !== null && b !== null && a.value !== 0) expect(b.value / a.value).toBeCloseTo(1, 6);
        }
      }),
      { numRuns: 15 },
    );
  });

  it('more gain that draws the echo higher leaves the relative sensitivity as it is', () => {
    fc.assert(
      fc.property(made, fc.integer({ min: -20, max: 20 }), (echo, db) => {
        const level = (scale: number, gain: number) =>
          pulseOf(samplesOf(echo, 20, scale), 10, gain).figures.sensitivity.quantity?.value ?? 0;
        expect(level(10 ** (db / 20), 40 + db)).toBeCloseTo(level(1, 40), 6);
      }),
      { numRuns: 15 },
    );
  });

  it('the geometric centre never lies above the arithmetic one; the −20 dB band holds the −6 dB band', () => {
    fc.assert(
      fc.property(made, (echo) => {
        const { figures } = pulseOf(samplesOf(echo));
        const value = (name: keyof typeof figures) => figures[name].quantity?.value;
        const [iso, e1065] = [value('centre-frequency-iso'), value('centre-frequency-e1065')];
        if (iso !== undefined && e1065 !== undefined) expect(iso).toBeLessThanOrEqual(e1065 + 1e-12);
        const [l6, u6, l20, u20] = [
          value('lower-limit-6-db'),
          value('upper-limit-6-db'),
          value('lower-limit-20-db'),
          value('upper-limit-20-db'),
        ];
        if (l6 === undefined || u6 === undefined || l20 === undefined || u20 === undefined) return;
        expect(l20).toBeLessThan(l6);
        expect(u20).toBeGreaterThan(u6);
      }),
      { numRuns: 40 },
    );
  });

  it('never state a negative uncertainty or a figure that is not finite, whatever is in the gate', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -100, max: 100, noNaN: true }), { minLength: 64, maxLength: 400 }),
        (list) => {
          const samples = new Float64Array(2000);
          samples.set(list, 800);
          for (const { quantity, hindrance } of Object.values(pulseOf(samples).figures)) {
            expect((quantity === null) === (hindrance !== null)).toBe(true);
            if (quantity === null) continue;
            expect(Number.isFinite(quantity.value)).toBe(true);
            expect(quantity.standardUncertainty ?? 0).toBeGreaterThanOrEqual(0);
          }
        },
      ),
      { numRuns: 150 },
    );
  });
});

describe('alignment', () => {
  it('of two is the opposite of the alignment of the two the other way round, and finds the shift put in', () => {
    fc.assert(
      fc.property(made, fc.double({ min: -2, max: 2, noNaN: true }), (echo, shiftUs) => {
        const waveform = (timeUs: number) => ({ startUs: 10, stepUs: 0.01, samples: samplesOf(echo, timeUs) });
        const [a, b] = [waveform(20), waveform(20 + shiftUs)];
        const there = alignByCorrelation(a, b);
        const back = alignByCorrelation(b, a);
        expect(there?.shiftUs).toBeCloseTo(shiftUs, 3);
        expect((there?.shiftUs ?? 0) + (back?.shiftUs ?? 0)).toBeCloseTo(0, 4);
      }),
      { numRuns: 25 },
    );
  });

  it('resampling onto its own times is the identity', () => {
    fc.assert(
      fc.property(made, (echo) => {
        const samples = samplesOf(echo);
        const again = valuesAt({ startUs: 10, stepUs: 0.01, samples }, { startUs: 10, stepUs: 0.01, count: 2000 });
        for (let i = 0; i < 2000; i += 37) expect(again[i]).toBeCloseTo(samples[i], 6);
      }),
      { numRuns: 10 },
    );
  });

  it('nothing cannot be aligned', () => {
    const nothing = { startUs: 0, stepUs: 0.01, samples: new Float64Array(64) };
    expect(alignByCorrelation(nothing, nothing)).toBeNull();
  });
});

describe('Welch’s t', () => {
  const values = fc.array(fc.double({ min: -50, max: 50, noNaN: true }), { minLength: 2, maxLength: 9 });
  it('is antisymmetric, its degrees of freedom lie between the smaller sample’s and all, its p is a probability', () => {
    fc.assert(
      fc.property(values, values, (first, second) => {
        const there = welchTest(sampleOf(first)!, sampleOf(second)!);
        const back = welchTest(sampleOf(second)!, sampleOf(first)!);
        if (!there.ok || !back.ok) return;
        expect(back.test.t).toBeCloseTo(-there.test.t, 9);
        const { degreesOfFreedom, p } = there.test;
        expect(degreesOfFreedom).toBeGreaterThanOrEqual(Math.min(first.length, second.length) - 1 - 1e-9);
        expect(degreesOfFreedom).toBeLessThanOrEqual(first.length + second.length - 2 + 1e-9);
        expect(p).toBeGreaterThanOrEqual(0);
        expect(p).toBeLessThanOrEqual(1);
      }),
    );
  });

  it('says nothing of one value, nor of samples without any spread', () => {
    expect(welchTest(sampleOf([1])!, sampleOf([1, 2])!)).toEqual({ ok: false, reason: 'too-few-values' });
    expect(welchTest(sampleOf([1, 1])!, sampleOf([2, 2])!)).toEqual({ ok: false, reason: 'no-spread' });
    expect(sampleOf([])).toBeNull();
  });
});

describe('windows and spreading', () => {
  it('windows are symmetric and between 0 and 1', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 300 }), fc.double({ min: 0, max: 1, noNaN: true }), (count, taper) => {
        const weights = windowWeights({ kind: 'tukey', taper }, count);
        for (let i = 0; i < count; i++) {
          expect(weights[i]).toBe(weights[count - 1 - i]);
          expect(weights[i]).toBeGreaterThanOrEqual(0);
          expect(weights[i]).toBeLessThanOrEqual(1);
        }
      }),
    );
  });

  it('a piston spreads no more than 1/distance from the far field on, and as 1/distance far away', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 2, max: 10, noNaN: true }),
        fc.double({ min: 1, max: 10, noNaN: true }),
        (frequency, times) => {
          // 10 mm: N = 25·f/v mm; from 20 N on.
          const near = (20 * 100 * frequency) / (4 * 5.92);
          const piston = spreadingDb({ kind: 'piston', elementMm: 10 }, near, times * near, frequency, 5920);
          const far = spreadingDb({ kind: 'far-field' }, near, times * near, frequency, 5920);
          expect(piston).toBeLessThanOrEqual(far + 1e-9);
          expect(piston).toBeCloseTo(far, 1);
        },
      ),
    );
  });
});
