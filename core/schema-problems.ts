import type * as v from 'valibot';
import type { LocatedJson } from './located-json.ts';
import { type Problem, problem } from './outcome.ts';

export type SchemaPath = readonly (string | number)[];

/** What a schema found wrong in a JSON document, each at its line and column. */
export function schemaProblems(
  issues: readonly v.BaseIssue<unknown>[],
  json: LocatedJson,
  code: string,
  inWords: (issue: v.BaseIssue<unknown>, path: SchemaPath) => string,
): Problem[] {
  return issues.map((issue) => {
    const path = (issue.path ?? []).map((item) => item.key as string | number);
    return problem(code, json.place([...path]), inWords(issue, path));
  });
}

/** `drift.rangeMm: …` for documents that no person writes by hand. */
export function issueAtPath(issue: v.BaseIssue<unknown>, path: SchemaPath): string {
  return `${path.join('.') || 'the document'}: ${issue.message}`;
}
