import type { SummarisedVerdict } from '../../core/check/verdict-summary.ts';

/** Verdicts that stand beside one another in the list and came out alike by one rule. */
export interface VerdictGroup {
  readonly key: string;
  readonly first: SummarisedVerdict;
  readonly verdicts: readonly SummarisedVerdict[];
  /** One pair of limits holds for all of them. */
  readonly isOneLimit: boolean;
  readonly isOneClause: boolean;
}

/** The list in runs, so that a rule is named once; the order stays. */
export function groupsOf(verdicts: readonly SummarisedVerdict[]): readonly VerdictGroup[] {
  const runs: { readonly id: string; readonly verdicts: SummarisedVerdict[] }[] = [];
  for (const one of verdicts) {
    const { part, rule, verdict } = one;
    const id = JSON.stringify([part, rule.name, verdict.outcome]);
    const last = runs.at(-1);
    if (last?.id === id) last.verdicts.push(one);
    else runs.push({ id, verdicts: [one] });
  }
  return runs.map(({ id, verdicts: run }, i) => ({
    key: `${i} ${id}`,
    first: run[0] as SummarisedVerdict,
    verdicts: run,
    isOneClause: new Set(run.map(({ verdict }) => verdict.clause)).size === 1,
    isOneLimit:
      new Set(
        run.map(({ limits, verdict }) => (limits === null ? '' : `${limits.lower} ${limits.upper} ${verdict.unit}`)),
      ).size === 1,
  }));
}
