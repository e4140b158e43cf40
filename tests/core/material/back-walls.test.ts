import { describe, expect, it } from 'vitest';
import type { Waveform } from '../../../core/capture/waveform.ts';
import { type BackWallSettings, type CaptureMaterial, measureBackWalls } from '../../../core/material/back-walls.ts';
import { condition, defaultRecipe } from '../../../core/signal/conditioning.ts';
import { normal } from '../../build/random.ts';

/*
 * Echoes of a back wall in a material that attenuates by the square of the frequency: a Gaussian spectrum exp(−c·(f − f₀)²) times exp(−k·f²) is again
 * one, about c·f₀/(c + k). So every echo, its height, and the attenuation at each frequency are known in closed form (derived).
 */
const thicknessMm = 25;
const velocity = 5920;
const perMHz2 = 0.0012;
const f0 = 5;
const sigma = 0.125;

interface Echo {
  readonly timeUs: number;
  readonly sigmaUs: number;
  readonly frequencyMHz: number;
  readonly percent: number;
}

function echoOf(n: number, fall = 1): Echo {
  const c = 2 * Math.PI ** 2 * sigma ** 2;
  const k = (perMHz2 * Math.LN10 * 2 * thicknessMm * (n - 1)) / 20;
  const sigmaUs = Math.sqrt((c + k) / (2 * Math.PI ** 2));
  return {
    timeUs: 0.5 + (2000 * n * thicknessMm) / velocity,
    sigmaUs,
    frequencyMHz: (c * f0) / (c + k),
    percent: (80 * fall * (sigma / sigmaUs) * Math.exp((-c * k * f0 ** 2) / (c + k))) / n,
  };
}

function measured(
  echoes: readonly (Echo & { readonly sign?: 1 | -1 })[],
  noisePercent: number,
  settings: Partial<BackWallSettings> = {},
  rectification: Waveform['rectification'] = 'rf',
  seed = 1,
): CaptureMaterial {
  const random = normal(seed);
  const waveform: Waveform = {
    startUs: 5,
    stepUs: 0.01,
    samples: Float64Array.from({ length: 3000 }, (_, i) => {
      const t = 5 + i / 100;
      const sum = echoes.reduce((total, { timeUs, sigmaUs, frequencyMHz, percent, sign = 1 }) => {
        const away = t - timeUs;
        return (
          total + sign * percent * Math.exp(-0.5 * (away / sigmaUs) ** 2) * Math.cos(2 * Math.PI * frequencyMHz * away)
        );
      }, 0);
      const value = sum + noisePercent * random();
      return rectification === 'rf' ? value : Math.abs(value);
    }),
    amplitudeUnit: 'percent',
    fullScreen: 100,
    zeroLevel: 0,
    rectification,
  };
  const outcome = condition(waveform, { ...defaultRecipe, baseline: 'none' });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return measureBackWalls('a.csv', outcome.value, {
    thicknessMm,
    spreading: { kind: 'far-field' },
    echoes: [
      { multiple: 1, fromUs: 7.5, toUs: 10.5 },
      { multiple: 2, fromUs: 16, toUs: 19 },
      { multiple: 3, fromUs: 24.4, toUs: 27.4 },
    ],
    ...settings,
  });
}

const three = [echoOf(1), echoOf(2), echoOf(3)];

describe('velocity from back-wall echoes', () => {
  it('is that of the spacing; the zero offset is not in it', () => {
    const { velocityMPerS, echoes } = measured(three, 0.1);
    expect(velocityMPerS?.value).toBeCloseTo(velocity, 0);
    expect(echoes.map(({ doubts }) => doubts)).toEqual([[], [], []]);
  });

  it('turns an echo over that arrives upside down', () => {
    const { velocityMPerS, echoes } = measured([three[0], { ...three[1], sign: -1 }, three[2]], 0.1);
    expect(velocityMPerS?.value).toBeCloseTo(velocity, 0);
    expect(echoes[1].correlation).toBeLessThan(-0.98);
  });

  it('states the spread that noise makes, by Monte Carlo', () => {
    const draws = Array.from({ length: 150 }, (_, k) => measured(three, 1, {}, 'rf', k + 1).velocityMPerS!);
    const mean = draws.reduce((sum, { value }) => sum + value / draws.length, 0);
    const spread = Math.sqrt(draws.reduce((sum, { value }) => sum + (value - mean) ** 2 / (draws.length - 1), 0));
    const stated = draws.reduce((sum, { standardUncertainty }) => sum + standardUncertainty! / draws.length, 0);
    expect(stated / spread).toBeGreaterThan(0.8);
    expect(stated / spread).toBeLessThan(2);
    expect(Math.abs(mean - velocity)).toBeLessThan(3 * stated);
  });

  it('doubts an echo that another lies upon', () => {
    const other = { ...three[1], timeUs: three[1].timeUs + 0.42, percent: 28 };
    const { echoes } = measured([three[0], { ...three[1] }, other, three[2]], 0.1);
    expect(echoes.some(({ doubts }) => doubts.length > 0) || echoes.length < 3).toBe(true);
  });
});

