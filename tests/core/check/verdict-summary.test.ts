import { describe, expect, it } from 'vitest';
import { type CheckCapture, judgeDrift, type ReferenceHeight } from '../../../core/check/drift.ts';
import { type DriftRule, publishedRules } from '../../../core/check/rule.ts';
import { verdictSummary } from '../../../core/check/verdict-summary.ts';
import { type Evaluation, evaluate } from '../../../core/evaluate.ts';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { calibrated } from '../../build/calibration.ts';

const iso = publishedRules.find((rule) => rule.name === 'iso-17640')!;
const known: ReferenceHeight[] = [{ distanceMm: 100, amplitudePercent: 80, gainDb: 40 }];

const decision: NonNullable<Review['drift']> = {
  captures: ['check.csv'],
  reflectors: [],
  amplitudePercent: 80,
  thresholdPercent: 5,
  rangeMm: 250,
  decision: 'with-uncertainty',
  rule: { kind: 'published', name: 'iso-17640' },
};
const review: Review = { ...emptyReview, drift: decision };
const nothing = evaluate(emptyReview, []);

/** A check at 100 mm, its path longer by `shiftMm`; no echo where that is `null`. */
function check(captureId: string, shiftMm: number | null, percent = 80): CheckCapture {
  const reflector = {
    distanceMm: 100,
    timeUs: shiftMm === null ? null : { value: 7.3 + (2 * (100 + shiftMm)) / 3.24, standardUncertainty: 0.002 },
    amplitudePercent: shiftMm === null ? null : percent,
    signalToNoiseDb: 60,
    flags: shiftMm === null ? (['no-echo'] as const) : [],
    from: null,
  };
  return { captureId, takenAt: '2026-05-11T07:00:00Z', gainDb: 40, reflectors: [reflector] };
}

function drifted(checks: CheckCapture[], rule: DriftRule | null = iso, reference = known): Evaluation {
  const outcome = judgeDrift({ checks, calibration: calibrated(3240, 7.3), reference, rule, rangeMm: 250 });
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.sentence).join('; '));
  return { ...nothing, drift: outcome.value };
}

const summed = (evaluation: Evaluation, of = review) => verdictSummary(of, evaluation, metricStyle);

describe('verdictSummary', () => {
  it('of a review without rules has no verdict and no outcome', () => {
    const counts = { fail: 0, inconclusive: 0, 'not-assessed': 0, pass: 0 };
    expect(summed(nothing, emptyReview)).toEqual({ verdicts: [], counts, parts: [], outcome: null });
    expect(
      summed(drifted([check('a', 0)], null), { ...review, drift: { ...decision, rule: null } }).outcome,
    ).toBeNull();
  });

  it('lists what fails first, then what is not decided, what was not assessed, and what passes', () => {
    // Limit 5 mm with u of about 3 µm from the time and the line; −4 dB.
    const summary = summed(drifted([check('good', 0), check('none', null), check('edge', 5.001), check('off', 9, 40)]));
    expect(summary.verdicts.map(({ verdict, captureId, judged }) => [verdict.outcome, captureId, judged])).toEqual([
      ['fail', 'off', 'distance error at 100 mm'],
      ['fail', 'off', 'amplitude change at 100 mm'],
      ['inconclusive', 'edge', 'distance error at 100 mm'],
      ['not-assessed', 'none', 'distance error at 100 mm'],
      ['not-assessed', 'none', 'amplitude change at 100 mm'],
      ['pass', 'good', 'distance error at 100 mm'],
      ['pass', 'good', 'amplitude change at 100 mm'],
      ['pass', 'edge', 'amplitude change at 100 mm'],
    ]);
    expect(summary.counts).toEqual({ fail: 2, inconclusive: 1, 'not-assessed': 2, pass: 3 });
    expect(summary.parts).toEqual([{ part: 'drift', outcome: 'fail', counts: summary.counts }]);
    expect(summary.outcome).toBe('fail');
  });

  it('gives each verdict its limits, its rule, and the arithmetic down to the outcome', () => {
    const [distance, amplitude] = summed(drifted([check('a', 1, 70)])).verdicts;
    expect(distance.limits).toEqual({ lower: -5, upper: 5 });
    expect(distance.rule.source).toBe(iso.source);
    expect(distance.verdict).toMatchObject({ rule: 'iso-17640', clause: iso.clause, unit: 'mm', outcome: 'pass' });
    expect(distance.arithmetic()[0].withNumbers).toMatch(/^101\.\d+ mm − 100 mm = 1\.0\d* mm$/);
    expect(distance.arithmetic()[1].withNumbers).toMatch(/allowed -5\.00 mm to 5\.00 mm: pass$/);
    expect(amplitude.arithmetic()[0].withNumbers).toContain('20 · log10(70.0 % / 80.0 %)');
    expect(amplitude.arithmetic()[1].withNumbers).toMatch(/allowed -4\.00 dB to 4\.00 dB: pass$/);
  });

  it('does not let a check pass for the whole where the rule limits an amplitude that nobody stated', () => {
    const unknown = [{ distanceMm: 100, amplitudePercent: null, gainDb: null }];
    const summary = summed(drifted([check('a', 0)], iso, unknown));
    expect(summary.outcome).toBe('not-assessed');
    expect(summary.verdicts[0]).toMatchObject({ captureId: 'a', judged: 'amplitude change', limits: null });
    expect(summary.verdicts[0].remark).toContain('is not known');
  });

  it('keeps a rule that nothing could be held against as not assessed', () => {
    const summary = summed(nothing);
    expect(summary.outcome).toBe('not-assessed');
    expect(summary.verdicts).toHaveLength(1);
    expect(summary.verdicts[0]).toMatchObject({ part: 'drift', captureId: null, judged: 'all of it' });
    expect(summary.verdicts[0].rule.title).toBe(iso.title);
  });

  it.each<[string, Review['linearity'], string]>([
    [
      'a rule of one’s own',
      { ...emptyReview.linearity, timeBase: timeBase({ kind: 'own', rule: ownRule() }) },
      'yard-rule',
    ],
    [
      'a published rule that there is not',
      { ...emptyReview.linearity, timeBase: timeBase({ kind: 'published', name: 'no-such-rule' }) },
      'no-such-rule',
    ],
  ])('names %s that nothing was held against', (_, linearity, name) => {
    const summary = summed(nothing, { ...emptyReview, linearity });
    expect(summary.verdicts).toHaveLength(1);
    expect(summary.verdicts[0]).toMatchObject({ part: 'time-base', rule: { name } });
    expect(summary.verdicts[0].verdict).toMatchObject({ outcome: 'not-assessed', rule: name });
  });
});

type TimeBase = NonNullable<Review['linearity']['timeBase']>;
type OwnRule = Extract<NonNullable<TimeBase['rule']>, { kind: 'own' }>['rule'];

function ownRule(): OwnRule {
  return {
    check: 'time-base',
    name: 'yard-rule',
    title: 'Rule of the yard',
    edition: '1',
    clause: '2',
    source: 'own',
    line: { kind: 'end-points' },
    deviationPercent: 1,
    fewestReflectors: 3,
  };
}

function timeBase(rule: TimeBase['rule']): TimeBase {
  return {
    captures: [],
    reflectors: { kind: 'equally-spaced', fromUs: 0, toUs: 100, abovePercent: 5, spacingMm: null },
    timing: 'peak',
    thresholdPercent: 5,
    range: null,
    line: 'end-points',
    decision: 'with-uncertainty',
    rule,
  };
}
