import { expect, it } from 'vitest';
import { emptyReview } from '../../../core/review/review.ts';
import { defaultRecipe } from '../../../core/signal/default-recipe.ts';

it('a new review and the command line condition captures alike where nobody has said otherwise', () => {
  expect(emptyReview.conditioning).toEqual(defaultRecipe);
});
