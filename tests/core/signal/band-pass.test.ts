import { describe, expect, it } from 'vitest';
import { bandPass, designBandPass, zeroPhaseGain } from '../../../core/signal/band-pass.ts';
import { baselineOf } from '../../../core/signal/baseline.ts';

const tone = (frequencyMHz: number) =>
  Float64Array.from({ length: 4000 }, (_, i) => Math.sin((2 * Math.PI * frequencyMHz * i) / 100));

describe('the zero-phase band-pass', () => {
  it.each([1, 2, 3, 4, 7])('of order %d halves the amplitude at both edges (closed form, two passes)', (order) => {
    const filter = designBandPass(2, 8, order, 100);
    expect(zeroPhaseGain(filter, 2)).toBeCloseTo(0.5, 10);
    expect(zeroPhaseGain(filter, 8)).toBeCloseTo(0.5, 10);
  });

  it.each([
    { frequencyMHz: 0, gain: 0 },
    { frequencyMHz: 50, gain: 0 },
    { frequencyMHz: 4, gain: 1 },
  ])('passes $gain at $frequencyMHz MHz', ({ frequencyMHz, gain }) => {
    expect(zeroPhaseGain(designBandPass(2, 8, 4, 100), frequencyMHz)).toBeCloseTo(gain, 3);
  });

  it('takes out a constant, whole', () => {
    for (const sample of bandPass(new Float64Array(200).fill(40), designBandPass(1, 9, 4, 100))) {
      expect(Math.abs(sample)).toBeLessThan(1e-9);
    }
  });

  it('moves no tone inside its band in time', () => {
    const given = tone(4);
    const filtered = bandPass(given, designBandPass(2, 8, 4, 100));
    for (let i = 1000; i < 3000; i++) expect(Math.abs(filtered[i] - given[i])).toBeLessThan(2e-3);
  });
});

describe('the base line', () => {
  it.each([
    { name: 'nothing of nothing', samples: [], kind: 'linear' as const, level: 0, slope: 0 },
    { name: 'one sample has a level and no slope', samples: [5], kind: 'linear' as const, level: 5, slope: 0 },
    { name: 'a straight line is its own', samples: [1, 3, 5, 7], kind: 'linear' as const, level: 4, slope: 2 },
    { name: 'the mean has no slope', samples: [1, 3, 5, 7], kind: 'mean' as const, level: 4, slope: 0 },
    { name: 'none is none', samples: [1, 3, 5, 7], kind: 'none' as const, level: 0, slope: 0 },
  ])('$name', ({ samples, kind, level, slope }) => {
    expect(baselineOf(samples, kind)).toMatchObject({ level, slope });
  });
});
