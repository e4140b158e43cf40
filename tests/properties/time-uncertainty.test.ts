import { describe, expect, it } from 'vitest';
import { type Rectification, samplesBetween, type Waveform } from '../../core/capture/waveform.ts';
import { condition, defaultRecipe, type Trace } from '../../core/signal/conditioning.ts';
import { firstRise, riseUncertaintyUs } from '../../core/signal/crossing.ts';
import { hilbert, transformSize } from '../../core/signal/fft.ts';
import { highestIn } from '../../core/signal/peak.ts';
import { normal, uniform } from '../build/random.ts';

/*
 * One echo of 5 MHz and 60 % bandwidth (σ = 0.375/(0.6·5) µs) at any phase and any place between the samples, in normal
 * noise, rounded by a converter, many times: what u is stated, and how far the time is from the truth.
 */
const frequencyMHz = 5;
const sigmaUs = 0.37478125 / (0.6 * frequencyMHz);
const echoes = 120;

/**
 * How the noise of a detected record came about: `apart`: the noise in step with the carrier and that across it know nothing
 * of each other, nor does a sample of the next; `white`, `shaped`: that of a receiver as wide as the sampling allows, or
 * of the echo's own band, is detected with the echo; `smoothed`: the same, but a full wave is smoothed over a third of a period.
 */
type Detection = 'apart' | 'white' | 'shaped' | 'smoothed';

interface Kind {
  readonly rectification: Rectification;
  readonly detection?: Detection;
  readonly bits: number;
  readonly rateMHz: number;
  readonly noisePercent: number;
  readonly heightPercent: number;
  readonly samples?: number;
}

interface Found {
  readonly trace: Trace;
  readonly truthUs: number;
  readonly heightPercent: number;
}

function* made(kind: Kind): Generator<Found> {
  const { rectification, bits, rateMHz, noisePercent, samples: count = 1024 } = kind;
  const seed = bits * 1000 + rateMHz * 7 + noisePercent * 130 + kind.heightPercent;
  const random = normal(seed);
  const any = uniform(seed);
  // A rectified record needs no sign.
  const step = (rectification === 'envelope' ? 100 : 200) / 2 ** bits;
  for (let echo = 0; echo < echoes; echo++) {
    const truthUs = (count / 2 + any()) / rateMHz;
    const phase = 2 * Math.PI * any();
    const heightPercent = kind.heightPercent * (0.975 + 0.05 * any());
    const envelopeAt = (i: number) => heightPercent * Math.exp(-0.5 * ((i / rateMHz - truthUs) / sigmaUs) ** 2);
    const carrierAt = (i: number) => 2 * Math.PI * frequencyMHz * (i / rateMHz - truthUs) + phase;
    const noise = noiseOf(kind, count, random);
    const echoAndNoise = Float64Array.from(noise, (value, i) => envelopeAt(i) * Math.cos(carrierAt(i)) + value);
    const across = () =>
      kind.detection === 'apart'
        ? noise.map((_, i) => envelopeAt(i) * Math.sin(carrierAt(i)) + noisePercent * random())
        : hilbert(echoAndNoise, transformSize(2 * count));
    const shown = rectification === 'envelope' ? detected(kind, echoAndNoise, across) : echoAndNoise;
    const samples = shown.map((value) => step * Math.round(value / step));
    if (rectification === 'full') for (let i = 0; i < count; i++) samples[i] = Math.abs(samples[i]);
    const waveform: Waveform = {
      startUs: 0,
      stepUs: 1 / rateMHz,
      samples,
      amplitudeUnit: 'percent',
      fullScreen: 100,
      zeroLevel: 0,
      rectification,
    };
    const outcome = condition(waveform, defaultRecipe);
    if (!outcome.ok) throw new Error(outcome.problems[0].sentence);
    yield { trace: outcome.value, truthUs, heightPercent };
  }
}

function noiseOf({ detection, noisePercent, rateMHz }: Kind, count: number, random: () => number): Float64Array {
  const white = Float64Array.from({ length: count }, () => noisePercent * random());
  if (detection !== 'shaped') return white;
  const half = Math.ceil(3 * sigmaUs * rateMHz);
  const pulse = Float64Array.from({ length: 2 * half + 1 }, (_, k) => {
    const t = (k - half) / rateMHz;
    return Math.exp(-0.5 * (t / sigmaUs) ** 2) * Math.cos(2 * Math.PI * frequencyMHz * t);
  });
  const scale = 1 / Math.hypot(...pulse);
  return white.map((_, i) =>
    pulse.reduce((sum, value, k) => sum + scale * value * white[(i + k - half + count) % count], 0),
  );
}

function detected({ detection, rateMHz }: Kind, samples: Float64Array, across: () => Float64Array): Float64Array {
  if (detection !== 'smoothed') {
    const quadrature = across();
    return samples.map((value, i) => Math.hypot(value, quadrature[i]));
  }
  const spread = (0.35 * rateMHz) / frequencyMHz;
  const half = Math.ceil(3 * spread);
  const weights = Float64Array.from({ length: 2 * half + 1 }, (_, k) => Math.exp(-0.5 * ((k - half) / spread) ** 2));
  const scale = Math.PI / 2 / weights.reduce((sum, weight) => sum + weight, 0);
  return samples.map((_, i) =>
    weights.reduce((sum, weight, k) => sum + scale * weight * Math.abs(samples[i + k - half] ?? 0), 0),
  );
}

