import { createHash } from 'node:crypto';
import { basename, dirname, join } from 'node:path';
import { type FileFacts, type ReviewFound, reportInputOf } from '../../core/evidence/review-report.ts';
import type { Outcome } from '../../core/outcome.ts';
import type { ReportInput } from '../../core/report/page/report-input.ts';
import { openReview } from '../../core/review/open-review.ts';
import { metricStyle } from '../../core/units/figure-style.ts';
import { partsOfFile, wholeFile } from '../disk/read-parts.ts';
import { program } from './program.ts';
import { unreadable } from './read-files.ts';
import { Refusal } from './refusal.ts';
import { filesBeside } from './review-files.ts';

/** A review to be reported on: its name, its bytes, and where its files are read from. */
export interface ReviewToReport extends Pick<ReviewFound, 'name' | 'files' | 'facts' | 'program'> {
  readonly bytes: Uint8Array;
}

/** A review saved on disk. Files are called as the review calls them, wherever it lies, so that the same review and captures give the same report. */
export function savedReview(file: string): ReviewToReport {
  return {
    name: basename(file),
    bytes: readBytes(file),
    files: filesBeside(file, (name) => name),
    facts: (name) => fileFacts(join(dirname(file), name)),
    program,
  };
}

/** Evaluates a review and gathers all that a report of it is made from. */
export function reportInput({ bytes, ...found }: ReviewToReport): Outcome<ReportInput> {
  const opened = openReview(found.name, new TextDecoder('utf-8').decode(bytes));
  if (!opened.ok) return opened;
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return reportInputOf({ ...found, review: opened.value, sha256, style: metricStyle });
}

export function readBytes(file: string): Uint8Array {
  try {
    return wholeFile(file);
  } catch (error) {
    throw new Refusal([unreadable(file, error)]);
  }
}

/** Length and SHA-256 of a file, read in parts of 4 MB; unknown where it cannot be read. */
export function fileFacts(path: string): FileFacts {
  const hash = createHash('sha256');
  try {
    let bytes = 0;
    for (const part of partsOfFile(path)) {
      hash.update(part);
      bytes += part.length;
    }
    return { bytes, sha256: hash.digest('hex') };
  } catch {
    return { bytes: null, sha256: null };
  }
}
