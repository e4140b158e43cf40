import { createHash } from 'node:crypto';
import { dirname, join } from 'node:path';
import type { ReviewFiles } from '../../core/evidence/evaluate-files.ts';
import { failure, success } from '../../core/outcome.ts';
import { wholeFile } from '../disk/read-parts.ts';
import { readFile, unreadable } from './read-files.ts';

/** Files beside a review. `shown` is how they are called, by their paths where nothing else is said; `there` what they are called on disk. */
export function filesBeside(
  review: string,
  shown = (name: string) => join(dirname(review), name),
  there = (name: string) => name,
): ReviewFiles {
  const path = (name: string) => join(dirname(review), there(name));
  return {
    shown,
    imported: (name, recipe) => readFile(path(name), recipe, shown(name)),
    bytes(name) {
      try {
        const bytes = wholeFile(path(name));
        return success({ bytes, sha256: createHash('sha256').update(bytes).digest('hex') });
      } catch (error) {
        return failure(unreadable(shown(name), error));
      }
    },
  };
}
