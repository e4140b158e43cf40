import { describe, expect, it } from 'vitest';
import { designBandPass } from '../../../core/signal/band-pass.ts';
import { baselineOf } from '../../../core/signal/baseline.ts';
import { type ConditioningRecipe, condition, defaultRecipe } from '../../../core/signal/conditioning.ts';
import { conditionInBlocks, longestWhole } from '../../../core/signal/long-record.ts';
import { trace } from '../../build/trace.ts';

const count = 120_000;
const waveform = [100, 350, 500, 777.7, 1100]
  .reduce((built, timeUs) => built.burst({ timeUs, amplitudePercent: 80 }), trace().record(0, count))
  .noise(1)
  .waveform();
const inBlocks = (band: { lowMHz: number; highMHz: number; order: number } | null) =>
  conditionInBlocks(
    waveform,
    1,
    baselineOf(waveform.samples, 'linear'),
    band && designBandPass(band.lowMHz, band.highMHz, band.order, 100),
  );
const whole = (bandPass: ConditioningRecipe['bandPass']) => {
  const outcome = condition(waveform, { ...defaultRecipe, bandPass });
  if (!outcome.ok) throw new Error('whole');
  return outcome.value;
};
const worst = (a: Float64Array, b: Float64Array) => {
  let most = 0;
  for (let i = 3000; i < count - 3000; i++) most = Math.max(most, Math.abs(a[i] - b[i]));
  return most;
};

describe('a long record by blocks equals the same record whole', () => {
  it.each([
    { lowMHz: 1.5, highMHz: 9, order: 4 },
    { lowMHz: 1, highMHz: 20, order: 2 },
    { lowMHz: 3, highMHz: 6, order: 3 },
    { lowMHz: 2, highMHz: 30, order: 6 },
  ])('to 1e-9 % FSH with a band-pass of order $order, $lowMHz to $highMHz MHz', (band) => {
    const blocks = inBlocks(band);
    const reference = whole(band);
    expect(worst(blocks.samples, reference.samples)).toBeLessThan(1e-9);
    expect(worst(blocks.envelope, reference.envelope)).toBeLessThan(1e-9);
  });

  it('to 0.02 % FSH without one', () => {
    const blocks = inBlocks(null);
    const reference = whole(null);
    expect(worst(blocks.samples, reference.samples)).toBeLessThan(1e-12);
    expect(worst(blocks.envelope, reference.envelope)).toBeLessThan(0.02);
  });

  it('is the way of records longer than a quarter of a million samples', () => {
    const long = trace()
      .record(0, longestWhole + 1)
      .burst({ timeUs: 1200, amplitudePercent: 80 })
      .noise(0.3)
      .in('volt', 2)
      .conditioned();
    expect(long.envelope).toHaveLength(longestWhole + 1);
    expect(Math.max(...long.envelope.slice(119_950, 120_050))).toBeGreaterThan(78);
    expect(Math.abs((long.noisePercent ?? 0) - 0.3)).toBeLessThan(0.03);
  });
});
