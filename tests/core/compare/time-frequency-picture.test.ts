import { describe, expect, it } from 'vitest';
import { timeFrequencyPicture } from '../../../core/compare/time-frequency-picture.ts';
import { emptyReview } from '../../../core/review/review.ts';
import { condition } from '../../../core/signal/conditioning.ts';
import { trace } from '../../build/trace.ts';

const burst = { timeUs: 20, amplitudePercent: 80, frequencyMHz: 5, bandwidthPercent: 50 };

function traceOf(built: ReturnType<typeof trace>) {
  const conditioned = condition(built.capture().waveform, emptyReview.conditioning);
  if (!conditioned.ok) throw new Error('not conditioned');
  return conditioned.value;
}

const pulse = traceOf(trace().record(10, 2500).burst(burst).noise(0.02, 3));
const gate = { fromUs: 18, toUs: 22 };

describe('the picture of an echo over time and frequency', () => {
  it.each(['spectrogram', 'scalogram'] as const)('a %s is highest where the burst is, at its frequency', (method) => {
    const made = timeFrequencyPicture('a.csv', pulse, gate, method);
    if (!made.ok) throw new Error('no picture');
    const { levelsDb, rows, startUs, stepUs, startMHz, stepMHz, floorDb, columns } = made.value;
    const highest = levelsDb.indexOf(0);
    expect(startUs + Math.floor(highest / rows) * stepUs).toBeCloseTo(20, 1);
    expect(Math.abs(startMHz + (highest % rows) * stepMHz - 5)).toBeLessThan(0.35);
    expect(Math.min(...levelsDb)).toBe(floorDb);
    expect(levelsDb).toHaveLength(rows * columns);
  });

  it('shows the gate and half of it on either side, in the middle of its pieces', () => {
    const made = timeFrequencyPicture('a.csv', pulse, gate, 'scalogram');
    if (!made.ok) throw new Error('no picture');
    const { startUs, stepUs, columns } = made.value;
    expect(startUs).toBeCloseTo(16, 6);
    expect(startUs + (columns - 1) * stepUs).toBeGreaterThan(23.9);
  });

  it.each([
    ['a record without sign', traceOf(trace().record(10, 2500).burst(burst).rectified('full')), gate, 'rectified'],
    ['a gate beside the record', pulse, { fromUs: 100, toUs: 104 }, 'outside-record'],
    ['a gate of a few samples', pulse, { fromUs: 20, toUs: 20.05 }, 'too-few-samples'],
  ] as const)('%s has none, and says why', (_name, record, window, code) => {
    const made = timeFrequencyPicture('a.csv', record, window, 'spectrogram');
    expect(made.ok).toBe(false);
    if (!made.ok) expect(made.problems[0]).toMatchObject({ code, place: { file: 'a.csv' } });
  });
});
