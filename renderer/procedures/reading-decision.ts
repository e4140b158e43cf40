import type { ReadingDecision } from '../../core/review/review.ts';

/** Readings on which nothing has been decided yet. */
export const nothingToRead: ReadingDecision = {
  captures: [],
  gates: [],
  timing: 'peak',
  beam: null,
  uAngleDeg: null,
  series: { offPeakDb: 1 },
};
