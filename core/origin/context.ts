import type { Evaluation } from '../evaluate.ts';
import { type Flag, flagTexts } from '../flag.ts';
import { methods } from '../formula.ts';
import type { Timing } from '../gate/gate.ts';
import type { Origin } from '../origin.ts';
import type { Review } from '../review/review.ts';
import type { ConditioningRecipe } from '../signal/conditioning.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import { type Figure, figureWords, uncertaintyOf } from './figure.ts';

/** What a figure is asked of. */
export interface OriginContext {
  readonly review: Review;
  readonly evaluation: Evaluation;
  readonly style: FigureStyle;
}

/** An origin, with nothing where nothing was given. */
export function origin(told: Pick<Origin, 'title' | 'value' | 'source'> & Partial<Origin>): Origin {
  return {
    uncertainty: null,
    formula: null,
    uncertaintyFormula: null,
    inputs: [],
    capture: null,
    flags: [],
    ...told,
  };
}

/** Value and uncertainty of a figure as an origin has them; a figure that is not known is a dash. */
export function shown(figure: Figure | null, style: FigureStyle): Pick<Origin, 'value' | 'uncertainty'> {
  const u = figure === null ? null : uncertaintyOf(figure);
  return {
    value: figureWords(figure, style),
    uncertainty: u === null ? null : `± ${figureWords(u, style)} (standard uncertainty, k = 1)`,
  };
}

export function flagsShown(flags: readonly Flag[]): Origin['flags'] {
  return flags.map((flag) => ({ flag, ...flagTexts[flag] }));
}

/** How the time of an echo is read. */
export function timingInWords(timing: Timing, recipe: ConditioningRecipe): string {
  if (timing === 'crossing') return methods.crossing;
  return recipe.peak === 'three-point' ? methods['peak-three-point'] : methods['peak-log-parabola'];
}

/** How its height is read. */
export function heightInWords(recipe: ConditioningRecipe): string {
  return recipe.peak === 'three-point' ? methods['peak-three-point'] : methods['peak-log-parabola'];
}

const baselines = {
  none: 'base line as recorded',
  mean: 'mean taken out',
  linear: 'straight base line taken out',
} as const;

export function conditioningInWords({ baseline, bandPass }: ConditioningRecipe): string {
  const filter =
    bandPass === null
      ? 'no band-pass'
      : `band-pass ${bandPass.lowMHz} to ${bandPass.highMHz} MHz, order ${bandPass.order}`;
  return `${baselines[baseline]}, ${filter}`;
}
