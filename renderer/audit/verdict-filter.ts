import type { VerdictOutcome } from '../../core/check/verdict.ts';
import { type JudgedPart, judgedParts, type SummarisedVerdict } from '../../core/check/verdict-summary.ts';

/** Which verdicts are shown. */
export interface VerdictFilter {
  /** `null`: all. */
  readonly outcome: VerdictOutcome | null;
  readonly part: JudgedPart | null;
  readonly words: string;
}

export const allVerdicts: VerdictFilter = { outcome: null, part: null, words: '' };

/** Those of the outcome and the part chosen whose name, capture, rule or clause has all the words; in their own order. */
export function filteredVerdicts(
  verdicts: readonly SummarisedVerdict[],
  { outcome, part, words }: VerdictFilter,
): readonly SummarisedVerdict[] {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  return verdicts.filter((one) => {
    if (outcome !== null && one.verdict.outcome !== outcome) return false;
    if (part !== null && one.part !== part) return false;
    if (wanted.length === 0) return true;
    const { rule, verdict, judged, captureId, takenAt, remark } = one;
    const text = [judgedParts[one.part], judged, captureId, takenAt, rule.title, rule.name, verdict.clause, remark]
      .join(' ')
      .toLowerCase();
    return wanted.every((word) => text.includes(word));
  });
}
