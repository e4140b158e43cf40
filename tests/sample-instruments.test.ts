import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { verdictSummary } from '../core/check/verdict-summary.ts';
import type { Evaluation } from '../core/evaluate.ts';
import { evaluateFiles } from '../core/evidence/evaluate-files.ts';
import type { GainDecision, ScreenHeightDecision, TimeBaseDecision } from '../core/review/linearity-decision.ts';
import { openReview } from '../core/review/open-review.ts';
import { emptyReview, type Review } from '../core/review/review.ts';
import { metricStyle } from '../core/units/figure-style.ts';
import { filesBeside } from '../electron/cli/review-files.ts';

const folder = fileURLToPath(new URL('../sample-data/', import.meta.url));
const reviewFile = `${folder}instruments/review.json`;
const truth = JSON.parse(readFileSync(`${folder}truth.json`, 'utf8')).instruments;

function saved(): Review {
  const opened = openReview(reviewFile, readFileSync(reviewFile, 'utf8'));
  if (!opened.ok) throw new Error(opened.problems.map((p) => p.sentence).join('; '));
  return opened.value;
}

function evaluated(review: Review): Evaluation {
  const outcome = evaluateFiles(review, filesBeside(reviewFile));
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.sentence).join('; '));
  expect(outcome.value.problems).toEqual([]);
  return outcome.value.evaluation;
}

const published = (name: string) => ({ kind: 'published', name }) as const;
const instruments = ['sound', 'gain-drifts', 'time-base-bends', 'clips'] as const;
type Instrument = (typeof instruments)[number];

/** The review's own decisions on linearity, for another instrument and other rules. */
function linearityOf(instrument: Instrument, given: Partial<Review['linearity']>): Evaluation['linearity'] {
  const linearity = { ...emptyReview.linearity, ...given };
  const captures = Object.values(linearity).flatMap((part) => part?.captures ?? []);
  const [{ recipe }] = saved().sources;
  return evaluated({
    ...emptyReview,
    sources: [...new Set(captures)].map((file) => ({ file, sha256: null, recipe, facts: [] })),
    manifests: [{ file: `${instrument}/manifest.csv`, sha256: null }],
    linearity,
  }).linearity;
}

const files = (instrument: Instrument, part: 'two_echo' | 'one_echo' | 'four_settings'): string[] =>
  truth[instrument.replaceAll('-', '_')][part].map(({ file }: { file: string }) => `${instrument}/${file}`);

function timeBase(instrument: Instrument, rule: string): TimeBaseDecision {
  return { ...saved().linearity.timeBase!, captures: [`${instrument}/time-base.csv`], rule: published(rule) };
}

function twoEcho(instrument: Instrument, rule: string): ScreenHeightDecision {
  const decision = saved().linearity.screenHeight!;
  return { ...decision, captures: files(instrument, 'two_echo'), rule: published(rule) };
}

function gain(rule: string, captures: string[]): GainDecision {
  return { ...saved().linearity.gain!, captures, rule: published(rule) };
}

function oneEcho(instrument: Instrument, rule: string): ScreenHeightDecision {
  const { captures, ...rest } = gain(rule, files(instrument, 'one_echo'));
  return { form: 'stepped-gain', captures, ...rest };
}

