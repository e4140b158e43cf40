import { judgedParts, outcomesInOrder, type VerdictSummary } from '../../core/check/verdict-summary.ts';
import { limitsShown, verdictFigure } from '../../core/origin/decision-in-numbers.ts';
import { figureWithUncertainty } from '../../core/origin/figure.ts';
import { verdictWords } from '../../core/origin/verdict-words.ts';
import type { CaptureLookup } from '../../core/report/document.ts';
import { metricStyle } from '../../core/units/figure-style.ts';
import { unknown } from '../../core/units/format-quantity.ts';
import { left, right, table } from './table.ts';

/** All verdicts of an evaluation: how many of each kind, and those that do not pass one by one. */
export function summaryWords(summary: VerdictSummary, captures: CaptureLookup): string {
  const { verdicts, parts } = summary;
  if (verdicts.length === 0) return 'No rule was chosen for anything in this review: there is no verdict.';
  const counted = [
    ...parts.map(({ part, outcome, counts }) => [judgedParts[part], verdictWords[outcome], ...numbers(counts)]),
    ...(parts.length < 2 ? [] : [['all', verdictWords[summary.outcome ?? 'not-assessed'], ...numbers(summary.counts)]]),
  ];
  const counts = table(
    [left('checked'), left('verdict'), ...outcomesInOrder.map((outcome) => right(verdictWords[outcome]))],
    counted,
  );
  const open = verdicts.filter(({ verdict }) => verdict.outcome !== 'pass');
  if (open.length === 0) return counts;
  const rows = open.map(({ part, judged, captureId, verdict, limits, rule, remark }) => [
    verdictWords[verdict.outcome],
    judgedParts[part],
    judged,
    captureId === null ? unknown : (captures.get(captureId)?.file ?? captureId),
    figureWithUncertainty(verdictFigure(verdict, metricStyle), metricStyle),
    limits === null ? unknown : limitsShown(limits, verdict.unit, metricStyle),
    `${rule.name}, ${verdict.clause}`,
    remark ?? '',
  ]);
  const columns = [
    left('verdict'),
    left('checked'),
    left('judged'),
    left('capture'),
    right('measured'),
    left('allowed'),
    left('rule'),
    left('remark'),
  ];
  return [counts, '', 'Not passed, the worst first', '', table(columns, rows)].join('\n');
}

function numbers(counts: VerdictSummary['counts']): string[] {
  return outcomesInOrder.map((outcome) => String(counts[outcome]));
}
