import { type DecisionRule, judge, type Limits, type Verdict } from '../check/verdict.ts';
import type { Quantity } from '../units/quantity.ts';
import { type ProbeFigure, probeFigures } from './figures.ts';
import type { StatedRule } from './rule.ts';

/** What a maker, or anybody else, states of a figure. */
export interface StatedFigure {
  readonly figure: ProbeFigure;
  readonly value: number;
}

/** One figure against the stated one. */
export interface AgainstStated {
  readonly figure: ProbeFigure;
  readonly stated: number;
  /** Measured less stated: in % of the stated value, or in dB. `null` where nothing was measured. */
  readonly deviation: Quantity | null;
  readonly unit: '%' | 'dB';
  /** `null` without a rule, or where the rule does not limit this figure. */
  readonly limits: Limits | null;
  readonly verdict: Verdict | null;
}

/**
 * Holds measured figures against stated ones. Figures in dB by their difference, all others in % of the stated value, whose own uncertainty is not known
 * and counts as none.
 */
export function againstStated(
  measuredOf: (figure: ProbeFigure) => Quantity | null,
  stated: readonly StatedFigure[],
  rule: StatedRule | null,
  decision: DecisionRule,
): AgainstStated[] {
  return stated.map(({ figure, value }) => {
    const limit = rule?.limits.find((each) => each.figure === figure) ?? null;
    const unit = probeFigures[figure].unit === 'dB' ? 'dB' : '%';
    const found = measuredOf(figure);
    const scale = unit === 'dB' ? 1 : 100 / value;
    const deviation: Quantity | null =
      found === null
        ? null
        : {
            value: (found.value - value) * scale,
            standardUncertainty:
              found.standardUncertainty === null ? null : found.standardUncertainty * Math.abs(scale),
          };
    if (rule === null || limit === null) return { figure, stated: value, deviation, unit, limits: null, verdict: null };
    const width = 'db' in limit ? limit.db : limit.percent;
    const limits = { lower: limit.sides === 'both' ? -width : Number.NEGATIVE_INFINITY, upper: width };
    const by = { unit, rule: rule.name, clause: probeFigures[figure].title, decision } as const;
    return { figure, stated: value, deviation, unit, limits, verdict: judge(deviation, limits, by) };
  });
}
