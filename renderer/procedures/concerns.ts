import type { AssessedStep } from '../../core/check/assessed-step.ts';
import type { VerdictOutcome } from '../../core/check/verdict.ts';
import type { Evaluation } from '../../core/evaluate.ts';
import type { Review } from '../../core/review/review.ts';
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
  const { linearity, drift, sensitivity, location, scan, probes, material } = evaluation;
  const held = {
    'time-base': ofCheck(linearity.timeBase, review.linearity.timeBase?.rule),
    'screen-height': ofCheck(linearity.screenHeight, review.linearity.screenHeight?.rule),
    gain: ofCheck(linearity.gain, review.linearity.gain?.rule),
  };
  const checks = drift?.checks ?? [];
  const driftVerdicts =
    drift === null
      ? Number(review.drift?.rule != null)
      : checks
          .flatMap(({ reflectors }) => reflectors.flatMap(({ verdicts }) => verdicts))
          .filter(({ outcome }) => isConcern(outcome)).length;
  return {
    import: imported,
    calibration: evaluation.calibration?.calibration?.flags.length ?? 0,
    readings: (evaluation.readings?.readings ?? []).filter(({ flags }) => flags.length > 0).length,
    drift: checks.filter(({ verdict }) => verdict === 'fail' || verdict === 'inconclusive').length,
    ...held,
    sensitivity:
      sensitivity === null
        ? 0
        : sensitivity.problems.length +
          (sensitivity.curve?.doubts.length ?? 0) +
          (sensitivity.curve?.points.filter(({ flags }) => flags.length > 0).length ?? 0) +
          (sensitivity.attenuation?.doubts.length ?? 0),
    part: location?.problems.length ?? 0,
    location: expecting(location?.readings ?? []).filter(({ undecided }) => undecided > 0).length,
    indications: (scan?.problems.length ?? 0) + (scan?.indications ?? []).filter(({ taken }) => taken === null).length,
    probes: (probes?.problems.length ?? 0) + (probes?.probes ?? []).filter(({ outcome }) => outcome === 'fail').length,
    material: material?.problems.length ?? 0,
    verdicts: held['time-base'] + held['screen-height'] + held.gain + driftVerdicts,
  };
}

/** A check that a rule was chosen for and that a problem kept from being made is one concern. */
function ofCheck(
  check: { readonly steps: readonly AssessedStep[]; readonly conclusions: readonly AssessedStep[] } | null,
  rule: object | null | undefined,
): number {
  if (check === null) return rule == null ? 0 : 1;
  return [...check.steps, ...check.conclusions].filter(({ verdict }) => verdict !== null && isConcern(verdict.outcome))
    .length;
}

function isConcern(outcome: VerdictOutcome): boolean {
  return outcome !== 'pass';
}
