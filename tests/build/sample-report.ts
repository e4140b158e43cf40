import { fileURLToPath } from 'node:url';
import type { ReportInput } from '../../core/report/page/report-input.ts';
import type { Review } from '../../core/review/review.ts';
import { reportInput, savedReview } from '../../electron/cli/review-report.ts';

export const sampleReview = fileURLToPath(new URL('../../sample-data/review.json', import.meta.url));

/** The sample review with all that a report is made from; `change` alters its decisions before it is evaluated. */
export function sampleReport(change: (review: Review) => Review = (review) => review): ReportInput {
  const saved = savedReview(sampleReview);
  const review = change(JSON.parse(Buffer.from(saved.bytes).toString('utf8')));
  const made = reportInput({ ...saved, bytes: Buffer.from(`${JSON.stringify(review, null, 2)}\n`) });
  if (!made.ok) throw new Error(made.problems.map(({ sentence }) => sentence).join('\n'));
  return made.value;
}
