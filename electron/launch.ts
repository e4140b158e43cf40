import { isAbsolute, resolve } from 'node:path';

/** A review's own ending; `.json` alone is anybody's. */
export const reviewEnding = '.ascan-review';

/** The review that the program was started with (a double click on it, or a command line), or `null`. */
export function reviewToOpen(given: readonly string[], folder: string): string | null {
  const named = given.slice(1).findLast((word) => !word.startsWith('-') && isReviewName(word));
  if (named === undefined) return null;
  return isAbsolute(named) ? named : resolve(folder, named);
}

export function isReviewName(name: string): boolean {
  const lower = name.toLowerCase();
  return lower.endsWith(reviewEnding) || lower.endsWith('.json');
}
