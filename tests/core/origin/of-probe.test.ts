import { describe, expect, it } from 'vitest';
import { verdictSummary } from '../../../core/check/verdict-summary.ts';
import { evaluate } from '../../../core/evaluate.ts';
import { type FigureAsked, originOf } from '../../../core/origin.ts';
import { probeFigureNames } from '../../../core/probe/figures.ts';
import { defaultSpectrumSettings } from '../../../core/probe/window.ts';
import type { ProbesDecision } from '../../../core/review/probes-decision.ts';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { workOut } from '../../build/arithmetic.ts';
import { trace } from '../../build/trace.ts';

const capture = (probe: string, file: string, frequencyMHz: number, seed: number) => ({
  ...trace()
    .record(10, 2500)
    .burst({ timeUs: 20, amplitudePercent: 70, frequencyMHz })
    .noise(0.3, seed)
    .gain(40)
    .named(file)
    .capture(),
  probe,
});
const captures = [
  capture('one', 'a.csv', 5, 1),
  capture('one', 'b.csv', 5, 2),
  capture('two', 'c.csv', 4.5, 3),
  capture('two', 'd.csv', 4.5, 4),
];
const review: Review = {
  ...emptyReview,
  probes: {
    captures: captures.map(({ id }) => id),
    gate: { fromUs: 18, toUs: 22 },
    spectrum: defaultSpectrumSettings as ProbesDecision['spectrum'],
    elementMm: 10,
    velocityMPerS: 5920,
    probes: [{ name: 'two', gate: null, elementMm: null, stated: [{ figure: 'centre-frequency-e1065', value: 5 }] }],
    reference: 'one',
    align: 'cross-correlation',
    normalised: true,
    significance: 0.05,
    decision: 'with-uncertainty',
    rule: { kind: 'published', name: 'iso-22232-2' },
  },
};
const evaluation = evaluate(review, captures);
const told = (asked: FigureAsked) => originOf(asked, review, evaluation, metricStyle);

describe('where a figure of a probe comes from', () => {
  it.each(probeFigureNames)('%s of one capture: definition, source, samples', (figure) => {
    const origin = told({ kind: 'probe', of: 'capture', captureId: 'a.csv', figure });
    expect(origin?.source.length).toBeGreaterThan(40);
    expect(origin?.capture?.captureId).toBe('a.csv');
    if (figure !== 'duration-e1065-40-db') expect(origin?.value).toMatch(/\d/);
  });

  it.each([
    'centre-frequency-e1065',
    'centre-frequency-iso',
    'bandwidth-6-db',
    'bandwidth-20-db',
    'relative-bandwidth-e1065',
    'relative-bandwidth-iso',
    'logarithmic-decrement',
  ] as const)('%s: the formula worked out as it stands gives the value as it stands', (figure) => {
    const origin = told({ kind: 'probe', of: 'capture', captureId: 'a.csv', figure });
    const [left, right] = (origin?.formula?.withNumbers ?? '').split(' = ');
    const number = right.replace(/ [^ ]+$/, '');
    const last = 10 ** -(number.split('.')[1]?.length ?? 0);
    expect(
      Math.abs(workOut(left.replace('100 %', '100').replace(/ (MHz|dB\/µs|dB)/g, '')) - Number(number)),
    ).toBeLessThanOrEqual(last / 2 + 1e-9);
  });

  it('walks from the mean to its captures and on to the limits', () => {
    const mean = told({ kind: 'probe', of: 'mean', probe: 'one', figure: 'centre-frequency-e1065' });
    expect(mean?.inputs.map(({ name }) => name)).toEqual(['a.csv', 'b.csv']);
    const one = mean?.inputs[0].asked;
    const capture = one == null ? null : told(one);
    expect(capture?.inputs.slice(0, 2).map(({ name }) => name)).toEqual([
      'Lower limit at −6 dB',
      'Upper limit at −6 dB',
    ]);
  });

  it('tells a verdict with its rule, and a difference with its test', () => {
    const stated = told({ kind: 'probe', of: 'stated', probe: 'two', figure: 'centre-frequency-e1065' });
    expect(stated?.source).toMatch(/From memory/);
    const difference = told({ kind: 'probe', of: 'difference', probe: 'two', figure: 'centre-frequency-e1065' });
    expect(difference?.source).toMatch(/Welch’s t = -?\d+\.\d\d with \d+\.\d degrees of freedom/);
    expect(told({ kind: 'probe', of: 'difference', probe: 'one', figure: 'height' })).toBeNull();
    expect(told({ kind: 'probe', of: 'mean', probe: 'nine', figure: 'height' })).toBeNull();
  });

  it('the summary of all verdicts counts them', () => {
    const summary = verdictSummary(review, evaluation, metricStyle);
    expect(summary.parts.map(({ part }) => part)).toEqual(['probe']);
    expect(summary.verdicts[0]).toMatchObject({
      judged: 'two: Centre frequency, ASTM E1065',
      limits: { lower: -10, upper: 10 },
    });
    expect(summary.verdicts[0].asked).not.toBeNull();
  });
});
