import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../core/capture/capture.ts';
import { evaluate } from '../../../core/evaluate.ts';
import { rulesFor } from '../../../core/linearity/rule.ts';
import type { LinearityDecision } from '../../../core/review/linearity-decision.ts';
import { emptyReview } from '../../../core/review/review.ts';
import { heightAt } from '../../build/heights.ts';
import { trace } from '../../build/trace.ts';

const published = (name: string) => ({ kind: 'published', name }) as const;
type TimeBase = NonNullable<LinearityDecision['timeBase']>;
type ScreenHeight = NonNullable<LinearityDecision['screenHeight']>;
type Gain = NonNullable<LinearityDecision['gain']>;

function linearity(captures: readonly Capture[], given: Partial<LinearityDecision>) {
  const none: LinearityDecision = { timeBase: null, screenHeight: null, gain: null };
  return evaluate({ ...emptyReview, linearity: { ...none, ...given } }, captures);
}

const filesOf = (captures: readonly Capture[]) => captures.map(({ file }) => file);

/** Back-wall echoes of 8 µs spacing, the first at 9 µs; each falls by a fifth. A bend is a parabola over the range, in % of it. */
function plate({
  count = 11,
  missing = [] as number[],
  bendPercent = 0,
  first = 80,
  file = 'plate.csv',
  seed = 1,
} = {}): Capture {
  const numbers = Array.from({ length: count }, (_, i) => i).filter((i) => !missing.includes(i + 1));
  const range = 8 * (count - 1);
  return numbers
    .reduce((words, i) => {
      const share = i / (count - 1);
      const bend = (bendPercent / 100) * range * 4 * share * (1 - share);
      return words.burst({ timeUs: 9 + 8 * i + bend, amplitudePercent: first * 0.85 ** i });
    }, trace().noise(0.2, seed).named(file))
    .capture();
}

const timeBase = (captures: readonly Capture[], given: Partial<TimeBase> = {}): TimeBase => ({
  captures: filesOf(captures),
  reflectors: { kind: 'equally-spaced', fromUs: 5, toUs: 95, abovePercent: 5, spacingMm: 25 },
  timing: 'peak',
  thresholdPercent: 10,
  range: null,
  line: 'end-points',
  decision: 'with-uncertainty',
  rule: published('iso-22232-1-time-base'),
  ...given,
});

