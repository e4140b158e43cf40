import { afterAll, describe, expect, it } from 'vitest';
import type { Waveform } from '../../core/capture/waveform.ts';
import { type ConditioningRecipe, condition, defaultRecipe } from '../../core/signal/conditioning.ts';
import { highestIn } from '../../core/signal/peak.ts';
import { rectify } from '../../core/signal/rectify.ts';
import { firstCrossing } from '../build/first-crossing.ts';
import { normal, uniform } from '../build/random.ts';

/*
 * Times found on simulated bursts against the truth that was put in: bias, spread, and the uncertainty that was stated.
 * The table is printed at the end. Source: simulation, seeded; the truth is the middle of the burst (for a crossing: where
 * the closed form of its envelope meets the threshold).
 */

const runs = 150;

interface Case {
  readonly frequencyMHz: number;
  readonly bandwidthPercent: number;
  readonly rateMHz: number;
  readonly grain: boolean;
  readonly noisePercent: number;
  readonly bits: number;
  readonly amplitudePercent: number;
  readonly rectification: Waveform['rectification'];
  /** In which the noise falls by a factor e; the echo lies in the middle of the record, or at the part given. */
  readonly dieAwayUs?: number;
  readonly at?: number;
}

interface Spread {
  readonly biasNs: number;
  readonly spreadNs: number;
  readonly statedNs: number;
  readonly ratio: number;
  /** Share of the errors within 1.96 times the uncertainty stated for each. */
  readonly within95: number;
}

const rf = (
  frequencyMHz: number,
  bandwidthPercent: number,
  rateMHz: number,
  noise: string,
  bits: number,
  amplitudePercent = 80,
): Case => {
  const [kind, percent] = noise.split(' ');
  return {
    frequencyMHz,
    bandwidthPercent,
    rateMHz,
    grain: kind === 'grain',
    noisePercent: Number(percent),
    bits,
    amplitudePercent,
    rectification: 'rf',
  };
};

const cases: readonly Case[] = [
  rf(5, 60, 100, 'white 0.1', 12),
  rf(5, 60, 100, 'white 0.3', 12),
  rf(5, 60, 100, 'white 1', 12),
  rf(5, 60, 100, 'white 2', 12, 40),
  rf(4, 30, 100, 'white 0.3', 12),
  rf(4, 30, 100, 'white 2', 12),
  rf(4, 60, 50, 'white 0.3', 12),
  rf(5, 80, 50, 'white 1', 12),
  rf(5, 60, 100, 'grain 0.3', 12),
  rf(5, 60, 100, 'grain 2', 12),
  rf(4, 30, 50, 'grain 1', 12),
  rf(5, 60, 100, 'white 0.1', 8),
  rf(5, 60, 100, 'white 0.3', 8),
  rf(4, 30, 100, 'white 0.2', 8),
];

function sigmaUs({ frequencyMHz, bandwidthPercent }: Case): number {
  return Math.sqrt(2 * Math.LN2) / (Math.PI * (bandwidthPercent / 100) * frequencyMHz);
}

/** White noise, or noise with the probe's own spectrum (grain): white noise through the burst's shape. */
function noiseOf(c: Case, count: number, random: () => number): Float64Array {
  if (!c.grain) return Float64Array.from({ length: count }, () => c.noisePercent * random());
  const sigma = sigmaUs(c);
  const reach = Math.ceil(4 * sigma * c.rateMHz);
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, k) => {
    const t = (k - reach) / c.rateMHz;
    return Math.exp(-0.5 * (t / sigma) ** 2) * Math.cos(2 * Math.PI * c.frequencyMHz * t);
  });
  const scale = c.noisePercent / Math.sqrt(kernel.reduce((sum, value) => sum + value * value, 0));
  const white = Float64Array.from({ length: count + 2 * reach }, random);
  return Float64Array.from({ length: count }, (_, i) =>
    kernel.reduce((sum, value, k) => sum + scale * value * white[i + k], 0),
  );
}

