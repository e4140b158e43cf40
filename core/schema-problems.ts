import type * as v from 'valibot';
import type { LocatedJson } from './located-json.ts';
import { mostProblems, type Problem, problem } from './outcome.ts';

export type SchemaPath = readonly (string | number)[];

/** In a larger document only the first fault is looked for: all of them could take many times its own memory. */
const mostTokensToList = 200_000;

/** How thoroughly a document is held against its schema. */
export function thoroughness(json: LocatedJson): { readonly abortEarly: boolean } {
  return { abortEarly: json.tokens > mostTokensToList };
}

/** What a schema found wrong in a JSON document, each at its line and column, up to twenty. */
export function schemaProblems(
  issues: readonly v.BaseIssue<unknown>[],
  json: LocatedJson,
  code: string,
  inWords: (issue: v.BaseIssue<unknown>, path: SchemaPath) => string,
): Problem[] {
  return issues.slice(0, mostProblems).map((issue) => {
    const path = (issue.path ?? []).map((item) => item.key as string | number);
    return problem(code, json.place([...path]), inWords(issue, path));
  });
}

/** `drift.rangeMm: …` for documents that no person writes by hand. */
export function issueAtPath(issue: v.BaseIssue<unknown>, path: SchemaPath): string {
  return `${path.join('.') || 'the document'}: ${issue.message}`;
}
