import type { Evaluation } from '../evaluate.ts';
import { decisionInNumbers } from '../origin/decision-in-numbers.ts';
import { originOf, type ProbeFigureAsked } from '../origin.ts';
import { probeFigures } from '../probe/figures.ts';
import type { Review } from '../review/review.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { SummarisedVerdict } from './verdict-summary.ts';

/** The verdicts on probes' figures against the stated ones. */
export function statedVerdicts(review: Review, evaluation: Evaluation, style: FigureStyle): SummarisedVerdict[] {
  const result = evaluation.probes;
  if (result === null || result.rule === null) return [];
  const { name, title, edition, source } = result.rule;
  return result.probes.flatMap(({ probe, stated }) =>
    stated.flatMap(({ figure, verdict, limits }): SummarisedVerdict[] => {
      if (verdict === null) return [];
      const asked: ProbeFigureAsked = { kind: 'probe', of: 'stated', probe, figure };
      return [
        {
          part: 'probe',
          judged: `${probe}: ${probeFigures[figure].title}`,
          captureId: null,
          takenAt: null,
          verdict,
          limits,
          rule: { name, title, edition, source },
          arithmetic: () => [decisionInNumbers('deviation', verdict, limits, style)],
          flags: [],
          remark: verdict.outcome === 'not-assessed' ? 'The figure could not be measured; its captures say why.' : null,
          asked: originOf(asked, review, evaluation, style) === null ? null : asked,
        },
      ];
    }),
  );
}