describe('the saved review of the sound instrument', () => {
  const review = saved();
  const evaluation = evaluated(review);

  it('has a verdict on linearity and drift, and all of them pass', () => {
    const { counts, parts, outcome } = verdictSummary(review, evaluation, metricStyle);
    expect(parts.map(({ part }) => part)).toEqual(['time-base', 'screen-height', 'gain', 'drift']);
    expect(outcome).toBe('pass');
    expect(counts).toMatchObject({ fail: 0, inconclusive: 0, 'not-assessed': 0 });
    expect(counts.pass).toBeGreaterThan(100);
  });

  it('finds the velocity and the zero offset that were put in', () => {
    const { velocityMPerS, zeroOffsetUs } = evaluation.calibration!.calibration!;
    expect(Math.abs(velocityMPerS.value - truth.velocity_m_per_s)).toBeLessThan(4 * velocityMPerS.standardUncertainty!);
    expect(Math.abs(zeroOffsetUs.value - truth.zero_offset_us)).toBeLessThan(4 * zeroOffsetUs.standardUncertainty!);
  });

  it('finds a time base without a bend, heights in ratio, and a gain that keeps its word', () => {
    const { timeBase: base, screenHeight, gain: control } = evaluation.linearity;
    expect(base!.steps).toHaveLength(11);
    for (const step of base!.steps) expect(Math.abs(step.deviation!.value)).toBeLessThan(0.01);
    for (const step of screenHeight!.steps) expect(Math.abs(step.deviation!.value)).toBeLessThan(0.6);
    expect(control!.points).toHaveLength(40);
    for (const point of control!.points) expect(Math.abs(point.totalErrorDb!.value)).toBeLessThan(0.25);
  });

  it('finds the law by which the holes’ echoes fall, and the attenuation of the thick block', () => {
    const { curve, attenuation } = evaluation.sensitivity!;
    const { distance_exponent, attenuation_db_per_mm } = truth.use.hole_law;
    expect(curve!.points).toHaveLength(4);
    for (const { distanceMm, levelDb } of curve!.points) {
      const law = -20 * distance_exponent * Math.log10(distanceMm / 25) - attenuation_db_per_mm * (distanceMm - 25);
      expect(Math.abs(levelDb.value - law)).toBeLessThan(0.1);
    }
    // The truth counts per mm of sound path, which the sound travels twice.
    expect(Math.abs(2 * curve!.law!.attenuationDbPerMm.value - attenuation_db_per_mm)).toBeLessThan(0.001);
    const { spread_db, attenuation_db_per_mm: ofBlock } = truth.use.back_wall_law;
    expect(Math.abs(2 * attenuation!.attenuationDbPerMm.value - ofBlock)).toBeLessThan(0.001);
    expect(attenuation!.spreadingDb).toBeCloseTo(spread_db, 7);
  });

  it('holds the indications against the curve as far below it as they were put', () => {
    const held = evaluation.sensitivity!.curve!.readings;
    const law = (mm: number) => -30 * Math.log10(mm / 25) - truth.use.hole_law.attenuation_db_per_mm * (mm - 25);
    expect(held).toHaveLength(truth.use.part.length);
    held.forEach(({ toCurveDb, soundPathMm }, i) => {
      const [mm] = truth.use.part[i].echoes.map((echo: { distance_mm: number }) => echo.distance_mm);
      // The curve is straight in dB between holes 25 mm apart, and the law is not.
      const [from, to] = mm < 50 ? [25, 50] : [50, 75];
      const straight = law(from) + ((law(to) - law(from)) * (mm - from)) / (to - from);
      expect(Math.abs(soundPathMm!.value - mm)).toBeLessThan(0.01);
      expect(Math.abs(toCurveDb!.value - (truth.use.part[i].against_curve_db + law(mm) - straight))).toBeLessThan(0.1);
    });
  });

  it('finds how fast the probe wears, and calls it significant', () => {
    const [group] = evaluation.driftOverTime!.groups;
    expect(evaluation.driftOverTime!.groups).toHaveLength(1);
    expect(group.takenWith).toEqual({ instrument: 'flaw detector 4', probe: 'straight probe 5, longitudinal, 5 MHz' });
    expect(group.series).toHaveLength(4);
    const { distance_mm_per_day, sensitivity_db_per_day, scatter_db } = truth.use.checks_law;
    for (const { figure, trend, chart } of group.series) {
      const put = figure === 'distance-error' ? distance_mm_per_day : sensitivity_db_per_day;
      expect(Math.abs(trend!.perDay.value - put)).toBeLessThan(3 * trend!.perDay.standardUncertainty!);
      expect(trend).toMatchObject({ degreesOfFreedom: 22, significant: true });
      // Mean moving range of a normal scatter: 1.128 standard deviations.
      if (figure === 'amplitude-change')
        expect(Math.abs(chart.meanMovingRange! / 1.128 / scatter_db - 1)).toBeLessThan(0.3);
    }
    expect(group.reexaminations).toEqual([]);
    expect(group.notYetConfirmed.map(({ captureId }) => captureId)).toEqual([
      'sound/part/indication-2.csv#amplitude_pct',
    ]);
  });

  it('tells each check’s amplitude and distance as they were put in', () => {
    const checks = evaluation.drift!.checks;
    expect(checks).toHaveLength(truth.use.checks.length);
    checks.forEach(({ reflectors }, i) => {
      const { amplitude_change_db, distance_error_mm } = truth.use.checks[i];
      for (const { distanceErrorMm, amplitudeChangeDb } of reflectors) {
        expect(Math.abs(distanceErrorMm!.value - distance_error_mm)).toBeLessThan(0.01);
        expect(Math.abs(amplitudeChangeDb!.value - amplitude_change_db)).toBeLessThan(0.08);
      }
    });
  });
});

