import * as v from 'valibot';
import { readJson } from '../located-json.ts';
import { failure, type Outcome, success } from '../outcome.ts';
import { issueAtPath, schemaProblems, thoroughness } from '../schema-problems.ts';
import type { ImportedFile } from './import-file.ts';
import type { ImportRecipe } from './import-recipe.ts';
import { importRecipeSchema } from './recipe-schema.ts';

/** Reads a saved import recipe. Problems: not JSON, or a part that does not fit, each at its line and column. */
export function readRecipe(file: string, text: string): Outcome<ImportRecipe> {
  const json = readJson(file, text);
  if (!json.ok) return json;
  const parsed = v.safeParse(importRecipeSchema, json.value.value, thoroughness(json.value));
  return parsed.success
    ? success(parsed.output)
    : failure(...schemaProblems(parsed.issues, json.value, 'recipe-form', issueAtPath));
}

/** Which decisions an ask is about. */
const askedAbout: Readonly<Record<string, readonly (keyof ImportRecipe)[]>> = {
  'several-axes': ['columns'],
  'flat-column': ['columns'],
  'one-way-column': ['columns'],
  'units-contradict': ['timeUnit', 'distanceUnit', 'amplitudeUnit'],
  'implausible-sampling-rate': ['timeUnit', 'distanceUnit'],
  'sampling-rate-contradicts': ['timeUnit', 'distanceUnit'],
  'implausible-amplitude': ['amplitudeUnit', 'fullScreen'],
  'fraction-under-percent': ['amplitudeUnit', 'fullScreen'],
};

/** The completed recipe of an import, but for what the file left open: that is kept as it was given, so that the next file asks as well. */
export function withoutAsked(
  given: ImportRecipe,
  { recipe, asks }: Pick<ImportedFile, 'recipe' | 'asks'>,
): ImportRecipe {
  const open = new Set(asks.flatMap(({ code }) => askedAbout[code] ?? []));
  const decisions = Object.keys(recipe) as (keyof ImportRecipe)[];
  return Object.fromEntries(
    decisions.map((decision) => [decision, open.has(decision) ? given[decision] : recipe[decision]]),
  ) as unknown as ImportRecipe;
}
