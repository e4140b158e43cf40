import { describe, expect, it } from 'vitest';
import {
  heightAtReference,
  heightUncertaintyDb,
  levelAboveReference,
  referenceLevel,
} from '../../../core/sensitivity/reference-level.ts';

const exact = { uCouplingDb: 0, uGainDb: 0 };
const read = (amplitudePercent: number, gainDb: number | null, signalToNoiseDb: number | null = null) => ({
  amplitudePercent,
  gainDb,
  signalToNoiseDb,
});
const asked = { percent: 80, gainDb: null };

describe('referenceLevel', () => {
  it('is the gain at which the highest echo stands at the reference height, gain taken out', () => {
    // 40 % at 40 dB would be 80 % at 46.02 dB; 70 % at 60 dB is 20 dB lower by its gain.
    const reference = referenceLevel([read(40, 40), read(70, 60)], asked);
    expect(reference.gainDb).toBeCloseTo(40 + 20 * Math.log10(2), 12);
    expect([reference.by, reference.setAtDb]).toEqual(['highest-point', 40]);
  });

  it('is the person’s gain where they state one', () => {
    expect(referenceLevel([read(40, 40)], { percent: 80, gainDb: 44 })).toMatchObject({ gainDb: 44, by: 'stated' });
  });

  it('without gains raises all heights alike', () => {
    const reference = referenceLevel([read(40, null), read(20, null)], asked);
    expect(reference.gainDb).toBeNull();
    expect(levelAboveReference(read(40, null), reference, exact).value).toBeCloseTo(0, 12);
    expect(levelAboveReference(read(20, null), reference, exact).value).toBeCloseTo(-6.0206, 4);
  });
});

describe('levelAboveReference', () => {
  const reference = referenceLevel([read(80, 40)], asked);

  it.each<[string, number, number, number]>([
    ['the reference itself', 80, 40, 0],
    ['half of it at the same gain', 40, 40, -6.0206],
    ['as high with 6 dB more gain', 80, 46, -6],
    ['as high with 6 dB less gain', 80, 34, 6],
    ['a fifth with 12 dB more gain', 16, 52, -25.9794],
  ])('%s', (_, percent, gainDb, levelDb) => {
    const level = levelAboveReference(read(percent, gainDb), reference, exact);
    expect(level.value).toBeCloseTo(levelDb, 4);
    expect(heightAtReference(level, reference).value).toBeCloseTo(percent * 10 ** ((40 - gainDb) / 20), 9);
  });

  it('has the noise, the coupling, and the gain where it is another one, in its uncertainty', () => {
    // 40 dB over the noise: 1 % of the height is 0.0869 dB (20/ln 10 = 8.686).
    expect(heightUncertaintyDb(40, exact)).toBeCloseTo(0.086859, 6);
    const errors = { uCouplingDb: 0.3, uGainDb: 0.4 };
    expect(levelAboveReference(read(80, 40, 200), reference, errors).standardUncertainty).toBeCloseTo(0.3, 6);
    expect(levelAboveReference(read(80, 46, 200), reference, errors).standardUncertainty).toBeCloseTo(0.5, 6);
    expect(levelAboveReference(read(80, 46, null), reference, errors).standardUncertainty).toBeNull();
  });
});
