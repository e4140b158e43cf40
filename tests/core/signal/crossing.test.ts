import { describe, expect, it } from 'vitest';
import type { Trace } from '../../../core/signal/conditioning.ts';
import { firstCrossing } from '../../build/first-crossing.ts';
import { trace } from '../../build/trace.ts';

const conditioned = trace().record(0, 2000).burst({ timeUs: 10, amplitudePercent: 60 }).noise(0.2).conditioned();
/** A trace whose envelope is given, sample by sample, 1 µs apart from 100 µs. */
const of = (envelope: readonly number[]): Trace => ({
  ...conditioned,
  startUs: 100,
  stepUs: 1,
  samples: Float64Array.from(envelope),
  envelope: Float64Array.from(envelope),
  quiet: [],
  noisePercent: null,
});
const whole = { first: 0, last: 99 };

describe('the first upward crossing of a threshold', () => {
  it.each([
    { name: 'nothing reaches it', envelope: [0, 5, 9, 5, 0], timeUs: null },
    { name: 'the first sample stands above it already: no crossing', envelope: [50, 40, 30, 5], timeUs: null },
    { name: 'above at first, then down and up again: the later one', envelope: [50, 5, 15, 30], timeUs: 101.5 },
    { name: 'between two samples, in proportion', envelope: [0, 0, 40, 0], timeUs: 101.25 },
    { name: 'on a sample', envelope: [0, 10, 20], timeUs: 101 },
    { name: 'the first of two', envelope: [0, 20, 0, 20, 0], timeUs: 100.5 },
    { name: 'one sample', envelope: [20], timeUs: null },
  ])('$name', ({ envelope, timeUs }) => {
    expect(firstCrossing(of(envelope), whole, 10)?.timeUs ?? null).toBe(timeUs);
  });

  it('begins at the range: a flank before it does not count', () => {
    expect(firstCrossing(of([0, 20, 30, 0, 20]), { first: 1, last: 4 }, 10)?.timeUs).toBe(103.5);
    expect(firstCrossing(of([0, 20, 30, 0, 20]), { first: 1, last: 3 }, 10)).toBeNull();
  });

  it('has no uncertainty where the noise is unknown', () => {
    expect(firstCrossing(of([0, 20, 40]), whole, 10)?.uTimeUs).toBeNull();
  });

  it('has the noise over the slope where it is known', () => {
    const crossing = firstCrossing(conditioned, { first: 900, last: 1100 }, 30);
    const i = Math.floor((crossing?.timeUs ?? 0) / 0.01);
    const slope = (conditioned.envelope[i + 1] - conditioned.envelope[i]) / 0.01;
    const simple = 0.2 / slope;
    expect((crossing?.uTimeUs ?? 0) / simple).toBeGreaterThan(0.6);
    expect((crossing?.uTimeUs ?? 0) / simple).toBeLessThan(1.2);
  });
});
