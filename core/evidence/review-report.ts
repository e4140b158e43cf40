import { type Outcome, success } from '../outcome.ts';
import type { ReportInput, SourceFacts } from '../report/page/report-input.ts';
import type { Review } from '../review/review.ts';
import { warningsAbout } from '../review/review-warnings.ts';
import { evaluateFiles, type ReviewFiles } from './evaluate-files.ts';

/** A file as it was found; `null` where it could not be read. */
export type FileFacts = Pick<SourceFacts, 'bytes' | 'sha256'>;

/** A review with its files, wherever they are kept: on a disk, in a package, in a worker. */
export interface ReviewFound {
  readonly name: string;
  /** Of the review's own bytes; `null` where it is not saved as it stands. */
  readonly sha256: string | null;
  readonly review: Review;
  readonly files: ReviewFiles;
  /** Length and SHA-256 of a file by the name that the review has for it. */
  readonly facts: (name: string) => FileFacts;
  readonly program: ReportInput['program'];
  readonly style: ReportInput['style'];
}

/** Evaluates a review and gathers all that a report of it is made from. The same review and files give the same, wherever they are kept. */
export function reportInputOf({
  name,
  sha256,
  review,
  files,
  facts,
  program,
  style,
}: ReviewFound): Outcome<ReportInput> {
  const evaluated = evaluateFiles(review, files);
  if (!evaluated.ok) return evaluated;
  const { evaluation, problems, warnings, facts: asRead } = evaluated.value;
  return success({
    review,
    evaluation,
    reviewFile: { name, sha256 },
    // A file that was read is told as it was read: figures and hash are then of the same bytes, whatever has become of it since.
    sources: sourceFacts(review, (file) => asRead.get(file) ?? facts(file)),
    warnings: [...warnings, ...warningsAbout(review, name), ...(evaluation.driftOverTime?.warnings ?? [])],
    problems,
    program,
    style,
  });
}

/** The files that a review names, each once, as they were found. */
function sourceFacts(review: Review, of: (name: string) => FileFacts): SourceFacts[] {
  return [
    ...review.sources.map(({ file }) => ({ file, kind: 'captures' as const, ...of(file) })),
    ...review.manifests.map(({ file }) => ({ file, kind: 'manifest' as const, ...of(file) })),
  ];
}
