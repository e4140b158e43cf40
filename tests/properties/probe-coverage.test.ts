import { describe, expect, it } from 'vitest';
import type { Waveform } from '../../core/capture/waveform.ts';
import type { ProbeFigure } from '../../core/probe/figures.ts';
import { measurePulse } from '../../core/probe/pulse.ts';
import { defaultSpectrumSettings } from '../../core/probe/window.ts';
import { condition, defaultRecipe } from '../../core/signal/conditioning.ts';
import { normal } from '../build/random.ts';

/*
 * Stated uncertainties against what noise really does (Monte Carlo): one echo, many noises. The spread of each figure over the draws is held against the
 * mean of the uncertainties stated, one draw at a time; and the figure's mean against that of the echo without noise.
 */
const draws = 400;

type Shape = (t: number) => number;
const gaussian =
  (sigmaUs: number, frequencyMHz: number): Shape =>
  (t) =>
    80 * Math.exp(-0.5 * (t / sigmaUs) ** 2) * Math.cos(2 * Math.PI * frequencyMHz * t + 0.6);
const skewed: Shape = (t) =>
  t < -0.3 ? 0 : 400 * (t + 0.3) * Math.exp(-(t + 0.3) / 0.16) * Math.sin(2 * Math.PI * 4 * t);

/** White noise through a short resonant filter, of the standard deviation wanted: grain noise has the probe's own band. */
function coloured(random: () => number, count: number, sd: number): Float64Array {
  const noise = new Float64Array(count);
  const r = 0.8;
  const b = 2 * r * Math.cos((2 * Math.PI * 5) / 100);
  let [one, two] = [0, 0];
  let squares = 0;
  for (let i = 0; i < count; i++) {
    const next = random() + b * one - r * r * two;
    two = one;
    one = next;
    noise[i] = next;
    squares += next * next;
  }
  const scale = sd / Math.sqrt(squares / count);
  return noise.map((value) => value * scale);
}

function figuresOf(shape: Shape, noise: Float64Array | null) {
  const waveform: Waveform = {
    startUs: 10,
    stepUs: 0.01,
    samples: Float64Array.from({ length: 3000 }, (_, i) => shape(i / 100 - 10) + (noise?.[i] ?? 0)),
    amplitudeUnit: 'percent',
    fullScreen: 100,
    zeroLevel: 0,
    rectification: 'rf',
  };
  const outcome = condition(waveform, { ...defaultRecipe, baseline: 'none' });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  const pulse = measurePulse('a', outcome.value, 40, {
    gate: { fromUs: 18.5, toUs: 22 },
    spectrum: defaultSpectrumSettings,
    elementMm: 10,
    velocityMPerS: 5920,
    curves: false,
  });
  return pulse.figures;
}

const smooth: readonly ProbeFigure[] = [
  'peak-frequency',
  'centre-frequency-e1065',
  'centre-frequency-iso',
  'bandwidth-6-db',
  'relative-bandwidth-e1065',
  'relative-bandwidth-iso',
  'bandwidth-20-db',
  'duration-iso',
  'ring-down',
  'decay-rate',
  'logarithmic-decrement',
  'height',
  'sensitivity',
  'near-field',
  'beam-half-angle-6-db',
  'duration-e1065-14-db',
  'duration-e1065-20-db',
];

const echoes: readonly [string, Shape, 'white' | 'coloured', number][] = [
  ['Gaussian, white noise of 0.5 %', gaussian(0.125, 5), 'white', 0.5],
  ['Gaussian, white noise of 1.5 %', gaussian(0.125, 5), 'white', 1.5],
  ['Gaussian, noise of the probe’s band, 0.7 %', gaussian(0.15, 5), 'coloured', 0.7],
  ['skewed pulse, white noise of 0.7 %', skewed, 'white', 0.7],
];

describe.each(echoes)('%s', (_, shape, kind, sd) => {
  const found = new Map<ProbeFigure, { values: number[]; stated: number[] }>();
  for (let seed = 1; seed <= draws; seed++) {
    const random = normal(seed);
    const noise =
      kind === 'white' ? Float64Array.from({ length: 3000 }, () => sd * random()) : coloured(random, 3000, sd);
    const figures = figuresOf(shape, noise);
    for (const name of smooth) {
      const { quantity } = figures[name];
      if (quantity === null) continue;
      const of = found.get(name) ?? { values: [], stated: [] };
      of.values.push(quantity.value);
      of.stated.push(quantity.standardUncertainty ?? Number.NaN);
      found.set(name, of);
    }
  }
  const mean = (list: readonly number[]) => list.reduce((sum, value) => sum + value, 0) / list.length;
  const truth = figuresOf(shape, null);

  it.each(smooth)('%s: the uncertainty stated is the spread found, and twice of it holds the truth', (name) => {
    const of = found.get(name);
    // A level that lies near the noise is measured on some draws and refused on others: those that were are no fair sample.
    if (of === undefined || of.values.length < 0.9 * draws || truth[name].quantity === null) {
      expect(of === undefined || of.values.length < draws).toBe(true);
      return;
    }
    const middle = mean(of.values);
    const spread = Math.sqrt(mean(of.values.map((value) => (value - middle) ** 2)));
    const ratio = mean(of.stated) / spread;
    // A height counts the noise of one sample, and is made from several: at most twice too large.
    expect(ratio).toBeGreaterThan(0.7);
    expect(ratio).toBeLessThan(2.1);
    const value = truth[name].quantity.value;
    const held = mean(of.values.map((each, k) => (Math.abs(each - value) <= 2 * of.stated[k] ? 1 : 0)));
    expect(held).toBeGreaterThan(0.85);
  });
});
