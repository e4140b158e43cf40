import { describe, expect, it } from 'vitest';
import { medianInto, selectInto } from '../../../core/signal/median.ts';
import { envelopeNoise, noiseOf, noiseTrend, quietRuns, signalToNoiseDb } from '../../../core/signal/noise.ts';
import { normal } from '../../build/random.ts';
import { trace } from '../../build/trace.ts';

describe('the noise of a record', () => {
  it.each([
    { name: 'no quiet run', samples: 100, quiet: [] },
    { name: 'fewer than 32 samples', samples: 100, quiet: [{ first: 0, last: 30 }] },
  ])('is unknown: $name', ({ samples, quiet }) => {
    expect(noiseOf(new Float64Array(samples), quiet, 0)).toBeNull();
  });

  it('is nothing in silence, and never less than a count’s own rounding', () => {
    const quiet = [{ first: 0, last: 99 }];
    expect(noiseOf(new Float64Array(100), quiet, 0)).toBe(0);
    expect(noiseOf(new Float64Array(100), quiet, 0.78)).toBeCloseTo(0.78 / Math.sqrt(12), 12);
  });

  it('is not moved by spikes', () => {
    const random = normal(4);
    const samples = Float64Array.from({ length: 1000 }, (_, i) => (i % 50 === 0 ? 40 : random()));
    expect(Math.abs((noiseOf(samples, [{ first: 0, last: 999 }], 0) ?? 0) - 1)).toBeLessThan(0.12);
  });

  it.each([0.3, 1, 2])('is %d %% where so much was put in, beside a main bang and echoes', (percent) => {
    const estimates = [1, 2, 3, 4, 5, 6].map(
      (seed) =>
        trace()
          .record(0, 3000)
          .mainBang({ amplitudePercent: 90, decayUs: 0.4 })
          .burst({ timeUs: 8, amplitudePercent: 80 })
          .burst({ timeUs: 16, amplitudePercent: 30 })
          .noise(percent, seed)
          .conditioned().noisePercent ?? 0,
    );
    const mean = estimates.reduce((sum, each) => sum + each, 0) / estimates.length;
    expect(mean / percent).toBeGreaterThan(0.95);
    expect(mean / percent).toBeLessThan(1.05);
  });

  it('is the rounding’s q/√12 where an 8-bit converter sees nothing else', () => {
    const { noisePercent } = trace()
      .record(0, 3000)
      .burst({ timeUs: 8, amplitudePercent: 80 })
      .noise(0.01)
      .quantised(8)
      .conditioned();
    expect(noisePercent).toBeCloseTo(200 / 256 / Math.sqrt(12), 6);
  });
});

describe('the quiet part', () => {
  it('leaves out the main bang and each echo with its feet', () => {
    const conditioned = trace()
      .record(0, 3000)
      .mainBang({ amplitudePercent: 90, decayUs: 0.4 })
      .burst({ timeUs: 12, amplitudePercent: 80 })
      .noise(0.3)
      .conditioned();
    for (const { first, last } of conditioned.quiet) {
      expect(first / 100).toBeGreaterThan(0.9);
      expect(last / 100 < 11.7 || first / 100 > 12.3).toBe(true);
    }
    const total = conditioned.quiet.reduce((sum, run) => sum + run.last - run.first + 1, 0);
    expect(total).toBeGreaterThan(2500);
  });

  const flat = { level: 1, middle: 0, slope: 0 };

  it('reaches to the beginning of noise that dies away by six times along the record', () => {
    const random = normal(8);
    const envelope = Float64Array.from(
      { length: 3000 },
      (_, i) => Math.exp(-i / 1700) * Math.hypot(random(), random()),
    );
    const level = envelopeNoise(envelope, 0) ?? 0;
    const trend = noiseTrend(envelope, 0, level);
    expect(trend.slope).toBeCloseTo(-1 / 1700, 4);
    const total = quietRuns(envelope, 0, trend).reduce((sum, run) => sum + run.last - run.first + 1, 0);
    expect(total).toBeGreaterThan(2850);
  });

  it('has no trend where none can be told from chance', () => {
    const random = normal(9);
    const envelope = Float64Array.from({ length: 3000 }, () => Math.hypot(random(), random()));
    expect(noiseTrend(envelope, 0, 1)).toEqual(flat);
    expect(noiseTrend(new Float64Array(100), 0, 0)).toEqual({ ...flat, level: 0 });
  });

  it('is empty where too little is left', () => {
    expect(quietRuns(new Float64Array(100).fill(50), 0, flat)).toEqual([]);
    expect(quietRuns(new Float64Array(20), 0, flat)).toEqual([]);
  });
});

describe('signal to noise', () => {
  it.each([
    { noisePercent: null, amplitude: 50, db: null },
    { noisePercent: 0, amplitude: 50, db: null },
    { noisePercent: 0.5, amplitude: 0, db: null },
    { noisePercent: 0.5, amplitude: 50, db: 40 },
  ])('$amplitude over $noisePercent is $db dB', ({ noisePercent, amplitude, db }) => {
    const ratio = signalToNoiseDb({ noisePercent }, amplitude);
    if (db === null) expect(ratio).toBeNull();
    else expect(ratio).toBeCloseTo(db, 12);
  });
});

describe('the value at a rank', () => {
  it.each([
    { values: [7], rank: 0 },
    { values: [3, 3, 3, 3], rank: 2 },
    { values: [5, 1, 4, 2, 3], rank: 2 },
    { values: [1, 2, 3, 4, 5, 6], rank: 5 },
    { values: [6, 5, 4, 3, 2, 1], rank: 0 },
  ])('$rank of $values is that of the sorted values', ({ values, rank }) => {
    const sorted = [...values].sort((a, b) => a - b);
    expect(selectInto(Float64Array.from(values), values.length, rank)).toBe(sorted[rank]);
  });

  it('ignores what stands behind the count', () => {
    expect(medianInto(Float64Array.of(3, 1, 2, 99, 99), 3)).toBe(2);
  });
});
