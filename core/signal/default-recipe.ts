import type { ConditioningRecipe } from './conditioning.ts';

/** How a capture is conditioned where nobody has said otherwise. */
export const defaultRecipe: ConditioningRecipe = {
  baseline: 'linear',
  bandPass: null,
  padding: 'extend',
  peak: 'log-parabola',
};
