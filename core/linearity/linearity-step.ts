import type { AssessedStep, Term } from '../check/assessed-step.ts';
import { type DecisionRule, judge, type Limits, type Verdict, type VerdictOutcome } from '../check/verdict.ts';
import { type Flag, isDoubtfulEcho } from '../flag.ts';
import { pointStyle } from '../units/format-quantity.ts';
import type { Quantity } from '../units/quantity.ts';
import { arithmeticOf, compute, type LinearityFormula } from './formulas.ts';
import type { LinearityRule } from './rule.ts';

/** A step of a linearity check: how its deviation was made goes by key, so that it can be written in the reader's own style. */
export interface LinearityStep extends AssessedStep {
  readonly formula: LinearityFormula | null;
  /** What was read is a lower bound of a crest that is cut off, and serves a lower limit alone. */
  readonly isBound: boolean;
}

/** By which rule steps are judged; without one they are figures. */
export interface JudgedBy {
  readonly rule: Pick<LinearityRule, 'name' | 'clause'> | null;
  readonly decision: DecisionRule;
}

/** What is known of a step before it is judged. Its deviation follows from formula and terms, and so does the uncertainty unless it is given. */
export interface StepFound
  extends Pick<LinearityStep, 'name' | 'captureId' | 'from' | 'timeUs' | 'expected' | 'read' | 'readUnit' | 'unit'> {
  readonly formula: LinearityFormula;
  readonly terms: readonly Term[];
  readonly uDeviation?: number | null;
  readonly limits: Limits | null;
  readonly flags: readonly Flag[];
  readonly remark?: string | null;
  readonly isBound?: boolean;
}

/** The step with its deviation, its arithmetic, and its verdict where a rule limits it. */
export function assessedStep(found: StepFound, by: JudgedBy): LinearityStep {
  const { formula, terms, uDeviation, limits, remark = null, isBound = false, ...rest } = found;
  const computed = compute(formula, terms);
  const deviation = uDeviation === undefined ? computed : { ...computed, standardUncertainty: uDeviation };
  const verdict = limits === null ? null : verdictOn(deviation, limits, found.unit, by);
  return {
    ...rest,
    deviation,
    limits,
    verdict:
      verdict?.outcome === 'pass' && isDoubtfulEcho(found.flags) ? { ...verdict, outcome: 'inconclusive' } : verdict,
    arithmetic: arithmeticOf(formula, terms, found.unit, pointStyle),
    formula,
    terms,
    remark,
    isBound,
  };
}

/** A step of which no deviation can be told, and why; what was read all the same stands in it. */
export function missingStep(
  name: string,
  remark: string,
  limits: Limits | null,
  unit: LinearityStep['unit'],
  by: JudgedBy,
  seen: Partial<Pick<LinearityStep, 'captureId' | 'from' | 'timeUs' | 'read' | 'readUnit' | 'expected' | 'flags'>> = {},
): LinearityStep {
  return {
    name,
    captureId: null,
    from: null,
    timeUs: null,
    expected: null,
    read: null,
    readUnit: unit,
    deviation: null,
    unit,
    limits,
    verdict: verdictOn(null, limits ?? noLimits, unit, by),
    arithmetic: null,
    formula: null,
    terms: [],
    flags: [],
    remark,
    isBound: false,
    ...seen,
  };
}

/** How a quantity stands to limits, by the same decision as a step that has these flags. */
export function outcomeOf(
  measured: Quantity,
  limits: Limits,
  flags: readonly Flag[],
  { decision }: JudgedBy,
): VerdictOutcome {
  const { outcome } = judge(measured, limits, { unit: 'dB', rule: '', clause: '', decision });
  return outcome === 'pass' && isDoubtfulEcho(flags) ? 'inconclusive' : outcome;
}

const noLimits: Limits = { lower: Number.NEGATIVE_INFINITY, upper: Number.POSITIVE_INFINITY };

function verdictOn(
  deviation: Quantity | null,
  limits: Limits,
  unit: Verdict['unit'],
  { rule, decision }: JudgedBy,
): Verdict | null {
  return rule === null ? null : judge(deviation, limits, { unit, rule: rule.name, clause: rule.clause, decision });
}

/** A number that is what it is: a setting, a target, a ratio. */
export function exactly(value: number): Quantity {
  return { value, standardUncertainty: 0 };
}
