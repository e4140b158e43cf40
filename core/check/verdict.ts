import type { Quantity } from '../units/quantity.ts';

/** `inconclusive`: the limit lies inside the expanded uncertainty (k = 2; reasoning of ISO 14253-1, from memory). */
export type VerdictOutcome = 'pass' | 'fail' | 'inconclusive' | 'not-assessed';

/** `with-uncertainty`: the expanded uncertainty guards the limit. `simple-acceptance`: the value alone decides; only ever a person's own choice. */
export type DecisionRule = 'with-uncertainty' | 'simple-acceptance';

/** A measured deviation held against the limit of a rule. */
export interface Verdict {
  readonly measured: Quantity | null;
  /** On the side on which the deviation lies, with its sign (the upper one where nothing was measured); the other side's where a rule limits that alone. */
  readonly limit: number;
  readonly unit: 'mm' | 'dB' | '%' | '°';
  readonly rule: string;
  readonly clause: string;
  readonly decision: DecisionRule;
  readonly outcome: VerdictOutcome;
}

/** What a deviation may be at most on either side; both ends belong to what is allowed. An infinite end is no limit. */
export interface Limits {
  readonly lower: number;
  readonly upper: number;
}

/** Coverage factor of every decision. */
export const coverageFactor = 2;

/** Rounding of the arithmetic alone must not push a value off a limit on which it stands. */
const roundingShare = 1e-9;

/**
 * Holds a signed deviation against the limits of a rule.
 *
 *     lower            0            upper
 *     --|--------------+--------------|--
 *         [----x----]                        pass: x ± U lies inside, the limit itself included
 *                              [----x----]   inconclusive: the limit lies within x ± U
 *                                       [----x----]   fail: wholly outside
 *
 * U is the expanded uncertainty, k = 2. Nothing measured is `not-assessed`. Where the uncertainty is not known no value can be shown to pass:
 * inside the limits it is `inconclusive`; outside them it is `fail`, as the text of every rule reads without an uncertainty.
 * Source: reasoning of ISO 14253-1 (from memory).
 */
export function judge(
  measured: Quantity | null,
  limits: Limits,
  by: Pick<Verdict, 'unit' | 'rule' | 'clause' | 'decision'>,
): Verdict {
  const [near, far] =
    measured !== null && measured.value < 0 ? [limits.lower, limits.upper] : [limits.upper, limits.lower];
  const limit = Number.isFinite(near) ? near : far;
  return { measured, limit, ...by, outcome: outcomeOf(measured, limits, by.decision) };
}

function outcomeOf(measured: Quantity | null, limits: Limits, decision: DecisionRule): VerdictOutcome {
  if (measured === null || !Number.isFinite(measured.value)) return 'not-assessed';
  const { value, standardUncertainty } = measured;
  const rounding = roundingShare * Math.max(...[0, limits.lower, limits.upper].filter(Number.isFinite).map(Math.abs));
  const within = (x: number) => x >= limits.lower - rounding && x <= limits.upper + rounding;
  if (decision === 'simple-acceptance') return within(value) ? 'pass' : 'fail';
  if (standardUncertainty === null) return within(value) ? 'inconclusive' : 'fail';
  const expanded = coverageFactor * standardUncertainty;
  if (within(value - expanded) && within(value + expanded)) return 'pass';
  const outside = value - expanded > limits.upper + rounding || value + expanded < limits.lower - rounding;
  return outside ? 'fail' : 'inconclusive';
}

const severity: Record<VerdictOutcome, number> = { pass: 0, 'not-assessed': 1, inconclusive: 2, fail: 3 };

/** The worst of several: fail, then inconclusive, then not assessed, then pass; of none at all `not-assessed`. */
export function worstOf(outcomes: readonly VerdictOutcome[]): VerdictOutcome {
  if (outcomes.length === 0) return 'not-assessed';
  return outcomes.reduce((worst, outcome) => (severity[outcome] > severity[worst] ? outcome : worst));
}
