import { type JudgedPart, type SummarisedVerdict, verdictSummary } from '../../core/check/verdict-summary.ts';
import type { Evaluation } from '../../core/evaluate.ts';
import type { Review } from '../../core/review/review.ts';
import { metricStyle } from '../../core/units/figure-style.ts';
import { expecting } from '../part/confirming.ts';
import type { ProcedureNotes } from '../shell/ProcedureTabs.tsx';
import type { OpenedSource } from '../state/workbench-state.ts';

/** How many things in each procedure want a person's attention: doubts, and verdicts that are no pass. */
export function concernsOf(
  files: ReadonlyMap<string, OpenedSource>,
  evaluation: Evaluation | null,
  review: Review,
): ProcedureNotes {
  const imported = [...files.values()].filter(({ state }) => state !== 'ready').length;
  if (evaluation === null) return { import: imported };
  const { drift, sensitivity, location, scan, probes, material } = evaluation;
  const notPassed = verdictSummary(review, evaluation, metricStyle).verdicts.filter(
    ({ verdict }) => verdict.outcome !== 'pass',
  );
  const of = (part: JudgedPart, counts: (one: SummarisedVerdict) => boolean = () => true) =>
    notPassed.filter((one) => one.part === part && counts(one)).length;
  return {
    import: imported,
    calibration: evaluation.calibration?.calibration?.flags.length ?? 0,
    readings: (evaluation.readings?.readings ?? []).filter(({ flags }) => flags.length > 0).length,
    drift: (drift?.checks ?? []).filter(({ verdict }) => verdict === 'fail' || verdict === 'inconclusive').length,
    'time-base': of('time-base'),
    'screen-height': of('screen-height'),
    gain: of('gain'),
    sensitivity:
      sensitivity === null
        ? 0
        : sensitivity.problems.length +
          (sensitivity.curve?.doubts.length ?? 0) +
          (sensitivity.curve?.points.filter(({ flags }) => flags.length > 0).length ?? 0) +
          (sensitivity.attenuation?.doubts.length ?? 0),
    // What could not be measured stands among the problems already.
    part: (location?.problems.length ?? 0) + of('angle-beam', ({ verdict }) => verdict.measured !== null),
    location: expecting(location?.readings ?? []).filter(({ undecided }) => undecided > 0).length,
    indications: (scan?.problems.length ?? 0) + (scan?.indications ?? []).filter(({ taken }) => taken === null).length,
    probes: (probes?.problems.length ?? 0) + (probes?.probes ?? []).filter(({ outcome }) => outcome === 'fail').length,
    material: material?.problems.length ?? 0,
    verdicts: notPassed.length,
  };
}
