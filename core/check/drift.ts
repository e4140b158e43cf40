import type { CaptureId } from '../capture/capture.ts';
import type { Flag } from '../flag.ts';
import type { Quantity } from '../units/quantity.ts';
import type { DriftRule } from './rule.ts';
import type { Verdict, VerdictOutcome } from './verdict.ts';

/** One reflector as a check capture shows it; `null` time where it has no echo there. */
export interface CheckedReflector {
  readonly distanceMm: number;
  readonly timeUs: Quantity | null;
  readonly amplitudePercent: number | null;
  readonly flags: readonly Flag[];
}

/** One check capture, read at the reflectors of the calibration. */
export interface CheckCapture {
  readonly captureId: CaptureId;
  readonly takenAt: string | null;
  readonly gainDb: number | null;
  readonly reflectors: readonly CheckedReflector[];
}

export interface DriftCheck {
  readonly captureId: CaptureId;
  readonly takenAt: string | null;
  readonly reflectors: readonly {
    readonly distanceMm: number;
    readonly distanceErrorMm: Quantity | null;
    readonly amplitudeChangeDb: Quantity | null;
    readonly verdicts: readonly Verdict[];
    readonly flags: readonly Flag[];
  }[];
  /** Both need two reflectors; `null` otherwise. */
  readonly velocityChangePercent: Quantity | null;
  readonly zeroOffsetChangeUs: Quantity | null;
  /** In words: `zero offset`, `velocity`, both, or neither beyond its uncertainty. */
  readonly cause: 'zero-offset' | 'velocity' | 'both' | 'none' | null;
  /** `null` without a rule. */
  readonly verdict: VerdictOutcome | null;
  /** What the rule says must be done, where the verdict is not `pass`. */
  readonly consequences: readonly string[];
  readonly flags: readonly Flag[];
}

export interface DriftResult {
  readonly checks: readonly DriftCheck[];
  readonly firstFailing: CaptureId | null;
  /** The last passing check before the first failing one (the last passing of all where none fails). */
  readonly lastPassing: CaptureId | null;
  readonly rule: DriftRule | null;
}