function waveformOf(c: Case, truthUs: number, phase: number, random: () => number): Waveform {
  const count = 1500;
  const sigma = sigmaUs(c);
  const noise = noiseOf(c, count, random);
  if (c.dieAwayUs) for (let i = 0; i < count; i++) noise[i] *= Math.exp(-i / c.rateMHz / c.dieAwayUs);
  const analogue = noise.map((sample, i) => {
    const t = i / c.rateMHz - truthUs;
    const wave = Math.exp(-0.5 * (t / sigma) ** 2) * Math.cos(2 * Math.PI * c.frequencyMHz * t + phase);
    return sample + c.amplitudePercent * wave;
  });
  const shown =
    c.rectification === 'rf' || c.rectification === 'envelope' ? analogue : rectify(analogue, c.rectification);
  const step = (c.rectification === 'rf' ? 200 : 100) / 2 ** c.bits;
  return {
    startUs: 20,
    stepUs: 1 / c.rateMHz,
    samples: shown.map((sample) => Math.round(sample / step) * step),
    amplitudeUnit: 'percent',
    fullScreen: 100,
    zeroLevel: 0,
    rectification: c.rectification,
  };
}

function measure(c: Case, recipe: ConditioningRecipe, crossingPart: number | null): Spread {
  const place = uniform(11);
  const random = normal(12);
  const errors: number[] = [];
  const stated: number[] = [];
  for (let run = 0; run < runs; run++) {
    const truthUs = (1500 * (c.at ?? 0.5)) / c.rateMHz + (7 * place()) / c.rateMHz;
    const outcome = condition(waveformOf(c, truthUs, 2 * Math.PI * place(), random), recipe);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    const range = {
      first: Math.round((truthUs - 1) * c.rateMHz),
      last: Math.round((truthUs + 1) * c.rateMHz),
    };
    const found =
      crossingPart === null
        ? highestIn(outcome.value, range)
        : firstCrossing(outcome.value, range, crossingPart * c.amplitudePercent);
    const early = crossingPart === null ? 0 : sigmaUs(c) * Math.sqrt(2 * Math.log(1 / crossingPart));
    if (found === null || found.uTimeUs === null) throw new Error('no time found');
    errors.push(1000 * (found.timeUs - 20 - (truthUs - early)));
    stated.push(1000 * found.uTimeUs);
  }
  const mean = errors.reduce((sum, error) => sum + error, 0) / runs;
  const spread = Math.sqrt(errors.reduce((sum, error) => sum + (error - mean) ** 2, 0) / (runs - 1));
  const root = Math.sqrt(stated.reduce((sum, u) => sum + u * u, 0) / runs);
  const inside = errors.filter((error, i) => Math.abs(error) <= 1.96 * stated[i]).length;
  return { biasNs: mean, spreadNs: spread, statedNs: root, ratio: root / spread, within95: inside / runs };
}

const table: string[] = [];

function note(method: string, c: Case, s: Spread): void {
  const noise = `${c.grain ? 'grain' : 'white'} ${c.noisePercent} %`.padEnd(12);
  const what = `${c.frequencyMHz} MHz ${c.bandwidthPercent} % at ${c.rateMHz} MHz`.padEnd(22);
  const figures = [s.biasNs, s.spreadNs, s.statedNs].map((ns) => ns.toFixed(2).padStart(8)).join('');
  const cover = `${(100 * s.within95).toFixed(1)} %`.padStart(8);
  table.push(
    `${method.padEnd(26)}${c.rectification.padEnd(10)}${what}${noise}${String(c.bits).padStart(3)} bit${figures}${s.ratio.toFixed(2).padStart(7)}${cover}`,
  );
}

const nameOf = (c: Case) =>
  `${c.rectification}, ${c.frequencyMHz} MHz ${c.bandwidthPercent} %, ${c.rateMHz} MHz, ${c.grain ? 'grain' : 'white'} ${c.noisePercent} %, ${c.bits} bit, ${c.amplitudePercent} %`;
const named = (list: readonly Case[]) => list.map((c) => ({ name: nameOf(c), c }));

/** Of 150 runs the spread itself is known to 6 % (one standard deviation). */
const least = 0.8;
const most = 1.2;
const band = { lowMHz: 1.5, highMHz: 9, order: 4 };

afterAll(() => {
  const head = `${'method'.padEnd(26)}${'record'.padEnd(10)}${'burst'.padEnd(22)}${'noise'.padEnd(12)}bits      bias  spread  stated  ratio  within`;
  console.log(['ns', head, ...table].join('\n'));
});

