import type { Evaluation } from '../evaluate.ts';
import { type Problem, problemLine } from '../outcome.ts';
import type { Review } from '../review/review.ts';
import { evaluationDocument } from './document.ts';

/** What the results were made with, beside the decisions that stand with them. */
export function settingsOf(review: Review): object {
  return { timing: review.calibration?.timing ?? null, conditioning: review.conditioning };
}

/** All results of a review as one document, with what was taken as read and what could not be used. */
export function reviewResults(
  review: Review,
  evaluation: Evaluation,
  warnings: readonly Problem[],
  problems: readonly Problem[],
) {
  return {
    ...evaluationDocument(evaluation, review, settingsOf(review)),
    warnings: warnings.map(problemLine),
    problems: problems.map(problemLine),
  };
}