describe('time base, from the traces', () => {
  it.each(rulesFor('time-base').map(({ name, deviationPercent }) => [name, deviationPercent === null ? null : 'pass']))(
    'a straight time base by %s: %s',
    (name, outcome) => {
      const captures = [plate()];
      const { timeBase: check } = linearity(captures, {
        timeBase: timeBase(captures, { rule: published(name as string) }),
      }).linearity;
      expect(check?.steps).toHaveLength(11);
      expect(check?.outcome).toBe(outcome);
      for (const { deviation } of check?.steps ?? []) expect(Math.abs(deviation?.value ?? 1)).toBeLessThan(0.02);
    },
  );

  it('a bend of 1.6 % is found to 0.02 % at its middle, passes ±2 % and fails ±1 %', () => {
    const captures = [plate({ bendPercent: 1.6 })];
    const by = (name: string) =>
      linearity(captures, { timeBase: timeBase(captures, { rule: published(name) }) }).linearity.timeBase;
    const one = by('iso-22232-1-time-base');
    expect(one?.greatest).toBe(5);
    expect(one?.steps[5].deviation?.value).toBeCloseTo(1.6, 1);
    expect(one?.outcome).toBe('fail');
    expect(by('iso-22232-3-time-base')?.outcome).toBe('pass');
  });

  it('a missing echo keeps its number and is not assessed', () => {
    const captures = [plate({ missing: [6] })];
    const check = linearity(captures, { timeBase: timeBase(captures) }).linearity.timeBase;
    expect(check?.steps.map((step) => step.name)).toEqual(Array.from({ length: 11 }, (_, i) => `echo ${i + 1}`));
    expect(check?.steps[5].verdict?.outcome).toBe('not-assessed');
    expect(check?.steps[6].deviation?.value).toBeCloseTo(0, 1);
    expect(check?.outcome).toBe('not-assessed');
  });

  it('an echo cut off in one capture is timed in another of less gain', () => {
    const loud = trace().noise(0.2).named('loud.csv');
    const captures = [
      [1, 0.85, 0.7, 0.6, 0.5]
        .reduce((words, part, i) => words.burst({ timeUs: 9 + 8 * i, amplitudePercent: 130 * part }), loud)
        .clippedAt(100)
        .capture(),
      plate({ count: 5, first: 60, file: 'quiet.csv', seed: 2 }),
    ];
    const check = linearity(captures, { timeBase: timeBase(captures) }).linearity.timeBase;
    expect(check?.outcome).toBe('pass');
    expect(check?.steps.map((step) => step.captureId)).toEqual([
      'quiet.csv',
      'quiet.csv',
      'loud.csv',
      'loud.csv',
      'loud.csv',
    ]);
  });

  it('an echo that is cut off wherever it shows is not assessed, and shows its time', () => {
    const words = trace().noise(0.2).clippedAt(100);
    const captures = [
      [90, 130, 80, 70, 60]
        .reduce((of, amplitudePercent, i) => of.burst({ timeUs: 9 + 8 * i, amplitudePercent }), words)
        .capture(),
    ];
    const check = linearity(captures, { timeBase: timeBase(captures) }).linearity.timeBase;
    expect(check?.steps[1]).toMatchObject({
      deviation: null,
      verdict: { outcome: 'not-assessed' },
      flags: ['saturated'],
    });
    expect(check?.steps[1].read?.value).toBeCloseTo(17, 1);
    expect(check?.steps[1].remark).toContain('cut off');
    expect(check?.outcome).toBe('not-assessed');
  });

  it('by crossing at unequal heights: said', () => {
    const captures = [plate()];
    const check = linearity(captures, { timeBase: timeBase(captures, { timing: 'crossing' }) }).linearity.timeBase;
    expect(check?.flags).toContain('unequal-heights');
  });

  it('known distances, each in its window; one without an echo is not assessed', () => {
    const captures = [plate({ count: 4 })];
    const list = [25, 50, 75, 125].map((distanceMm) => ({
      distanceMm,
      toleranceMm: 0.05,
      fromUs: 9 + (8 * (distanceMm - 25)) / 25 - 3,
      toUs: 9 + (8 * (distanceMm - 25)) / 25 + 3,
      capture: null,
    }));
    const decision = timeBase(captures, {
      reflectors: { kind: 'known-distances', list },
      rule: published('iso-22232-3-time-base'),
    });
    const check = linearity(captures, { timeBase: decision }).linearity.timeBase;
    expect(check?.steps.map((step) => step.name)).toEqual(['25 mm', '50 mm', '75 mm', '125 mm']);
    expect(check?.steps[3].remark).toContain('no echo between 38 and 44 µs');
    expect(check?.steps[1].deviation?.standardUncertainty).toBeGreaterThan(0.05);
    expect(check?.outcome).toBe('not-assessed');
  });

  it('no echoes: a problem, and no check', () => {
    const captures = [trace().noise(0.2).named('empty.csv').capture()];
    const { linearity: checks, problems } = linearity(captures, { timeBase: timeBase(captures) });
    expect(checks.timeBase).toBeNull();
    expect(problems.map((p) => p.code)).toEqual(['too-few-echoes']);
  });
});

/** An echo at 20 µs; heights above 100 % are cut off by the screen. */
function echo(
  percent: number,
  gainDb: number | null,
  { seed = 1, file = `${Math.round(percent)}-at-${gainDb}.csv`, clip = 100 } = {},
): Capture {
  const words = trace()
    .record(10, 3000)
    .burst({ timeUs: 20, amplitudePercent: percent })
    .noise(0.1, seed)
    .clippedAt(clip)
    .named(file);
  return (gainDb === null ? words : words.gain(gainDb)).capture();
}