describe('attenuation by spectral ratio', () => {
  it('is 0.0012 dB/mm/MHz² · f² in the whole band, once 1/distance is taken out', () => {
    const { attenuation } = measured(three, 0.05);
    if (attenuation === null) throw new Error('no attenuation');
    expect(attenuation.frequenciesMHz[0]).toBeLessThan(3.2);
    expect(attenuation.frequenciesMHz.at(-1)).toBeGreaterThan(6.2);
    for (const [i, frequency] of attenuation.frequenciesMHz.entries()) {
      const u = attenuation.uDbPerMm?.[i] ?? 0;
      expect(Math.abs(attenuation.dbPerMm[i] - perMHz2 * frequency ** 2)).toBeLessThan(4 * u + 0.0003);
    }
  });

  it('without the spreading is higher by 20·log10(3)/100 mm, and says nothing of the material', () => {
    const spread = measured(three, 0.05).attenuation;
    const raw = measured(three, 0.05, { spreading: { kind: 'none' } }).attenuation;
    for (const [i, value] of raw!.dbPerMm.entries())
      expect(value - spread!.dbPerMm[i]).toBeCloseTo((20 * Math.log10(3)) / 100, 9);
  });

  it('states the spread that noise makes at the middle of the band, by Monte Carlo', () => {
    const values: number[] = [];
    const stated: number[] = [];
    for (let seed = 1; seed <= 150; seed++) {
      const { attenuation } = measured(three, 0.3, {}, 'rf', seed);
      const line = attenuation?.frequenciesMHz.findIndex((frequency) => Math.abs(frequency - 4.75) < 0.05) ?? -1;
      if (attenuation === null || line < 0) continue;
      values.push(attenuation.dbPerMm[line]);
      stated.push(attenuation.uDbPerMm![line]);
    }
    expect(values.length).toBeGreaterThan(140);
    const mean = values.reduce((sum, value) => sum + value / values.length, 0);
    const spread = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2 / (values.length - 1), 0));
    const u = stated.reduce((sum, value) => sum + value / stated.length, 0);
    expect(u / spread).toBeGreaterThan(0.8);
    expect(u / spread).toBeLessThan(1.25);
  });

  it('stops where the far echo meets its noise: more noise, a narrower band; too much, none', () => {
    const widthOf = (noise: number) => measured(three, noise).attenuation?.frequenciesMHz.length ?? 0;
    expect(widthOf(0.3)).toBeLessThan(widthOf(0.05));
    const drowned = measured(three, 2);
    expect(drowned.attenuation).toBeNull();
    expect(drowned.withoutAttenuation).not.toBeNull();
  });
});

describe('what cannot be measured', () => {
  const window = (fromUs: number, toUs: number) => ({
    echoes: [
      { multiple: 1, fromUs: 7.5, toUs: 10.5 },
      { multiple: 2, fromUs, toUs },
    ],
  });
  it.each([
    ['a gate that cuts the echo', window(17.4, 19), 'cut-by-gate'],
    ['a gate with nothing in it', window(12, 15), 'buried-in-noise'],
    ['a gate beyond the record', window(33, 40), 'outside-record'],
  ])('%s: no velocity, and the reason', (_, settings, hindrance) => {
    const result = measured(three, 0.3, settings);
    expect(result.velocityMPerS).toBeNull();
    expect(result.attenuation).toBeNull();
    expect(result.hindrances).toEqual([{ multiple: 2, hindrance }]);
  });

  it('a rectified record has neither', () => {
    const result = measured(three, 0.1, {}, 'full');
    expect(result.velocityMPerS).toBeNull();
    expect(result.hindrances.map(({ hindrance }) => hindrance)).toEqual(['rectified', 'rectified', 'rectified']);
  });
});
