import type { Quantity } from '../units/quantity.ts';

/** `inconclusive`: the limit lies inside the expanded uncertainty (k = 2; reasoning of ISO 14253-1). */
export type VerdictOutcome = 'pass' | 'fail' | 'inconclusive' | 'not-assessed';

/** A measured deviation held against the limit of a rule. */
export interface Verdict {
  readonly measured: Quantity | null;
  readonly limit: number;
  readonly unit: 'mm' | 'dB' | '%';
  readonly rule: string;
  readonly clause: string;
  readonly outcome: VerdictOutcome;
}