const screenHeight = (captures: readonly Capture[], name: string): ScreenHeight => ({
  form: 'stepped-gain',
  captures: filesOf(captures),
  window: { fromUs: 18, toUs: 22 },
  steps: null,
  thresholdPercent: 2,
  decision: 'with-uncertainty',
  rule: published(name),
});

const gain = (captures: readonly Capture[], name: string): Gain => ({
  captures: filesOf(captures),
  window: { fromUs: 18, toUs: 22 },
  steps: null,
  thresholdPercent: 2,
  decision: 'with-uncertainty',
  rule: published(name),
});

const stepped = (worth = 1): Capture[] =>
  [42, 41, 40, 38, 36, 34, 30, 28, 22, 16].map((gainDb, i) =>
    echo(heightAt(gainDb, { worth }), gainDb, { seed: i + 1 }),
  );

describe('screen height, from the traces', () => {
  it.each(
    rulesFor('screen-height')
      .filter(({ form }) => form !== 'two-echo')
      .map(({ name }) => [name]),
  )('a linear screen passes %s', (name) => {
    const captures = stepped();
    const check = linearity(captures, { screenHeight: screenHeight(captures, name) }).linearity.screenHeight;
    expect(check?.steps.filter((step) => step.verdict !== null && step.verdict.outcome !== 'pass')).toEqual([]);
    expect(check?.outcome).toBe('pass');
  });

  it.each<[string, string | null]>([
    ['asme-v-appendix-i', 'pass'],
    ['astm-e317-two-echo', null],
  ])('two echoes in ratio 2 to 1 by %s: %s', (name, outcome) => {
    const captures = [99, 90, 80, 70, 60, 50, 40, 30, 20].map((larger, i) =>
      trace()
        .record(10, 3000)
        .burst({ timeUs: 20, amplitudePercent: larger })
        .burst({ timeUs: 28, amplitudePercent: larger / 2 })
        .noise(0.1, i + 1)
        .named(`two-${larger}.csv`)
        .capture(),
    );
    const decision: ScreenHeight = {
      form: 'two-echo',
      captures: filesOf(captures),
      larger: { fromUs: 18, toUs: 22 },
      smaller: { fromUs: 26, toUs: 30 },
      thresholdPercent: 2,
      decision: 'with-uncertainty',
      rule: published(name),
    };
    const check = linearity(captures, { screenHeight: decision }).linearity.screenHeight;
    expect(check?.steps).toHaveLength(9);
    expect(check?.outcome).toBe(outcome);
  });

  it('a screen that stops at 96 % serves a lower limit of 95 %, at 94 % it does not', () => {
    for (const [clip, outcome] of [
      [96, 'pass'],
      [94, 'inconclusive'],
    ] as const) {
      const captures = [42, 40, 34, 28, 22, 16].map((gainDb, i) =>
        echo(heightAt(gainDb), gainDb, { seed: i + 1, clip }),
      );
      const check = linearity(captures, { screenHeight: screenHeight(captures, 'iso-22232-3-screen-height') }).linearity
        .screenHeight;
      expect(check?.steps[0].read?.value).toBeLessThanOrEqual(clip + 0.5);
      expect(check?.outcome).toBe(outcome);
    }
  });

  it.each([
    ['no published rule', 'asme-v-appendix-9', 'unknown-rule'],
    ['one of another form', 'asme-v-appendix-i', 'rule-of-another-check'],
    ['one of another check', 'aws-d1.1-gain', 'rule-of-another-check'],
  ])('%s: said, with those there are', (_name, name, code) => {
    const captures = stepped();
    const { problems, linearity: checks } = linearity(captures, { screenHeight: screenHeight(captures, name) });
    expect(checks.screenHeight).toBeNull();
    expect(problems).toEqual([
      expect.objectContaining({ code, sentence: expect.stringContaining('iso-22232-3-screen-height') }),
    ]);
  });
});

