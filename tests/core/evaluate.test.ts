import { describe, expect, it } from 'vitest';
import { evaluate } from '../../core/evaluate.ts';
import { inferEverything } from '../../core/import/import-recipe.ts';
import { captureLookup, evaluationDocument, readingsDocument } from '../../core/report/document.ts';
import { emptyReview, type Review } from '../../core/review/review.ts';
import { trace } from '../build/trace.ts';

/** Transverse waves at 3,240 m/s behind a zero offset of 7.3 µs. */
const timeUs = (pathMm: number): number => 7.3 + (2 * pathMm) / 3.24;
const echo = (pathMm: number, amplitudePercent: number) => ({
  timeUs: timeUs(pathMm),
  amplitudePercent,
  frequencyMHz: 4,
});

const block = trace()
  .record(50, 12_000)
  .burst(echo(100, 80))
  .burst(echo(225, 42))
  .noise(0.3)
  .gain(42)
  .named('block.csv')
  .capture();
const part = trace().record(10, 6_000).burst(echo(30, 60)).noise(0.3, 2).gain(48).named('part.csv').capture();
const check = trace()
  .record(50, 12_000)
  .burst({ ...echo(100, 40), timeUs: timeUs(100) + 0.5 })
  .burst({ ...echo(225, 21), timeUs: timeUs(225) + 0.5 })
  .noise(0.3, 4)
  .gain(42)
  .takenAt('2026-03-02T12:00:00Z')
  .named('check.csv')
  .capture();
const captures = [block, part, check];

const reflectors = [
  { distanceMm: 100, toleranceMm: 0, fromUs: 66, toUs: 73, capture: null },
  { distanceMm: 225, toleranceMm: 0, fromUs: 143, toUs: 150, capture: null },
];

const review: Review = {
  ...emptyReview,
  title: 'Frame 12',
  sources: captures.map(({ file }) => ({
    file,
    sha256: null,
    recipe: structuredClone(inferEverything) as Review['sources'][number]['recipe'],
    facts: [],
  })),
  echoes: { captures: ['part.csv'], abovePercent: 5, fromUs: null, toUs: null },
  calibration: {
    kind: 'fit',
    captures: ['block.csv'],
    reflectors: { kind: 'windows', list: reflectors },
    timing: 'peak',
    thresholdPercent: 20,
    nominal: { material: 'steel', mode: 'transverse' },
  },
  readings: {
    captures: ['part.csv'],
    gates: [{ name: 'root', span: { axis: 'path', fromMm: 20, toMm: 40 }, thresholdPercent: 20 }],
    timing: 'peak',
    beam: { angleDeg: 60, thicknessMm: 16 },
    uAngleDeg: null,
    series: { offPeakDb: 1 },
  },
  drift: {
    captures: ['check.csv'],
    reflectors,
    amplitudePercent: 80,
    thresholdPercent: 5,
    rangeMm: 250,
    rule: { kind: 'published', name: 'iso-17640' },
    decision: 'with-uncertainty',
  },
};