interface Timing {
  readonly errorUs: number;
  readonly uUs: number | null;
}

const byPeak = ({ trace, truthUs }: Found): Timing => {
  const peak = highestIn(trace, samplesBetween(trace, truthUs - 1, truthUs + 1)!)!;
  return { errorUs: peak.timeUs - truthUs, uUs: peak.uTimeUs };
};

/** Half the echo's height is met √(2·ln 2) of σ before its top. */
const byFlank = ({ trace, truthUs, heightPercent }: Found): Timing => {
  const rise = firstRise(trace, samplesBetween(trace, truthUs - 1, truthUs)!, heightPercent / 2)!;
  return { errorUs: rise.timeUs - truthUs + sigmaUs * Math.sqrt(2 * Math.log(2)), uUs: riseUncertaintyUs(trace, rise) };
};

interface Held {
  readonly held: number;
  readonly timed: number;
  readonly scatterUs: number;
  readonly medianUUs: number;
}

function held(kind: Kind, time: (found: Found) => Timing): Held {
  const timings = [...made(kind)].map(time).filter((timing) => timing.uUs !== null);
  const us = timings.map(({ uUs }) => uUs ?? 0).sort((a, b) => a - b);
  return {
    held: timings.filter(({ errorUs, uUs }) => Math.abs(errorUs) <= 1.96 * (uUs ?? 0)).length,
    timed: timings.length,
    scatterUs: Math.sqrt(timings.reduce((sum, { errorUs }) => sum + errorUs ** 2, 0) / timings.length),
    medianUUs: us[us.length >> 1],
  };
}

/** Of 120 intervals that hold 95 in 100, fewer than 104 do once in 3,000 times; of the 1,440 of one row, fewer than 93 in 100 once in 1,000. */
const leastOfCell = 0.87;
const leastOfRow = 0.93;

function expectHeld(kinds: readonly Kind[], widest: number, time = byPeak): void {
  let all = 0;
  let timed = 0;
  for (const kind of kinds) {
    const cell = held(kind, time);
    const words = JSON.stringify(kind);
    expect(cell.timed, words).toBeGreaterThanOrEqual(0.95 * echoes);
    expect(cell.held / cell.timed, words).toBeGreaterThanOrEqual(leastOfCell);
    expect(cell.medianUUs / cell.scatterUs, words).toBeLessThan(widest);
    all += cell.held;
    timed += cell.timed;
  }
  expect(all / timed).toBeGreaterThanOrEqual(leastOfRow);
}

const noises = [0, 0.1, 0.3, 1];
const heights = [20, 50, 90];
const rows = (['rf', 'full', 'envelope'] as const).flatMap((rectification) =>
  [8, 10, 12].flatMap((bits) => [25, 50, 100].map((rateMHz) => ({ rectification, bits, rateMHz }))),
);

describe('the 95 % interval of an echo’s time holds the truth in 93 of 100 or more, and u is below twice the scatter', () => {
  it.each(rows)('$rectification, $bits bits, $rateMHz MHz: noise 0 to 1 % under 20 to 90 % FSH', (row) => {
    expectHeld(
      noises.flatMap((noisePercent) =>
        heights.map((heightPercent): Kind => ({ ...row, detection: 'apart', noisePercent, heightPercent })),
      ),
      2,
    );
  });

  it.each([
    { detection: 'white', samples: 300 },
    { detection: 'white', samples: 2048 },
    { detection: 'shaped', samples: 300 },
    { detection: 'shaped', samples: 2048 },
  ] as const)('detected with noise that is $detection, $samples samples', ({ detection, samples }) => {
    expectHeld(
      [8, 10].flatMap((bits) =>
        [50, 100].flatMap((rateMHz) =>
          [0.1, 0.3, 1].map(
            (noisePercent): Kind => ({
              rectification: 'envelope',
              detection,
              samples,
              bits,
              rateMHz,
              noisePercent,
              heightPercent: 40,
            }),
          ),
        ),
      ),
      2,
    );
  });

  // Smoothing after the rectifier takes noise off the crest that the quiet part, whose mean it leaves, goes on to show.
  it('a smoothed full wave: at most four times the scatter, because its floor shows more noise than its crest has', () => {
    expectHeld(
      [0.1, 0.3, 1].flatMap((noisePercent) =>
        heights.map(
          (heightPercent): Kind => ({
            rectification: 'envelope',
            detection: 'smoothed',
            bits: 10,
            rateMHz: 50,
            noisePercent,
            heightPercent,
          }),
        ),
      ),
      4,
    );
  });

  it.each(['rf', 'full', 'envelope'] as const)('by the flank at half its height: %s', (rectification) => {
    expectHeld(
      [0.1, 0.3, 1].flatMap((noisePercent) =>
        heights.map(
          (heightPercent): Kind => ({
            rectification,
            detection: 'apart',
            bits: 10,
            rateMHz: 50,
            noisePercent,
            heightPercent,
          }),
        ),
      ),
      2,
      byFlank,
    );
  });
});
