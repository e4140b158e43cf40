import type { CaptureId } from '../capture/capture.ts';
import { figure } from '../units/figure.ts';
import type { DriftRule } from './rule.ts';
import { coverageFactor, type Verdict, type VerdictOutcome } from './verdict.ts';

/** A reflector's verdicts, as far as the words need them. */
interface Judged {
  readonly distanceMm: number;
  readonly verdicts: readonly Verdict[];
}

/** What must be done after a check that does not pass, in the words of the rule, and since when. */
export function consequencesOf(
  rule: DriftRule,
  verdict: VerdictOutcome,
  reflectors: readonly Judged[],
  lastPassing: { readonly captureId: CaptureId; readonly takenAt: string | null } | null,
): string[] {
  if (verdict === 'pass') return [];
  const since =
    lastPassing === null
      ? 'No earlier check passes: that is everything since the calibration.'
      : `The last valid check is ${named(lastPassing)}.`;
  if (verdict === 'fail') {
    const failing = reflectors.flatMap(({ verdicts }) => verdicts.filter((v) => v.outcome === 'fail'));
    return [...new Set(failing.map((v) => wordsFor(rule, v)).filter((words) => words !== null)), since];
  }
  const open = reflectors.flatMap(({ distanceMm, verdicts }) =>
    verdicts
      .filter((v) => v.outcome !== 'pass')
      .map((v) => `${v.unit === 'mm' ? 'distance' : 'amplitude'} at ${figure(distanceMm, 3)} mm`),
  );
  const what = open.length === 0 ? 'not all that the rule limits could be assessed' : `not decided: ${open.join(', ')}`;
  return [
    `The check shows neither that the limits are kept nor that they are not (${what}). Repeat it; if that cannot be done, act as after a failing one.`,
    since,
  ];
}

function named({ captureId, takenAt }: { readonly captureId: CaptureId; readonly takenAt: string | null }): string {
  return takenAt === null ? captureId : `${captureId} (${takenAt})`;
}

function wordsFor(rule: DriftRule, verdict: Verdict): string | null {
  if (verdict.unit === 'mm') return rule.distance?.whenExceeded ?? null;
  const lower = verdict.measured !== null && verdict.measured.value < 0;
  return (lower ? rule.amplitude?.whenLower : rule.amplitude?.whenHigher) ?? null;
}

/** What the rule asks for although a limit is kept: only where the deviation exceeds its own expanded uncertainty, for else there is nothing to correct. */
export function remarksOf(rule: DriftRule, reflectors: readonly Judged[]): string[] {
  const remarks = reflectors.flatMap(({ verdicts }) =>
    verdicts
      .filter(
        ({ outcome, measured }) =>
          outcome === 'pass' && Math.abs(measured!.value) > coverageFactor * (measured!.standardUncertainty ?? 0),
      )
      .map(({ unit }) => (unit === 'mm' ? rule.distance : rule.amplitude)?.whenWithin ?? null),
  );
  return [...new Set(remarks.filter((remark) => remark !== null))];
}
