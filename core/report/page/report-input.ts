import type { Evaluation } from '../../evaluate.ts';
import type { Problem } from '../../outcome.ts';
import type { Review } from '../../review/review.ts';
import type { FigureStyle } from '../../units/figure-style.ts';
import { type CaptureLookup, captureLookup } from '../document.ts';

/** A file that the review names, as it was found. */
export interface SourceFacts {
  readonly file: string;
  readonly kind: 'captures' | 'manifest';
  /** `null` where it could not be read. */
  readonly bytes: number | null;
  readonly sha256: string | null;
}

/** All that a report is made from. The same input gives the same page: it holds no clock and no name of a machine. */
export interface ReportInput {
  readonly review: Review;
  readonly evaluation: Evaluation;
  /** The review as a file; `null` hash where it is not saved yet. */
  readonly reviewFile: { readonly name: string; readonly sha256: string | null };
  readonly sources: readonly SourceFacts[];
  /** What was taken as read because the files do not say, by names as the review has them. */
  readonly warnings: readonly Problem[];
  /** What could not be used. */
  readonly problems: readonly Problem[];
  readonly program: { readonly name: string; readonly version: string };
  readonly style: FigureStyle;
}

/** The input with what the sections look up in it. */
export interface Report extends ReportInput {
  readonly captures: CaptureLookup;
}

export function reportOf(input: ReportInput): Report {
  return { ...input, captures: captureLookup(input.evaluation.captures) };
}
