import * as v from 'valibot';
import { readJson } from '../located-json.ts';
import { failure, type Outcome, success } from '../outcome.ts';
import { issueAtPath, schemaProblems } from '../schema-problems.ts';
import type { ImportRecipe } from './import-recipe.ts';
import { importRecipeSchema } from './recipe-schema.ts';

/** Reads a saved import recipe. Problems: not JSON, or a part that does not fit, each at its line and column. */
export function readRecipe(file: string, text: string): Outcome<ImportRecipe> {
  const json = readJson(file, text);
  if (!json.ok) return json;
  const parsed = v.safeParse(importRecipeSchema, json.value.value);
  return parsed.success
    ? success(parsed.output)
    : failure(...schemaProblems(parsed.issues, json.value, 'recipe-form', issueAtPath));
}
