import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { reportPage } from '../../../core/report/page/page.ts';
import { type Answer, refuseUnless } from '../answer.ts';
import { usable } from '../gather.ts';
import { refuseArgument } from '../refusal.ts';
import { reportInput, savedReview } from '../review-report.ts';
import { printable } from '../table.ts';
import { refuseToOverwrite, writeOutput } from '../write-output.ts';
import { isTrusted } from './evaluate.ts';

export interface ReportOptions {
  json?: boolean;
  out?: string;
  replace?: boolean;
}

const pageName = 'report.html';

/** The report of a saved review as one page, `report.html` in the folder given. */
export async function report(file: string, options: ReportOptions): Promise<Answer> {
  if (options.out === undefined) return refuseArgument('--out', 'give the folder in which the report is to be written');
  const path = join(options.out, pageName);
  refuseToOverwrite(path, options.replace === true);
  const input = usable(reportInput(savedReview(file))).value;
  refuseUnless(input.evaluation.captures.length > 0 || input.review.sources.length === 0, input.problems);
  const bytes = Buffer.from(reportPage(input), 'utf8');
  await writeOutput(path, bytes, options.replace === true);
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return {
    document: { format: 'ascan-report', report: { file: path, bytes: bytes.length, sha256 } },
    words: () =>
      `${printable(path)}\n${bytes.length} bytes, SHA-256 ${sha256}\nIt is printed from any browser, on A4 or Letter.`,
    trusted: isTrusted(input.review, input.evaluation),
    problems: input.problems,
    warnings: [],
  };
}
