import type { CaptureId } from '../capture/capture.ts';
import { outcomeOfSteps } from '../check/assessed-step.ts';
import type { DecisionRule, VerdictOutcome } from '../check/verdict.ts';
import type { Flag } from '../flag.ts';
import type { Problem } from '../outcome.ts';
import type { LinearityStep } from './linearity-step.ts';
import type { LinearityRule } from './rule.ts';

/** A capture that serves no step, and why. */
export interface UnusedCapture {
  readonly captureId: CaptureId;
  readonly reason: string;
}

/** What every check of linearity results in. */
export interface LinearityPart<Rule extends LinearityRule> {
  readonly rule: Rule | null;
  readonly decision: DecisionRule;
  /** In the order of the rule's table, of the range, or of the captures. */
  readonly steps: readonly LinearityStep[];
  /** What the rule asks of the steps together: a sum over the range, a least number of them. */
  readonly conclusions: readonly LinearityStep[];
  /** The worst of all of them; `null` without limits. */
  readonly outcome: VerdictOutcome | null;
  /** The step that deviates most, by its place among the steps; `null` where none has a deviation. */
  readonly greatest: number | null;
  readonly unused: readonly UnusedCapture[];
  readonly flags: readonly Flag[];
  /** What was taken for granted. */
  readonly warnings: readonly Problem[];
}

/** The part of a check that follows from its steps. A rule without any limit gives no outcome. */
export function partOf<Rule extends LinearityRule>(made: {
  readonly rule: Rule | null;
  readonly decision: DecisionRule;
  readonly steps: readonly LinearityStep[];
  readonly conclusions?: readonly LinearityStep[];
  readonly unused?: readonly UnusedCapture[];
  readonly flags?: readonly Flag[];
  readonly warnings?: readonly Problem[];
}): LinearityPart<Rule> {
  const { rule, decision, steps, conclusions = [], unused = [], flags = [], warnings = [] } = made;
  return {
    rule,
    decision,
    steps,
    conclusions,
    outcome: outcomeOfSteps([...steps, ...conclusions]),
    greatest: greatestOf(steps),
    unused,
    flags: [...new Set([...flags, ...steps.flatMap(doubtsOf)])],
    warnings,
  };
}

/** A crest that is cut off is no doubt where it serves as the lower bound that it is. */
function doubtsOf({ flags, isBound }: LinearityStep): readonly Flag[] {
  return isBound ? flags.filter((flag) => flag !== 'saturated') : flags;
}

/** The first of several that are alike but for rounding. */
function greatestOf(steps: readonly LinearityStep[]): number | null {
  let greatest: number | null = null;
  steps.forEach(({ deviation, isBound }, i) => {
    if (isBound) return;
    const other = greatest === null ? null : steps[greatest].deviation;
    if (deviation !== null && (other === null || Math.abs(deviation.value) > Math.abs(other.value) + 1e-9))
      greatest = i;
  });
  return greatest;
}
