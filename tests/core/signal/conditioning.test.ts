import { describe, expect, it } from 'vitest';
import type { Waveform } from '../../../core/capture/waveform.ts';
import { type ConditioningRecipe, condition, defaultRecipe } from '../../../core/signal/conditioning.ts';
import { findEchoes } from '../../../core/signal/echoes.ts';
import { highestIn } from '../../../core/signal/peak.ts';
import { trace } from '../../build/trace.ts';

const waveform = (samples: readonly number[], part: Partial<Waveform> = {}): Waveform => ({
  startUs: 10,
  stepUs: 0.01,
  samples: Float64Array.from(samples),
  amplitudeUnit: 'percent',
  fullScreen: 100,
  zeroLevel: 0,
  rectification: 'rf',
  ...part,
});
const band = (lowMHz: number, highMHz: number, order = 4): ConditioningRecipe => ({
  ...defaultRecipe,
  bandPass: { lowMHz, highMHz, order },
});
const zeros = (count: number) => new Array<number>(count).fill(0);

describe('what cannot be conditioned is a problem, with a sentence that says what to do', () => {
  it.each([
    { name: 'no sample', of: waveform([]), recipe: defaultRecipe, code: 'too-few-samples' },
    { name: 'one sample', of: waveform([3]), recipe: defaultRecipe, code: 'too-few-samples' },
    { name: 'seven samples', of: waveform(zeros(7)), recipe: defaultRecipe, code: 'too-few-samples' },
    {
      name: 'as many samples as the filter extends by',
      of: waveform(zeros(27)),
      recipe: band(1, 9),
      code: 'too-few-samples',
    },
    {
      name: 'full screen unknown',
      of: waveform(zeros(99), { fullScreen: null }),
      recipe: defaultRecipe,
      code: 'full-screen-unknown',
    },
    {
      name: 'full screen 0',
      of: waveform(zeros(99), { fullScreen: 0 }),
      recipe: defaultRecipe,
      code: 'full-screen-unknown',
    },
    { name: 'band from 0', of: waveform(zeros(99)), recipe: band(0, 9), code: 'band-outside-range' },
    { name: 'band reversed', of: waveform(zeros(99)), recipe: band(9, 1), code: 'band-outside-range' },
    {
      name: 'band to half the sampling rate',
      of: waveform(zeros(99)),
      recipe: band(1, 50),
      code: 'band-outside-range',
    },
    { name: 'band not a number', of: waveform(zeros(99)), recipe: band(Number.NaN, 9), code: 'band-outside-range' },
    { name: 'order 0', of: waveform(zeros(99)), recipe: band(1, 9, 0), code: 'order-outside-range' },
    { name: 'order 2.5', of: waveform(zeros(99)), recipe: band(1, 9, 2.5), code: 'order-outside-range' },
    {
      name: 'a band-pass on a rectified record',
      of: waveform(zeros(99), { rectification: 'full' }),
      recipe: band(1, 9),
      code: 'rectified-band-pass',
    },
  ])('$name', ({ of, recipe, code }) => {
    const outcome = condition(of, recipe);
    expect(outcome.ok).toBe(false);
    if (outcome.ok) return;
    expect(outcome.problems.map((each) => each.code)).toEqual([code]);
    expect(outcome.problems[0].sentence).toMatch(/: /);
  });
});

describe('records in which there is nothing to find give a trace all the same', () => {
  it.each([
    { name: 'all zero', samples: zeros(400) },
    { name: 'constant', samples: new Array<number>(400).fill(37) },
    { name: 'eight samples, the fewest', samples: [1, -1, 1, -1, 1, -1, 1, -1] },
    { name: 'all cut off', samples: Array.from({ length: 400 }, (_, i) => (i % 20 < 10 ? 100 : -100)) },
    { name: 'a single spike', samples: [...zeros(200), 50, ...zeros(199)] },
  ])('$name', ({ samples }) => {
    for (const padding of ['extend', 'none'] as const) {
      const outcome = condition(waveform(samples), { ...defaultRecipe, padding });
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
      const { envelope } = outcome.value;
      expect(envelope.length).toBe(samples.length);
      expect(envelope.every(Number.isFinite)).toBe(true);
      expect(outcome.value.samples.every(Number.isFinite)).toBe(true);
      for (const echo of findEchoes(outcome.value, { abovePercent: 1, fromUs: null, toUs: null })) {
        expect(Number.isFinite(echo.timeUs)).toBe(true);
      }
    }
  });

  it('a constant at full screen is cut off throughout', () => {
    const outcome = condition(waveform(new Array<number>(400).fill(100)), defaultRecipe);
    expect(outcome.ok && outcome.value.saturated).toEqual([{ first: 0, last: 399 }]);
  });
});

