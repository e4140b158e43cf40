import { reportPage } from '../report/page/page.ts';
import type { ReportInput } from '../report/page/report-input.ts';
import { reviewResults } from '../report/review-results.ts';
import { csvText } from '../report/table-text.ts';
import type { Role } from './descriptor.ts';
import { type ResultTable, type ResultValue, resultTables } from './result-tables.ts';

/** A file that a package holds and that follows from the review and its captures: whoever has those can make it anew. */
export interface MadeFile {
  readonly path: string;
  readonly role: Role;
  readonly title: string;
  readonly text: string;
  readonly table: ResultTable | null;
}

export const reviewFolder = 'review';
export const reportPath = 'report.html';
export const resultsPath = 'results/results.json';

/** All files of a package that are made, in the order in which they stand in it. Pure: the same input gives the same bytes. */
export function madeFiles(input: ReportInput): MadeFile[] {
  const { review, evaluation, warnings, problems } = input;
  const results = asJson(reviewResults(review, evaluation, warnings, problems));
  return [
    { path: reportPath, role: 'report', title: 'Report', text: reportPage(input), table: null },
    {
      path: resultsPath,
      role: 'results',
      title: 'All results as one document',
      text: `${JSON.stringify(results, null, 2)}\n`,
      table: null,
    },
    ...resultTables(results).map(
      (table): MadeFile => ({
        path: `results/${table.name}.csv`,
        role: 'results',
        title: table.name === 'figures' ? 'Figures that stand in no list' : `Results, list ${table.name}`,
        text: csvText(table.text, '.'),
        table,
      }),
    ),
    ...recipes(input).map(
      (text, i): MadeFile => ({
        path: `recipes/recipe-${i + 1}.json`,
        role: 'recipe',
        title: 'How files of one shape are read, as the review has it',
        text,
        table: null,
      }),
    ),
  ];
}

/** What JSON keeps of a document: no `undefined`, no negative zero. */
function asJson(document: object): { readonly [key: string]: ResultValue } {
  return JSON.parse(JSON.stringify(document));
}

/** Each recipe of the review once, as a file that `--recipe` takes. */
function recipes({ review }: ReportInput): string[] {
  return [...new Set(review.sources.map(({ recipe }) => `${JSON.stringify(recipe, null, 2)}\n`))];
}
