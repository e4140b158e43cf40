import type { Evaluation } from '../evaluate.ts';
import { decisionInNumbers } from '../origin/decision-in-numbers.ts';
import type { LocationFigureAsked } from '../origin.ts';
import { originOf } from '../origin.ts';
import type { ProbeCheckResult, ProbeFigure } from '../probe-check/probe-checks.ts';
import type { ProbeRule } from '../probe-check/rule.ts';
import type { ProbeChecks } from '../review/part-decision.ts';
import type { Review } from '../review/review.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { Verdict } from './verdict.ts';
import type { SummarisedVerdict } from './verdict-summary.ts';

type Figure = 'index-point' | 'probe-angle' | 'expected-angle';

const judged: Readonly<Record<Figure, string>> = {
  'index-point': 'index point',
  'probe-angle': 'angle',
  'expected-angle': 'angle expected there',
};

/** The verdicts on index point and angles of the probe; one that was asked for and could not be measured is not assessed. */
export function angleBeamVerdicts(review: Review, evaluation: Evaluation, style: FigureStyle): SummarisedVerdict[] {
  const checks = review.part?.checks ?? null;
  const result = evaluation.location?.checks ?? null;
  if (checks === null || result === null || result.rule === null) return [];
  const { rule } = result;
  return asked(checks, result, rule).map(({ figure, found, limit }) => {
    const question: LocationFigureAsked = { kind: 'location', figure };
    const unit = figure === 'index-point' ? 'mm' : '°';
    const verdict: Verdict = found?.verdict ?? {
      measured: null,
      limit,
      unit,
      rule: rule.name,
      clause: rule.clause,
      decision: checks.decision,
      outcome: 'not-assessed',
    };
    const limits = { lower: -limit, upper: limit };
    const arithmetic = () => {
      const made = found === null ? null : originOf(question, review, evaluation, style);
      return [...(made?.formula ? [made.formula] : []), decisionInNumbers('deviation', verdict, limits, style)];
    };
    return {
      part: 'angle-beam' as const,
      judged: judged[figure],
      captureId: null,
      takenAt: null,
      verdict,
      limits,
      rule,
      arithmetic,
      flags: [],
      remark: remarkOn(figure, verdict),
      asked: found === null ? null : question,
    };
  });
}

/** What was asked for and is limited by the rule. */
function asked(checks: ProbeChecks, result: ProbeCheckResult, rule: ProbeRule) {
  const entries: { figure: Figure; wanted: boolean; found: ProbeFigure | null; limit: number | null }[] = [
    { figure: 'index-point', wanted: checks.index !== null, found: result.indexToFrontMm, limit: rule.indexMm },
    { figure: 'probe-angle', wanted: checks.angle !== null, found: result.angleDeg, limit: rule.angleDeg },
    {
      figure: 'expected-angle',
      wanted: checks.elsewhere !== null,
      found: result.elsewhere?.against ?? null,
      limit: rule.angleDeg,
    },
  ];
  return entries.flatMap(({ figure, wanted, found, limit }) =>
    wanted && limit !== null ? [{ figure, found, limit }] : [],
  );
}

function remarkOn(figure: Figure, { outcome, measured }: Verdict): string | null {
  if (outcome === 'not-assessed' && measured === null)
    return 'Nothing could be held against the rule; the problems say why.';
  if (figure === 'expected-angle' && outcome !== 'pass')
    return 'Locate with the angle expected there, not with the one stated of the probe.';
  return null;
}
