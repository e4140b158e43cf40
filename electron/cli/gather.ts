import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { type ImportRecipe, inferEverything } from '../../core/import/import-recipe.ts';
import type { Manifest } from '../../core/import/manifest.ts';
import { type Outcome, type Problem, problem } from '../../core/outcome.ts';
import { findInputs, type Input } from './inputs.ts';
import { type CommonOptions, recipeFrom } from './options.ts';
import { readManifests } from './read-files.ts';
import { Refusal } from './refusal.ts';

/** What a command reads from, made from its arguments. */
export interface Gathered {
  readonly inputs: readonly Input[];
  readonly recipe: ImportRecipe;
  readonly manifests: readonly Manifest[];
  readonly warnings: readonly Problem[];
  readonly problems: readonly Problem[];
}

/** Files, recipe and manifests of a command. Refuses when no file is left. */
export async function gather(
  named: readonly string[],
  options: CommonOptions & { readonly list?: string },
): Promise<Gathered> {
  const words = options.list === undefined ? named : [...named, ...listed(options.list)];
  const { files, manifests: found, problems } = findInputs(words);
  const manifests = usable(readManifests(options.manifest === undefined ? found : [options.manifest]));
  if (files.length === 0) {
    throw new Refusal(
      problems.length > 0
        ? problems
        : [
            problem(
              'no-files',
              { file: options.list ?? (words.join(' ') || 'file') },
              'no waveform file is left to read; name files or folders',
            ),
          ],
    );
  }
  const base = options.recipe === undefined ? inferEverything : await openedRecipe(options.recipe);
  return {
    inputs: files,
    recipe: recipeFrom(options, base),
    manifests: manifests.value,
    warnings: manifests.warnings,
    problems,
  };
}

/** What a list names, one file or folder a line; `-` is standard input. More can be named so than a command line takes. */
function listed(list: string): string[] {
  return readText(list === '-' ? 0 : list)
    .text.split(/\r?\n/)
    .filter((line) => line !== '');
}

async function openedRecipe(file: string): Promise<ImportRecipe> {
  const { readRecipe } = await import('../../core/import/recipe-file.ts');
  return usable(readRecipe(file, readText(file).text)).value;
}

/** The value of an outcome, or the end of the command. */
export function usable<T>(outcome: Outcome<T>): { readonly value: T; readonly warnings: readonly Problem[] } {
  if (!outcome.ok) throw new Refusal(outcome.problems);
  return outcome;
}

/** A file's text; 0 is standard input. */
export function readText(file: string | 0): { readonly text: string; readonly sha256: string } {
  try {
    const bytes = readFileSync(file);
    return { text: bytes.toString('utf8'), sha256: createHash('sha256').update(bytes).digest('hex') };
  } catch (error) {
    throw new Refusal([
      problem(
        'unreadable',
        { file: file === 0 ? 'standard input' : file },
        `the file cannot be read (${error instanceof Error ? error.message : error})`,
      ),
    ]);
  }
}
