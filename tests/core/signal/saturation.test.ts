import { describe, expect, it } from 'vitest';
import type { Waveform } from '../../../core/capture/waveform.ts';
import { resolutionOf, saturatedRuns } from '../../../core/signal/saturation.ts';
import { trace } from '../../build/trace.ts';

const runsOf = (w: Waveform) => saturatedRuns(w, resolutionOf(w.samples));
const of = (samples: readonly number[], part: Partial<Waveform> = {}): Waveform => ({
  startUs: 0,
  stepUs: 0.01,
  samples: Float64Array.from(samples),
  amplitudeUnit: 'percent',
  fullScreen: 100,
  zeroLevel: 0,
  rectification: 'rf',
  ...part,
});
/** A sine of 25 samples to the period, cut at a height, in whole counts of `count`. */
const sine = (height: number, cut: number, count: number, samplesPerPeriod = 25) =>
  Array.from({ length: 200 }, (_, i) => {
    const value = Math.max(-cut, Math.min(cut, height * Math.sin((2 * Math.PI * i) / samplesPerPeriod)));
    return Math.round(value / count) * count;
  });

describe('what is not cut off', () => {
  it.each([
    { name: 'no sample', waveform: of([]) },
    { name: 'one sample', waveform: of([40]) },
    { name: 'all zero', waveform: of(new Array(50).fill(0)) },
    { name: 'constant below full screen', waveform: of(new Array(50).fill(40)) },
    { name: 'a rounded crest', waveform: of(sine(80, 200, 0.05)) },
    { name: 'a slow crest that rounding makes flat, 8 bit', waveform: of(sine(80, 200, 0.78, 120)) },
    { name: 'a very slow crest that rounding makes flat over many samples', waveform: of(sine(60, 200, 0.78, 400)) },
    {
      name: 'a rectified record with a flat base line',
      waveform: of(
        sine(80, 200, 0.05).map((s) => Math.max(0, s)),
        { rectification: 'positive' },
      ),
    },
    { name: 'the same called RF', waveform: of(sine(80, 200, 0.05).map((s) => Math.max(0, s))) },
    { name: 'a flat piece below the extreme', waveform: of([...sine(80, 200, 0.05), 50, 50, 50, 50, 50]) },
    { name: 'two equal samples at the top', waveform: of([0, 10, 60, 60, 10, 0, -50, 0]) },
  ])('$name', ({ waveform }) => expect(runsOf(waveform)).toEqual([]));
});

describe('what is cut off', () => {
  it.each([
    { name: 'at full screen by the screen', waveform: of(sine(150, 100, 0.05)) },
    {
      name: 'by the converter, one count below full scale (12 bit)',
      waveform: of(sine(150, 100 - 200 / 4096, 200 / 4096)),
    },
    {
      name: 'by the converter, in counts about mid-scale',
      waveform: of(
        sine(150, 100, 0.5).map((s) => Math.min(1023, Math.round(512 + 5.12 * s))),
        { amplitudeUnit: 'count', fullScreen: 512, zeroLevel: 512 },
      ),
    },
    { name: 'by both limits of an amplifier at 96 %', waveform: of(sine(150, 96, 0.05)) },
    { name: 'by a screen at 110 %', waveform: of(sine(150, 110, 0.05).map(Math.abs), { rectification: 'full' }) },
    { name: 'at 96 %, rectified', waveform: of(sine(150, 96, 0.05).map(Math.abs), { rectification: 'full' }) },
    { name: 'by an amplifier at 40 %, both signs', waveform: of(sine(150, 40, 0.78)) },
    { name: 'in a record that is not rounded', waveform: of(sine(150, 70, 1e-9)) },
  ])('$name', ({ waveform }) => {
    const runs = runsOf(waveform);
    expect(runs.length).toBeGreaterThan(3);
    for (const { first, last } of runs) {
      for (let i = first; i <= last; i++)
        expect(Math.abs(waveform.samples[i] - waveform.zeroLevel)).toBeGreaterThan(30);
    }
  });

  it('a single sample at or above full screen', () => {
    expect(runsOf(of([0, 20, 100, 20, 0, -20, 0]))).toEqual([{ first: 2, last: 2 }]);
    expect(runsOf(of([0, 20, 99.9, 20, 0, -20, 0]))).toEqual([]);
  });

  it('a single sample at the highest code of a converter, which has none at full screen', () => {
    const step = 200 / 256;
    const crest = [0, 1, 30, 60, 99.6, 60, 30, 0, -30, -60, -97, -60].map((value) => step * Math.floor(value / step));
    expect(runsOf(of(crest))).toEqual([{ first: 4, last: 4 }]);
    expect(runsOf(of(crest.map((value) => 0.97 * value)))).toEqual([]);
  });

  it('every sample at a limit once it is known as one, single ones too', () => {
    const flat = [0, 99, 99, 99, 99, 0, -99, -99, -99, 0, 40, 99, 40, 0];
    expect(runsOf(of(flat, { fullScreen: 99.5 }))).toEqual([
      { first: 1, last: 4 },
      { first: 6, last: 8 },
      { first: 11, last: 11 },
    ]);
  });

  it('a burst beyond the converter, and no other', () => {
    const waveform = trace()
      .burst({ timeUs: 20, amplitudePercent: 160 })
      .burst({ timeUs: 50, amplitudePercent: 70 })
      .quantised(10)
      .waveform();
    const runs = runsOf(waveform);
    expect(runs.length).toBeGreaterThan(1);
    for (const run of runs) expect(Math.abs(run.first / 100 - 20)).toBeLessThan(0.3);
  });
});

describe('one count of the converter', () => {
  it.each([
    { name: 'none in an empty record', samples: [], count: null },
    { name: 'none in a constant one', samples: [4, 4, 4], count: null },
    { name: 'the smallest step', samples: [0, 0.5, 0.5, 2, 1], count: 0.5 },
  ])('$name', ({ samples, count }) => expect(resolutionOf(Float64Array.from(samples))).toBe(count));
});
