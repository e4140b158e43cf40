import { createHash } from 'node:crypto';
import { closeSync, openSync, readSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { ReportInput, SourceFacts } from '../../core/report/page/report-input.ts';
import { openReview } from '../../core/review/open-review.ts';
import type { Review } from '../../core/review/review.ts';
import { metricStyle } from '../../core/units/figure-style.ts';
import { refuseUnless } from './answer.ts';
import { warningsAbout } from './commands/evaluate.ts';
import { readText, usable } from './gather.ts';
import { program } from './program.ts';
import { evaluateFiles, filesBeside } from './review-files.ts';

/**
 * A saved review, evaluated, with all that a report of it is made from. Files are called as the review calls them, wherever it lies, so that the same review and
 * captures give the same report.
 */
export function reportedReview(file: string): { readonly input: ReportInput; readonly text: string } {
  const { text, sha256 } = readText(file);
  const review = usable(openReview(basename(file), text)).value;
  const { evaluation, problems, warnings } = usable(
    evaluateFiles(
      review,
      filesBeside(file, (name) => name),
    ),
  ).value;
  refuseUnless(evaluation.captures.length > 0 || review.sources.length === 0, problems);
  const input: ReportInput = {
    review,
    evaluation,
    reviewFile: { name: basename(file), sha256 },
    sources: sourceFacts(review, (name) => fileFacts(join(dirname(file), name))),
    warnings: [...warnings, ...warningsAbout(review, basename(file))],
    problems,
    program,
    style: metricStyle,
  };
  return { input, text };
}

/** The files that a review names, each once, as they were found. */
export function sourceFacts(
  review: Review,
  of: (name: string) => Pick<SourceFacts, 'bytes' | 'sha256'>,
): SourceFacts[] {
  return [
    ...review.sources.map(({ file }) => ({ file, kind: 'captures' as const, ...of(file) })),
    ...review.manifests.map(({ file }) => ({ file, kind: 'manifest' as const, ...of(file) })),
  ];
}

const partBytes = 1 << 22;

/** Length and SHA-256 of a file, read in parts of 4 MB; unknown where it cannot be read. */
export function fileFacts(path: string): Pick<SourceFacts, 'bytes' | 'sha256'> {
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
