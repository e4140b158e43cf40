import type { CaptureId } from '../capture/capture.ts';
import { comparableSeconds } from '../capture/order-in-time.ts';
import type { VerdictOutcome } from './verdict.ts';

/** A check as far as the readings between checks depend on it. */
export interface CheckInTime {
  readonly captureId: CaptureId;
  readonly takenAt: string | null;
  readonly verdict: VerdictOutcome | null;
}

/** A capture of the part, read with the calibration that the checks are about. */
export interface ReadingInTime {
  readonly captureId: CaptureId;
  readonly takenAt: string | null;
}

/** `between`: taken between the good checks. `cannot-be-placed`: without a usable time, so that it may have been. */
export type Placing = 'between' | 'cannot-be-placed';

/** A stretch of time in which the calibration is in doubt, and what was read in it. */
export interface Reexamination {
  /** `fail` where one of the checks fails, `inconclusive` where none does and not all pass. */
  readonly because: 'fail' | 'inconclusive';
  /** The checks of the stretch that do not pass, in order of time. */
  readonly checks: readonly CaptureId[];
  /** The last good check before them; `null`: none, so that it is everything since the calibration. */
  readonly after: CaptureId | null;
  /** The first good check after them; `null`: none yet. */
  readonly before: CaptureId | null;
  /** In order of time, those that cannot be placed last. */
  readonly readings: readonly (ReadingInTime & { readonly placing: Placing })[];
}

/**
 * What must be looked at again: for each run of checks that do not pass, the readings from the last good check before to the first good check after.
 *
 *     good      o  o         o  fail      o  fail        o  good
 *     check ----x------------x-------------x--------------x-------- time
 *               [  all readings taken in here, both ends included  ]
 *
 * A reading without a usable time cannot be placed and stands in every such list; so do all readings where a check of the run has none.
 * Checks without a verdict say nothing. Source: the last valid check bounds what is in doubt, ASME BPVC V, Article 4, T-467, and ISO 17640 (both from memory).
 *
 * @param checks in order of time, as `judgeDrift` gives them: those without a usable time last
 */
export function toReexamine(
  checks: readonly CheckInTime[],
  readings: readonly ReadingInTime[],
): readonly Reexamination[] {
  const judged = checks.filter((check) => check.verdict !== null);
  const ownSeconds = comparableSeconds(judged.map((check) => check.takenAt));
  const seconds = comparableSeconds([...judged, ...readings].map((entry) => entry.takenAt));
  const secondsOf = new Map(judged.map((check, i) => [check.captureId, seconds[i]]));
  const readingSeconds = seconds.slice(judged.length);
  const placed = judged.filter((_, i) => ownSeconds[i] !== null);
  const unplaced = judged.filter((check, i) => ownSeconds[i] === null && check.verdict !== 'pass');
  const timed = readings.flatMap((reading, i) => {
    const second = readingSeconds[i];
    return second === null ? [] : [{ reading, second }];
  });
  timed.sort((a, b) => a.second - b.second);
  const untimed = readings.filter((_, i) => readingSeconds[i] === null).map(withoutPlace);
  const listed = (from: number | null, to: number | null, known: boolean): Reexamination['readings'] => {
    if (!known) return readings.map(withoutPlace);
    const first = from === null ? 0 : firstWhere(timed.length, (i) => timed[i].second >= from);
    const end = to === null ? timed.length : firstWhere(timed.length, (i) => timed[i].second > to);
    return [...timed.slice(first, end).map(({ reading }) => ({ ...reading, placing: 'between' as const })), ...untimed];
  };
  const stretches = runsInDoubt(placed).map(({ run, after, before }): Reexamination => {
    const [from, to] = [after, before].map((check) =>
      check === null ? null : (secondsOf.get(check.captureId) ?? null),
    );
    const known = (after === null || from !== null) && (before === null || to !== null);
    return {
      because: becauseOf(run),
      checks: run.map((check) => check.captureId),
      after: after?.captureId ?? null,
      before: before?.captureId ?? null,
      readings: listed(from, to, known),
    };
  });
  if (unplaced.length === 0) return stretches;
  return [
    ...stretches,
    {
      because: becauseOf(unplaced),
      checks: unplaced.map((check) => check.captureId),
      after: null,
      before: null,
      readings: listed(null, null, false),
    },
  ];
}

function withoutPlace(reading: ReadingInTime): Reexamination['readings'][number] {
  return { ...reading, placing: 'cannot-be-placed' };
}

/** The first index from which on a condition holds, in a list in which it holds from some index on. */
function firstWhere(count: number, holds: (index: number) => boolean): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

function becauseOf(run: readonly CheckInTime[]): Reexamination['because'] {
  return run.some((check) => check.verdict === 'fail') ? 'fail' : 'inconclusive';
}

interface Run {
  readonly run: CheckInTime[];
  readonly after: CheckInTime | null;
  readonly before: CheckInTime | null;
}

/** Each run of successive checks that do not pass, with the good ones on either side. */
function runsInDoubt(checks: readonly CheckInTime[]): Run[] {
  const runs: Run[] = [];
  let after: CheckInTime | null = null;
  let run: CheckInTime[] = [];
  for (const check of checks) {
    if (check.verdict !== 'pass') {
      run.push(check);
      continue;
    }
    if (run.length > 0) runs.push({ run, after, before: check });
    run = [];
    after = check;
  }
  if (run.length > 0) runs.push({ run, after, before: null });
  return runs;
}