describe('evaluate', () => {
  it('of an empty review is empty', () => {
    const nothing = evaluate(emptyReview, []);
    expect(nothing).toEqual({
      echoes: null,
      calibration: null,
      readings: null,
      drift: null,
      driftOverTime: null,
      sensitivity: null,
      location: null,
      scan: null,
      probes: null,
      material: null,
      linearity: { timeBase: null, screenHeight: null, gain: null },
      captures: [],
      problems: [],
    });
  });

  it('fits the calibration, reads the part with it, and holds the checks against it', () => {
    const { calibration, readings, drift, echoes, problems } = evaluate(review, captures);
    expect(problems).toEqual([]);
    expect(calibration?.calibration?.velocityMPerS.value).toBeCloseTo(3240, 0);
    expect(calibration?.calibration?.zeroOffsetUs.value).toBeCloseTo(7.3, 2);
    expect(calibration?.calibration?.flags).toEqual(['exact-fit']);
    const reading = readings?.readings[0];
    expect(reading?.soundPathMm?.value).toBeCloseTo(30, 1);
    expect(reading?.depthMm?.value).toBeCloseTo(15, 1);
    expect(echoes?.[0].echoes.map((found) => Math.round(found.amplitudePercent))).toEqual([60]);
    const first = drift?.checks[0];
    const change = first?.zeroOffsetChangeUs;
    expect(Math.abs(change!.value - 0.5)).toBeLessThan(3 * change!.standardUncertainty!);
    expect(change!.standardUncertainty).toBeLessThan(0.02);
    expect(first?.reflectors[0].amplitudeChangeDb?.value).toBeCloseTo(-6, 0);
    expect(first?.cause).toBe('zero-offset');
    expect(first?.verdict).toBe('fail');
  });

  it('does not hang on the order in which the captures come', () => {
    const document = (order: typeof captures) =>
      JSON.stringify(evaluationDocument(evaluate(review, order), review, {}));
    expect(document([check, part, block])).toBe(document(captures));
  });

  it('lays the person’s facts over what the file says', () => {
    const facts = {
      trace: null,
      gainDb: 36,
      positionMm: null,
      acrossMm: null,
      takenAt: null,
      probe: null,
      instrument: null,
      block: null,
      temperatureC: null,
    };
    const told = {
      ...review,
      sources: review.sources.map((source) => (source.file === 'check.csv' ? { ...source, facts: [facts] } : source)),
    };
    expect(evaluate(told, captures).drift?.checks[0].reflectors[0].amplitudeChangeDb?.value).toBeCloseTo(0, 0);
  });

  it('a reflector that is not found leaves the other steps standing and says where it was looked for', () => {
    const lost = {
      ...review,
      calibration: {
        ...review.calibration,
        reflectors: { kind: 'windows', list: [reflectors[0], { ...reflectors[1], fromUs: 100, toUs: 110 }] },
      } as Review['calibration'],
    };
    const { calibration, readings, drift, echoes, problems } = evaluate(lost, captures);
    expect(problems.map((p) => p.code)).toEqual(['reflector-not-found', 'drift-without-calibration']);
    expect(problems[0].sentence).toMatch(/100 and 110 µs .* 225 mm/);
    expect([calibration?.calibration, drift]).toEqual([null, null]);
    expect(readings?.readings[0].soundPathMm).toBeNull();
    expect(echoes?.[0].echoes).toHaveLength(1);
  });

  it('a farther reflector that stands far above a nearer one is doubted', () => {
    const hidden = trace()
      .record(50, 12_000)
      .burst(echo(100, 10))
      .burst(echo(225, 90))
      .noise(0.3)
      .named('block.csv')
      .capture();
    const { calibration } = evaluate(
      { ...review, calibration: { ...review.calibration, thresholdPercent: 5 } as Review['calibration'] },
      [hidden, part, check],
    );
    expect(calibration?.calibration?.points.map((point) => point.flags.includes('ambiguous-echo'))).toEqual([
      false,
      true,
    ]);
  });
});

describe('timing by crossing', () => {
  const byCrossing = { ...review, calibration: { ...review.calibration, timing: 'crossing' } as Review['calibration'] };

  it('at unequal heights is doubted, with the difference in dB', () => {
    const { calibration } = evaluate(byCrossing, captures);
    expect(calibration?.calibration?.flags).toContain('unequal-heights');
    expect(calibration?.doubts.map((doubt) => doubt.sentence).join()).toMatch(/5\.[56] dB/);
  });

  it('at equal heights is not', () => {
    const equal = trace()
      .record(50, 12_000)
      .burst(echo(100, 80))
      .burst(echo(225, 80))
      .noise(0.3)
      .named('block.csv')
      .capture();
    expect(evaluate(byCrossing, [equal, part, check]).calibration?.calibration?.flags).toEqual(['exact-fit']);
  });
});

describe('the documents', () => {
  const evaluation = evaluate(review, captures);

  it('carry where each figure comes from', () => {
    const { readings } = readingsDocument(evaluation.readings!, captureLookup(evaluation.captures));
    const [first, last] = readings[0].samples ?? [];
    expect(readings[0]).toMatchObject({ file: 'part.csv', gate: 'root', leg: 1 });
    const peakSample = (timeUs(30) - 10) * 100;
    expect(first).toBeLessThanOrEqual(peakSample);
    expect(last).toBeGreaterThanOrEqual(peakSample);
  });

  it('give the text of every flag that stands in them', () => {
    const { flag_texts } = evaluationDocument(evaluation, review, {});
    expect(Object.keys(flag_texts)).toEqual(['exact-fit', 'drift']);
  });
});