describe('the trace', () => {
  const built = trace().record(0, 3000).burst({ timeUs: 15, amplitudePercent: 60 }).noise(0.2);

  it('is in % FSH whatever the unit: half a volt of full screen, or counts about mid-scale', () => {
    const percent = built.conditioned();
    const volt = built.in('volt', 0.5).conditioned();
    const { samples } = built.waveform();
    const counts = condition(
      {
        ...built.waveform(),
        samples: samples.map((s) => 512 + 5.12 * s),
        amplitudeUnit: 'count',
        fullScreen: 512,
        zeroLevel: 512,
      },
      defaultRecipe,
    );
    if (!counts.ok) throw new Error('counts');
    for (let i = 0; i < 3000; i += 37) {
      expect(volt.envelope[i]).toBeCloseTo(percent.envelope[i], 10);
      expect(counts.value.envelope[i]).toBeCloseTo(percent.envelope[i], 10);
    }
  });

  it('leaves the waveform as it was', () => {
    const given = built.waveform();
    const before = given.samples.slice();
    for (const recipe of [defaultRecipe, band(1.5, 9), { ...band(1.5, 9), padding: 'none' as const }])
      condition(given, recipe);
    expect(given.samples).toEqual(before);
  });

  it.each(['extend', 'none'] as const)(
    'is the same first and after others, to the last bit (padding %s)',
    (padding) => {
      const many = [1, 2, 3].map((seed) => built.noise(0.5, seed).waveform());
      const recipe = { ...band(1.5, 9), padding };
      const inTurn = many.map((waveform) => condition(waveform, recipe));
      for (const [k, outcome] of inTurn.entries()) expect(condition(many[k], recipe)).toEqual(outcome);
    },
  );

  it.each([
    { name: 'band-pass, extended', recipe: band(1.5, 9), rectification: 'rf' },
    { name: 'band-pass, not extended', recipe: { ...band(1.5, 9), padding: 'none' }, rectification: 'rf' },
    { name: 'no band-pass', recipe: { ...defaultRecipe, padding: 'none' }, rectification: 'rf' },
    { name: 'no band-pass, extended', recipe: defaultRecipe, rectification: 'rf' },
    { name: 'rectified', recipe: defaultRecipe, rectification: 'full' },
    { name: 'envelope', recipe: defaultRecipe, rectification: 'envelope' },
  ] as const)('stays as it is while others are conditioned and read: $name', ({ recipe, rectification }) => {
    const traceOf = (seed: number) => {
      const raw = built.noise(0.5, seed).waveform();
      const samples = rectification === 'rf' ? raw.samples : raw.samples.map(Math.abs);
      const outcome = condition({ ...raw, samples, rectification }, recipe);
      if (!outcome.ok) throw new Error(outcome.problems[0].sentence);
      return outcome.value;
    };
    const all = { abovePercent: 5, fromUs: null, toUs: null };
    const first = traceOf(1);
    const copy = structuredClone(first);
    const echoes = findEchoes(first, all);
    findEchoes(traceOf(2), all);
    expect(first).toEqual(copy);
    expect(findEchoes(copy, all)).toEqual(echoes);
  });

  it('says what was done: a rectified record keeps its base line', () => {
    expect(built.conditioned().recipe.baseline).toBe('linear');
    expect(built.rectified('full').conditioned().recipe.baseline).toBe('none');
  });

  it('keeps a rectified record’s samples and gives it the RF’s envelope', () => {
    const rf = built.conditioned();
    const full = built.rectified('full').conditioned();
    expect(full.samples.every((sample) => sample >= 0)).toBe(true);
    expect(highestIn(full, { first: 1400, last: 1600 })?.amplitudePercent).toBeCloseTo(
      highestIn(rf, { first: 1400, last: 1600 })?.amplitudePercent ?? 0,
      0,
    );
  });

  it('uses an envelope record as it is', () => {
    const given = { ...built.rectified('full').waveform(), rectification: 'envelope' as const };
    const outcome = condition(given, defaultRecipe);
    expect(outcome.ok && outcome.value.envelope).toEqual(given.samples);
  });

  it('does not wrap a main bang round to the record’s end when extended, and does when only padded', () => {
    // 2,048 samples leave no room for zeros; the record begins in the middle of the bang’s half wave.
    const bang = trace().record(0.03, 2048).mainBang({ amplitudePercent: 99, decayUs: 0.5 }).conditioned;
    const end = (padding: 'extend' | 'none') =>
      Math.max(...bang({ ...defaultRecipe, baseline: 'none', padding }).envelope.slice(-4));
    expect(end('none')).toBeGreaterThan(5);
    expect(end('extend')).toBeLessThan(0.1);
  });
});
