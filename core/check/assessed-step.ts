import type { CaptureId } from '../capture/capture.ts';
import type { SampleRange } from '../capture/waveform.ts';
import type { Flag } from '../flag.ts';
import type { Quantity } from '../units/quantity.ts';
import { type Limits, type Verdict, type VerdictOutcome, worstOf } from './verdict.ts';

/** A formula in words, and the same with its numbers put in. */
export interface Arithmetic {
  readonly text: string;
  readonly withNumbers: string;
}

/** A number that a step's formula takes, under its name. */
export interface Term {
  readonly name: string;
  readonly value: Quantity;
  readonly unit: '%' | 'dB' | 'mm' | 'µs' | '';
}

/** One step of a check as a rule counts it, fit for a row of a table, a point of a plot and a line of arithmetic. */
export interface AssessedStep {
  /** `echo 3`, `−6 dB from 80 %`. */
  readonly name: string;
  /** The capture that shows what was read; `null` where none serves the step. */
  readonly captureId: CaptureId | null;
  /** The samples it was read from, and the time that was read among them. */
  readonly from: SampleRange | null;
  readonly timeUs: number | null;
  readonly expected: Quantity | null;
  readonly read: Quantity | null;
  /** Of the two above. */
  readonly readUnit: '%' | 'dB' | 'mm' | 'µs';
  readonly deviation: Quantity | null;
  readonly unit: '%' | 'dB' | 'mm';
  /** What the rule allows of the deviation; `null` where it limits nothing here. An infinite end is no limit. */
  readonly limits: Limits | null;
  /** `null` where no rule limits the step: figures only. A step that is missing is `not-assessed`, never passed. */
  readonly verdict: Verdict | null;
  readonly arithmetic: Arithmetic | null;
  readonly terms: readonly Term[];
  readonly flags: readonly Flag[];
  /** What must be said of it beside its figures: why it was not assessed, which capture was left for which other. */
  readonly remark: string | null;
}

/** The worst verdict of several steps; `null` where none of them has one. */
export function outcomeOfSteps(steps: readonly AssessedStep[]): VerdictOutcome | null {
  const outcomes = steps.flatMap(({ verdict }) => (verdict === null ? [] : [verdict.outcome]));
  return outcomes.length === 0 ? null : worstOf(outcomes);
}
