import type { SummarisedVerdict, VerdictSummary } from '../check/verdict-summary.ts';
import { type CaptureLookup, placeOf, rounded } from './document.ts';

/** All verdicts in one list, in the order in which they are to be looked at. `limit` is the one on the side of the deviation; an open side is `null`. */
export function verdictSummaryDocument(summary: VerdictSummary, captures: CaptureLookup) {
  return {
    outcome: summary.outcome,
    counts: countsDocument(summary.counts),
    parts: summary.parts.map(({ part, outcome, counts }) => ({ part, outcome, counts: countsDocument(counts) })),
    verdicts: summary.verdicts.map((verdict) => verdictDocument(verdict, captures)),
  };
}

function countsDocument({ fail, inconclusive, 'not-assessed': notAssessed, pass }: VerdictSummary['counts']) {
  return { fail, inconclusive, not_assessed: notAssessed, pass };
}

const finite = (value: number | undefined): number | null =>
  value !== undefined && Number.isFinite(value) ? rounded(value) : null;

function verdictDocument(entry: SummarisedVerdict, captures: CaptureLookup) {
  const { part, judged, captureId, takenAt, verdict, limits, rule, arithmetic, flags, remark } = entry;
  const { measured } = verdict;
  return {
    part,
    judged,
    ...(captureId === null ? { file: null, trace: null } : placeOf(captureId, captures)),
    taken_at: takenAt,
    measured: finite(measured?.value),
    u_measured: finite(measured?.standardUncertainty ?? undefined),
    limit: finite(limits === null ? undefined : verdict.limit),
    lower_limit: finite(limits?.lower),
    upper_limit: finite(limits?.upper),
    unit: verdict.unit,
    rule: { name: rule.name, title: rule.title, edition: rule.edition, clause: verdict.clause, source: rule.source },
    decision: verdict.decision,
    outcome: verdict.outcome,
    arithmetic: arithmetic().map(({ text, withNumbers }) => ({ text, with_numbers: withNumbers })),
    flags,
    remark,
  };
}
