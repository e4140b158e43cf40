import { type Problem, problem } from '../outcome.ts';
import { mixedTiming } from '../steps/mixed-timing.ts';
import type { Review } from './review.ts';

/** What is doubtful about the decisions themselves. */
export function warningsAbout(review: Review, file: string): Problem[] {
  const mixed =
    review.readings === null ? null : mixedTiming(review.calibration?.timing ?? null, review.readings.timing);
  return mixed === null ? [] : [problem('mixed-timing', { file }, mixed)];
}
