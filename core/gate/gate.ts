import { type DistanceCalibration, timeFromPath } from '../calibration/distance.ts';
import { type Problem, problem } from '../outcome.ts';

/** What is timed: the envelope's peak, or the first crossing of the threshold. One rule for the calibration and for what is read with it. */
export type Timing = 'peak' | 'crossing';

/**
 * A window in time or in sound path, with a threshold in % FSH. Named by its purpose.
 *
 *     amplitude |         /\
 *               |     |--/--\-------|   threshold
 *               |____/_\/    \_/\___|___
 *               +-----------------------> time, or sound path
 *                     from          to
 */
export interface Gate {
  readonly name: string;
  readonly span:
    | { readonly axis: 'time'; readonly fromUs: number; readonly toUs: number }
    | { readonly axis: 'path'; readonly fromMm: number; readonly toMm: number };
  readonly thresholdPercent: number;
}

/** A gate's window on the time axis, in µs. */
export interface GateWindow {
  readonly fromUs: number;
  readonly toUs: number;
}

/** What is wrong with the gates themselves, one sentence for each fault; `file` is where they were given. Empty when all can be used. */
export function gateProblems(gates: readonly Gate[], file: string): Problem[] {
  const problems = gates.flatMap((gate) =>
    faultsOf(gate).map(([code, words]) => problem(code, { file }, `gate "${gate.name}": ${words}`)),
  );
  const seen = new Set<string>();
  for (const { name } of gates) {
    if (seen.has(name.trim())) {
      problems.push(
        problem('gate-name-twice', { file }, `gate "${name}": the name stands twice; give each gate its own`),
      );
    }
    seen.add(name.trim());
  }
  return problems;
}

function faultsOf({ name, span, thresholdPercent }: Gate): (readonly [code: string, words: string])[] {
  const faults: (readonly [string, string])[] = [];
  const [from, to] = span.axis === 'time' ? [span.fromUs, span.toUs] : [span.fromMm, span.toMm];
  if (name.trim() === '') faults.push(['gate-without-name', 'it has no name; name it by its purpose']);
  if (!Number.isFinite(from) || !Number.isFinite(to))
    faults.push(['gate-not-a-number', 'its ends are not both numbers; give where it begins and ends']);
  else if (from === to) faults.push(['gate-empty', 'it begins where it ends; give it a width']);
  else if (from > to) faults.push(['gate-reversed', 'it ends before it begins; exchange its ends']);
  if (span.axis === 'path' && (from < 0 || to < 0))
    faults.push(['gate-path-negative', 'a sound path cannot be negative; begin at 0 or later']);
  if (!(thresholdPercent > 0 && thresholdPercent <= 100)) {
    faults.push(['gate-threshold', 'its threshold must lie above 0 and at most at 100 % of full screen height']);
  }
  return faults;
}

/** Where the gate stands on the time axis; `null` for a gate in sound path without a calibration to place it by. */
export function gateWindowUs({ span }: Gate, calibration: DistanceCalibration | null): GateWindow | null {
  if (span.axis === 'time') return { fromUs: span.fromUs, toUs: span.toUs };
  if (calibration === null) return null;
  return { fromUs: timeFromPath(calibration, span.fromMm), toUs: timeFromPath(calibration, span.toMm) };
}