describe('gain control, from the traces', () => {
  const settings = (worth = 1): Capture[] =>
    [
      [80, 40, 40],
      [80, 40, 34],
      [80, 40, 28],
      [40, 40, 40],
      [40, 40, 46],
      [20, 40, 40],
      [20, 40, 52],
    ].map(([set, at, to], i) => echo(heightAt(to, { set, at, worth }), to, { seed: i + 1, file: `${i}.csv` }));
  const run = (worth = 1): Capture[] =>
    Array.from({ length: 11 }, (_, span) => [0, 3, 6].map((change) => [span, change]))
      .flat()
      .map(([span, change], i) =>
        echo(heightAt(change, { set: 40, at: 0, worth }), 10 + 6 * span + change, { seed: i + 1, file: `${i}.csv` }),
      );

  it.each<[string, Capture[]]>([
    ['asme-v-appendix-ii', settings()],
    ['iso-22232-3-gain', stepped()],
    ['iso-22232-1-gain', run()],
    ['aws-d1.1-gain', run()],
  ])('an exact control passes %s', (name, captures) => {
    const check = linearity(captures, { gain: gain(captures, name) }).linearity.gain;
    expect(check?.outcome).toBe('pass');
  });

  it('steps that are 0.2 dB short of 2 dB are found as such, and fail over 60 dB', () => {
    const captures = run(0.9);
    const check = linearity(captures, { gain: gain(captures, 'iso-22232-1-gain') }).linearity.gain;
    expect(check?.points[check.points.length - 1].totalErrorDb?.value).toBeCloseTo(-6.6, 0);
    for (const step of check?.steps ?? []) expect(step.deviation?.value).toBeCloseTo(-0.3, 1);
    expect(check?.outcome).toBe('fail');
  });

  it('takes the order of the times taken before that of the names', () => {
    const captures = settings().map((capture, i) => ({ ...capture, takenAt: `2026-05-12T08:0${i}:00Z` }));
    const shuffled = [...captures].reverse();
    const check = linearity(shuffled, { gain: gain(shuffled, 'asme-v-appendix-ii') }).linearity.gain;
    expect(check?.order).toBe('time-taken');
    expect(check?.outcome).toBe('pass');
  });

  it('a step table stands in for gains that the captures do not say', () => {
    const captures = settings().map((capture) => ({ ...capture, gainDb: null }));
    const without = linearity(captures, { gain: gain(captures, 'asme-v-appendix-ii') }).linearity.gain;
    expect(without?.outcome).toBe('not-assessed');
    expect(without?.unused).toHaveLength(7);
    const rows = [40, 34, 28, 40, 46, 40, 52].map((db, i) => ({ capture: `${i}.csv`, db }));
    const decision = { ...gain(captures, 'asme-v-appendix-ii'), steps: { states: 'gain' as const, rows } };
    expect(linearity(captures, { gain: decision }).linearity.gain?.outcome).toBe('pass');
  });

  it('a step table that contradicts a capture: said, and the step is not assessed', () => {
    const captures = settings();
    const rows = [40, 35, 28, 40, 46, 40, 52].map((db, i) => ({ capture: `${i}.csv`, db }));
    const decision = { ...gain(captures, 'asme-v-appendix-ii'), steps: { states: 'gain' as const, rows } };
    const { problems, linearity: checks } = linearity(captures, { gain: decision });
    expect(problems).toEqual([
      expect.objectContaining({ code: 'step-contradicts-capture', sentence: expect.stringContaining('row 2: ') }),
    ]);
    expect(checks.gain?.steps.map((step) => step.verdict?.outcome)).toEqual(['not-assessed', 'pass', 'pass', 'pass']);
  });
});

it('a part that was not asked for is null', () => {
  expect(linearity([], {}).linearity).toEqual({ timeBase: null, screenHeight: null, gain: null });
});
