import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Waveform } from '../../core/capture/waveform.ts';
import { type ConditioningRecipe, condition, defaultRecipe, type Trace } from '../../core/signal/conditioning.ts';
import { findEchoes } from '../../core/signal/echoes.ts';
import { envelopeOf } from '../../core/signal/envelope.ts';
import { localMaxima } from '../../core/signal/prominence.ts';
import { saturatedRuns } from '../../core/signal/saturation.ts';
import { trace } from '../build/trace.ts';

const settings = { abovePercent: 5, fromUs: null, toUs: null };
const recipes: readonly ConditioningRecipe[] = [
  defaultRecipe,
  { ...defaultRecipe, bandPass: { lowMHz: 1.5, highMHz: 9, order: 4 }, peak: 'three-point' },
  { ...defaultRecipe, bandPass: { lowMHz: 1.5, highMHz: 9, order: 4 }, padding: 'none' },
];
const conditioned = (waveform: Waveform, recipe: ConditioningRecipe): Trace => {
  const outcome = condition(waveform, recipe);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
};
const bursts = fc.record({
  timeUs: fc.double({ min: 6, max: 12, noNaN: true }),
  amplitudePercent: fc.double({ min: 20, max: 90, noNaN: true }),
  seed: fc.integer({ min: 1, max: 1e6 }),
  recipe: fc.constantFrom(...recipes),
});
const built = ({ timeUs, amplitudePercent, seed }: { timeUs: number; amplitudePercent: number; seed: number }) =>
  trace().record(0, 2000).burst({ timeUs, amplitudePercent }).noise(0.2, seed);

describe('echoes', () => {
  it('shift with the record’s time axis and with nothing else', () => {
    fc.assert(
      fc.property(bursts, fc.double({ min: -50, max: 5000, noNaN: true }), (burst, shiftUs) => {
        const waveform = built(burst).waveform();
        const here = findEchoes(conditioned(waveform, burst.recipe), settings);
        const there = findEchoes(
          conditioned({ ...waveform, startUs: waveform.startUs + shiftUs }, burst.recipe),
          settings,
        );
        expect(there).toHaveLength(here.length);
        for (const [k, echo] of here.entries()) {
          expect(there[k].timeUs - echo.timeUs).toBeCloseTo(shiftUs, 8);
          expect(there[k].amplitudePercent).toBe(echo.amplitudePercent);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('shift with the burst', () => {
    fc.assert(
      fc.property(bursts, fc.integer({ min: -200, max: 200 }), (burst, samples) => {
        const clean = (timeUs: number) =>
          findEchoes(
            conditioned(
              trace()
                .record(0, 2000)
                .burst({ ...burst, timeUs })
                .waveform(),
              burst.recipe,
            ),
            settings,
          );
        const [here] = clean(burst.timeUs);
        const [there] = clean(burst.timeUs + samples / 100);
        expect(Math.abs(there.timeUs - here.timeUs - samples / 100)).toBeLessThan(1e-5);
      }),
      { numRuns: 60 },
    );
  });

  it('scale with the record: times stay, heights and noise are multiplied', () => {
    fc.assert(
      fc.property(bursts, fc.double({ min: 0.3, max: 1, noNaN: true }), (burst, factor) => {
        const waveform = built(burst).waveform();
        const low = { ...waveform, samples: waveform.samples.map((sample) => factor * sample) };
        const [a, b] = [conditioned(waveform, burst.recipe), conditioned(low, burst.recipe)];
        expect((b.noisePercent ?? 0) / (a.noisePercent ?? 0)).toBeCloseTo(factor, 6);
        const [high] = findEchoes(a, settings);
        const [scaled] = findEchoes(b, settings);
        expect(scaled.timeUs).toBeCloseTo(high.timeUs, 7);
        expect(scaled.amplitudePercent / high.amplitudePercent).toBeCloseTo(factor, 7);
        expect(scaled.uTimeUs ?? Number.NaN).toBeCloseTo(high.uTimeUs ?? Number.NaN, 7);
      }),
      { numRuns: 60 },
    );
  });

  it('do not know the sign of the record', () => {
    fc.assert(
      fc.property(bursts, (burst) => {
        const waveform = built(burst).waveform();
        const turned = { ...waveform, samples: waveform.samples.map((sample) => -sample) };
        const here = findEchoes(conditioned(waveform, burst.recipe), settings);
        const there = findEchoes(conditioned(turned, burst.recipe), settings);
        expect(there.map((echo) => echo.timeUs)).toEqual(here.map((echo) => echo.timeUs));
      }),
      { numRuns: 30 },
    );
  });
});

/** In steps of a millionth of a per cent: squares of smaller ones vanish. */
const millionths = fc.integer({ min: -100_000_000, max: 100_000_000 }).map((n) => n / 1e6);
const samples = fc.array(millionths, { minLength: 8, maxLength: 200 });

describe('any record', () => {
  it('has an envelope of its own length that is finite and nowhere below its modulus', () => {
    fc.assert(
      fc.property(samples, (values) => {
        const record = Float64Array.from(values);
        const envelope = envelopeOf(record);
        expect(envelope).toHaveLength(record.length);
        for (let i = 0; i < record.length; i++)
          expect(envelope[i]).toBeGreaterThanOrEqual(Math.abs(record[i]) * (1 - 1e-12));
      }),
    );
  });

  it('is conditioned without a number that is not finite, whatever its rectification', () => {
    fc.assert(
      fc.property(
        samples,
        fc.constantFrom('rf', 'full', 'positive', 'negative', 'envelope'),
        (values, rectification) => {
          const positive = rectification === 'rf' ? values : values.map(Math.abs);
          const result = conditioned(
            {
              startUs: 0,
              stepUs: 0.02,
              samples: Float64Array.from(positive),
              amplitudeUnit: 'percent',
              fullScreen: 100,
              zeroLevel: 0,
              rectification,
            },
            defaultRecipe,
          );
          expect(result.envelope.every(Number.isFinite)).toBe(true);
          for (const echo of findEchoes(result, { ...settings, abovePercent: 1 })) {
            expect(Number.isFinite(echo.timeUs) && Number.isFinite(echo.amplitudePercent)).toBe(true);
            expect(echo.uTimeUs === null || echo.uTimeUs >= 0).toBe(true);
          }
        },
      ),
    );
  });

  it('has maxima whose prominence is their height above the higher of two lowest points, by plain search', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 6 }), { minLength: 2, maxLength: 60 }), (values) => {
        const record = Float64Array.from(values);
        for (const { index, prominence } of localMaxima(record, { first: 0, last: record.length - 1 }, 0, 0)) {
          const lowest = (step: number) => {
            let low = record[index];
            for (let i = index; i >= 0 && i < record.length && record[i] <= record[index]; i += step)
              low = Math.min(low, record[i]);
            return low;
          };
          expect(prominence).toBe(record[index] - Math.max(lowest(-1), lowest(1)));
        }
      }),
    );
  });

  it('has cut-off runs in order, apart from each other, inside the record', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -4, max: 4 }), { minLength: 1, maxLength: 80 }), (values) => {
        const runs = saturatedRuns(
          {
            startUs: 0,
            stepUs: 1,
            samples: Float64Array.from(values),
            amplitudeUnit: 'count',
            fullScreen: 4,
            zeroLevel: 0,
            rectification: 'rf',
          },
          1,
        );
        let last = -2;
        for (const run of runs) {
          expect(run.first).toBeGreaterThan(last + 1);
          expect(run.last).toBeGreaterThanOrEqual(run.first);
          last = run.last;
        }
        expect(last).toBeLessThan(values.length);
      }),
    );
  });
});
