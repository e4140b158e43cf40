import { describe, expect, it } from 'vitest';
import { verdictSummary } from '../../../core/check/verdict-summary.ts';
import { evaluate } from '../../../core/evaluate.ts';
import type { ProbeChecks } from '../../../core/review/part-decision.ts';
import { emptyReview } from '../../../core/review/review.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { partOf } from '../../build/part.ts';

const index = { radiusMm: 100, frontToEndMm: [88], uRulerMm: 0.2 };
const angle = { fromEndMm: 35, depthMm: 70, frontToEndMm: [149], uRulerMm: 0.2 };

function summaryOf(given: Partial<ProbeChecks>) {
  const checks: ProbeChecks = {
    index: null,
    angle: null,
    elsewhere: null,
    decision: 'with-uncertainty',
    rule: { kind: 'published', name: 'iso-22232-2' },
    ...given,
  };
  const review = { ...emptyReview, part: partOf({ checks }) };
  return verdictSummary(review, evaluate(review, []), metricStyle);
}

const told = (given: Partial<ProbeChecks>) =>
  summaryOf(given).verdicts.map(({ judged, verdict }) => [judged, verdict.outcome]);

describe('the probe’s checks among all verdicts', () => {
  it('have none without a rule, without a check, or where the rule limits nothing', () => {
    expect(told({ index, rule: null })).toEqual([]);
    expect(told({})).toEqual([]);
    expect(told({ index, rule: { kind: 'published', name: 'aws-d1.1' } })).toEqual([]);
  });

  it('are not assessed where they were asked for and could not be measured', () => {
    const made = summaryOf({ index: { ...index, frontToEndMm: [] }, angle });
    expect(made.verdicts.map(({ judged, verdict }) => [judged, verdict.outcome])).toEqual([
      ['index point', 'not-assessed'],
      ['angle', 'pass'],
    ]);
    expect(made.outcome).toBe('not-assessed');
    expect(made.verdicts[0]).toMatchObject({ asked: null, remark: expect.stringContaining('problems say why') });
  });

  it('have their arithmetic and their decision in numbers', () => {
    const [first] = summaryOf({ index }).verdicts;
    expect(first!.arithmetic().map(({ withNumbers }) => withNumbers)).toEqual([
      '100 mm − 88.00 mm = 12.00 mm',
      '0.00 mm − 2 · 0.20 mm = -0.40 mm; 0.00 mm + 2 · 0.20 mm = 0.40 mm; allowed -1.00 mm to 1.00 mm: pass',
    ]);
  });

  it('say of an angle elsewhere beyond the tolerance that the stated one must not be used there', () => {
    const elsewhere = { velocityMPerS: 3255, inVelocityMPerS: 3130, wedge: null };
    const [only] = summaryOf({ elsewhere }).verdicts;
    expect(only).toMatchObject({
      judged: 'angle expected there',
      remark: expect.stringContaining('not with the one stated'),
    });
    expect(only!.verdict.outcome).toBe('fail');
  });
});