describe.each([
  { method: 'log parabola', recipe: defaultRecipe },
  { method: 'three points', recipe: { ...defaultRecipe, peak: 'three-point' as const } },
  { method: 'log parabola, band-pass', recipe: { ...defaultRecipe, bandPass: band } },
  { method: 'three points, band-pass', recipe: { ...defaultRecipe, bandPass: band, peak: 'three-point' as const } },
])('peak by $method', ({ method, recipe }) => {
  it.each(named(cases))('$name: the stated uncertainty is the spread', ({ c }) => {
    const spread = measure(c, recipe, null);
    note(method, c, spread);
    expect(spread.ratio).toBeGreaterThan(least);
    expect(spread.ratio).toBeLessThan(most);
    expect(Math.abs(spread.biasNs)).toBeLessThan(0.3 * spread.spreadNs);
  });
});

describe('crossing of a quarter of the height', () => {
  // Noise of several per cent crosses a low threshold early: that bias is part of what is stated.
  it.each(named(cases.filter((c) => c.noisePercent < 1)))('$name: the stated uncertainty is the spread', ({ c }) => {
    const spread = measure(c, defaultRecipe, 0.25);
    note('crossing', c, spread);
    expect(spread.ratio).toBeGreaterThan(least);
    // The hollow flank's bias is stated at its most: measured up to 1.21.
    expect(spread.ratio).toBeLessThan(1.25);
  });
  it.each(named(cases.filter((c) => c.noisePercent >= 1)))(
    '$name: 1.96 times the uncertainty holds 80 of 100',
    ({ c }) => {
      const spread = measure(c, defaultRecipe, 0.25);
      note('crossing', c, spread);
      expect(spread.within95).toBeGreaterThan(0.8);
    },
  );
});

// Fifteen microseconds of coloured noise tell their own decay poorly: measured ratios 0.91 to 1.50 (late grain, and noise stronger by chance beside the echo: too large).
describe('grain that dies away with depth: the uncertainty is that of the noise where the echo lies', () => {
  const dying: readonly Case[] = [0.12, 0.5, 0.88].flatMap((at) => [
    { ...rf(5, 60, 100, 'grain 2', 12), dieAwayUs: 12, at },
    { ...rf(5, 60, 100, 'white 1', 12), dieAwayUs: 8, at },
  ]);
  it.each(dying.map((c) => ({ name: `${nameOf(c)}, e-fold in ${c.dieAwayUs} µs, echo at ${c.at} of the record`, c })))(
    '$name',
    ({ c }) => {
      const spread = measure(c, defaultRecipe, null);
      note(`log parabola, dying, ${c.at}`, c, spread);
      expect(spread.ratio).toBeGreaterThan(least);
      expect(spread.ratio).toBeLessThan(1.55);
    },
  );
});

describe('rectified records: the uncertainty is true or on the safe side', () => {
  const rectified: readonly Case[] = (['full', 'positive'] as const).flatMap((rectification) => [
    { ...rf(5, 60, 100, 'white 0.3', 12), rectification },
    { ...rf(5, 60, 100, 'grain 1', 12), rectification },
    { ...rf(5, 30, 100, 'white 0.3', 12), rectification },
    { ...rf(4, 40, 50, 'grain 0.3', 12), rectification },
  ]);
  it.each(named(rectified))('$name', ({ c }) => {
    const spread = measure(c, defaultRecipe, null);
    note('log parabola', c, spread);
    expect(spread.ratio).toBeGreaterThan(least);
    expect(spread.ratio).toBeLessThan(2.6);
  });
});

describe('against what was learned by trying', () => {
  it('errs by less than a thousandth of a cycle by the logarithm, 0.3 % of noise under 80 %, 4 MHz (trade practice, simulated)', () => {
    // Half a cycle is 0.125 µs; a thousandth of a cycle is 0.25 ns as a bias.
    const spread = measure(rf(4, 60, 100, 'white 0.3', 12), defaultRecipe, null);
    expect(Math.abs(spread.biasNs)).toBeLessThan(0.25);
    expect(spread.spreadNs).toBeLessThan(1);
  });
});
