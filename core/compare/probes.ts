import { hypot } from '../elementary/hypotenuse.ts';
import type { ProbeCharacteristics } from '../probe/characteristics.ts';
import { type ProbeFigure, probeFigureNames, probeFigures } from '../probe/figures.ts';
import { type WelchTest, welchTest } from '../statistics/welch.ts';
import type { Quantity } from '../units/quantity.ts';

/** One figure of a probe against that of the reference probe. */
export interface FigureDifference {
  readonly figure: ProbeFigure;
  /** Probe less reference; `null` where one of them was not measured. */
  readonly difference: Quantity | null;
  /** Welch's t on the captures of both; `null` where one of them has fewer than two, or neither spreads. */
  readonly test: WelchTest | null;
  /** Whether they differ at the significance chosen; `null` where nothing can be told. */
  readonly differs: boolean | null;
  readonly sentence: string;
}

/**
 * Holds a probe against the reference, figure by figure. Whether they differ is Welch's test where both have two captures or more and spread;
 * else nothing is claimed from the noise alone, for what the contact does between captures is not in it.
 * @param significance as a share, e.g. 0.05
 */
export function differencesOf(
  probe: ProbeCharacteristics,
  reference: ProbeCharacteristics,
  significance: number,
): FigureDifference[] {
  return probeFigureNames.map((figure) => {
    const a = probe.figures[figure];
    const b = reference.figures[figure];
    const { title, unit } = probeFigures[figure];
    if (a.quantity === null || b.quantity === null || a.sample === null || b.sample === null) {
      const missing = a.quantity === null ? probe.probe : reference.probe;
      const sentence = `${title}: not measurable on ${missing}, so nothing can be said of a difference.`;
      return { figure, difference: null, test: null, differs: null, sentence };
    }
    const [ua, ub] = [a.quantity.standardUncertainty, b.quantity.standardUncertainty];
    const difference = {
      value: a.quantity.value - b.quantity.value,
      standardUncertainty: ua === null || ub === null ? null : hypot(ua, ub),
    };
    const outcome = welchTest(a.sample, b.sample);
    const from = `${probe.probe} and ${reference.probe}`;
    if (!outcome.ok) {
      const why =
        outcome.reason === 'too-few-values'
          ? 'at least two captures of each are needed to tell a difference from the scatter between captures'
          : 'all captures gave the same value, so there is no scatter to hold the difference against';
      return { figure, difference, test: null, differs: null, sentence: `${title}: ${from} cannot be tested; ${why}.` };
    }
    const { test } = outcome;
    const differs = test.p < significance;
    const amount = `${Number(Math.abs(test.difference).toPrecision(3))}${unit === '' ? '' : ` ${unit}`}`;
    const chance = test.p < 0.0001 ? 'less than 0.01 %' : `${Number((100 * test.p).toPrecision(2))} %`;
    const sentence = differs
      ? `${title}: ${probe.probe} lies ${amount} ${test.difference < 0 ? 'below' : 'above'} ${reference.probe}; were they alike, chance would part them as far in ${chance} of such comparisons: they differ.`
      : `${title}: ${from} lie ${amount} apart; were they alike, chance would part them as far in ${chance} of such comparisons: a difference is not shown.`;
    return { figure, difference, test, differs, sentence };
  });
}