describe('the instruments on the bench', () => {
  it.each(instruments)('%s names itself and its truth', (instrument) => {
    expect(truth[instrument.replaceAll('-', '_')].folder).toBe(`instruments/${instrument}`);
  });

  it.each<[Instrument, string, string]>([
    ['sound', 'iso-22232-1-time-base', 'pass'],
    ['gain-drifts', 'iso-22232-1-time-base', 'pass'],
    ['clips', 'iso-22232-1-time-base', 'pass'],
    ['time-base-bends', 'iso-22232-1-time-base', 'fail'],
    ['time-base-bends', 'iso-22232-3-time-base', 'pass'],
    ['time-base-bends', 'aws-d1.1-time-base', 'pass'],
  ])('%s by %s: %s', (instrument, rule, outcome) => {
    expect(linearityOf(instrument, { timeBase: timeBase(instrument, rule) }).timeBase!.outcome).toBe(outcome);
  });

  it('time-base-bends bends by 1.6 % in the middle, and by what was put in at each echo', () => {
    const found = linearityOf('time-base-bends', {
      timeBase: timeBase('time-base-bends', 'iso-22232-1-time-base'),
    }).timeBase!;
    const put: number[] = truth.time_base_bends.time_base.end_point_deviation_percent;
    expect(found.steps.map((step) => step.deviation!.value)).toHaveLength(put.length);
    found.steps.forEach((step, i) => {
      expect(step.deviation!.value).toBeCloseTo(put[i], 2);
    });
    expect(Math.max(...found.steps.map((step) => step.deviation!.value))).toBeCloseTo(1.6, 2);
  });

  it.each<[Instrument, string]>([
    ['sound', 'pass'],
    ['gain-drifts', 'pass'],
    ['time-base-bends', 'pass'],
  ])('%s keeps the ratio of two echoes: %s', (instrument, outcome) => {
    const found = linearityOf(instrument, { screenHeight: twoEcho(instrument, 'asme-v-appendix-i') }).screenHeight!;
    expect(found.outcome).toBe(outcome);
  });

  it('clips is shown to clip: the larger echo of the highest step is cut off, and the step does not pass', () => {
    const found = linearityOf('clips', { screenHeight: twoEcho('clips', 'asme-v-appendix-i') }).screenHeight!;
    expect(found.flags).toContain('saturated');
    expect(found.outcome).not.toBe('pass');
    const cut = found.steps.filter((step) => step.flags.includes('saturated'));
    expect(cut.map((step) => step.verdict?.outcome)).not.toContain('pass');
  });

  it.each<[Instrument, string, string]>([
    ['sound', 'iso-22232-3-screen-height', 'pass'],
    ['time-base-bends', 'iso-22232-3-screen-height', 'pass'],
    ['gain-drifts', 'iso-22232-3-screen-height', 'fail'],
  ])('%s stepped by its gain, by %s: %s', (instrument, rule, outcome) => {
    const found = linearityOf(instrument, { screenHeight: oneEcho(instrument, rule) }).screenHeight!;
    expect(found.outcome).toBe(outcome);
  });

  it.each<[Instrument, string]>([
    ['sound', 'pass'],
    ['time-base-bends', 'pass'],
    ['clips', 'pass'],
    // 2 dB that are 1.8 dB: 43.0, 23.1, 74.5 and 69.3 % are within ± 20 % of 40, 20 and 80 %.
    ['gain-drifts', 'pass'],
  ])('%s at the four settings of ASME V, Appendix II: %s', (instrument, outcome) => {
    const captures = files(instrument, 'four_settings');
    const found = linearityOf(instrument, { gain: gain('asme-v-appendix-ii', captures) }).gain!;
    expect(found.steps).toHaveLength(4);
    expect(found.outcome).toBe(outcome);
  });

  it.each<[Instrument, string, string]>([
    ['sound', 'aws-d1.1-gain', 'pass'],
    ['sound', 'iso-22232-1-gain', 'pass'],
    ['time-base-bends', 'aws-d1.1-gain', 'pass'],
    ['clips', 'iso-22232-1-gain', 'pass'],
    ['gain-drifts', 'aws-d1.1-gain', 'fail'],
    ['gain-drifts', 'iso-22232-1-gain', 'fail'],
  ])('%s over 60 dB, by %s: %s', (instrument, rule, outcome) => {
    const decision = gain(rule, [`${instrument}/gain/run-over-60-db.csv`]);
    expect(linearityOf(instrument, { gain: decision }).gain!.outcome).toBe(outcome);
  });

  it('gain-drifts loses 0.2 dB in each step of 2 dB, 6 dB in all', () => {
    const decision = gain('aws-d1.1-gain', ['gain-drifts/gain/run-over-60-db.csv']);
    const { points } = linearityOf('gain-drifts', { gain: decision }).gain!;
    const steps = points.flatMap(({ stepErrorDb }) => (stepErrorDb === null ? [] : [stepErrorDb.value]));
    expect(steps).toHaveLength(30);
    for (const error of steps) expect(Math.abs(error + 0.2)).toBeLessThan(0.1);
    expect(points.at(-1)!.totalErrorDb!.value).toBeCloseTo(-6, 0);
    expect(Math.abs(points.at(-1)!.totalErrorDb!.value + 6)).toBeLessThan(0.3);
  });
});
