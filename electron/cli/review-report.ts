import { createHash } from 'node:crypto';
import { closeSync, openSync, readFileSync, readSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { type Outcome, success } from '../../core/outcome.ts';
import type { ReportInput, SourceFacts } from '../../core/report/page/report-input.ts';
import { openReview } from '../../core/review/open-review.ts';
import type { Review } from '../../core/review/review.ts';
import { metricStyle } from '../../core/units/figure-style.ts';
import { warningsAbout } from './commands/evaluate.ts';
import { program } from './program.ts';
import { unreadable } from './read-files.ts';
import { Refusal } from './refusal.ts';
import { evaluateFiles, filesBeside, type ReviewFiles } from './review-files.ts';

/** A review to be reported on: its name, its bytes, and where its files are read from. */
export interface ReviewToReport {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly files: ReviewFiles;
  /** Length and SHA-256 of a file by the name that the review has for it. */
  readonly facts: (name: string) => FileFacts;
  readonly program: ReportInput['program'];
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
export function reportInput({ name, bytes, files, facts, program: by }: ReviewToReport): Outcome<ReportInput> {
  const opened = openReview(name, new TextDecoder('utf-8').decode(bytes));
  if (!opened.ok) return opened;
  const review = opened.value;
  const evaluated = evaluateFiles(review, files);
  if (!evaluated.ok) return evaluated;
  const { evaluation, problems, warnings } = evaluated.value;
  return success({
    review,
    evaluation,
    reviewFile: { name, sha256: createHash('sha256').update(bytes).digest('hex') },
    sources: sourceFacts(review, facts),
    warnings: [...warnings, ...warningsAbout(review, name), ...(evaluation.driftOverTime?.warnings ?? [])],
    problems,
    program: by,
    style: metricStyle,
  });
}

export function readBytes(file: string): Uint8Array {
  try {
    return readFileSync(file);
  } catch (error) {
    throw new Refusal([unreadable(file, error)]);
  }
}

type FileFacts = Pick<SourceFacts, 'bytes' | 'sha256'>;

/** The files that a review names, each once, as they were found. */
export function sourceFacts(review: Review, of: (name: string) => FileFacts): SourceFacts[] {
  return [
    ...review.sources.map(({ file }) => ({ file, kind: 'captures' as const, ...of(file) })),
    ...review.manifests.map(({ file }) => ({ file, kind: 'manifest' as const, ...of(file) })),
  ];
}

const partBytes = 1 << 22;

/** Length and SHA-256 of a file, read in parts of 4 MB; unknown where it cannot be read. */
export function fileFacts(path: string): FileFacts {
  const hash = createHash('sha256');
  try {
    const bytes = readParts(path, (part) => hash.update(part));
    return { bytes, sha256: hash.digest('hex') };
  } catch {
    return { bytes: null, sha256: null };
  }
}

/** Reads a file part by part, each of them valid until the next; gives its length. */
export function readParts(path: string, take: (part: Uint8Array) => void): number {
  const file = openSync(path, 'r');
  const part = Buffer.allocUnsafe(partBytes);
  try {
    let total = 0;
    for (let length = readSync(file, part); length > 0; length = readSync(file, part)) {
      take(part.subarray(0, length));
      total += length;
    }
    return total;
  } finally {
    closeSync(file);
  }
}
