import type { ImportedFile } from '../../core/import/import-file.ts';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import type { Manifest } from '../../core/import/manifest.ts';
import { meantCaptures } from '../../core/import/meant-captures.ts';
import { type Problem, problem } from '../../core/outcome.ts';
import { type Examination, examine, type Plan } from '../../core/steps/examine.ts';
import type { Input } from './inputs.ts';
import { hashOfFile, readFile } from './read-files.ts';

/** What is wanted of each input: what the plan finds in its captures, or what was understood of the file. */
export type Wanted = { readonly kind: 'examinations'; readonly plan: Plan } | { readonly kind: 'description' };

/** One input to be worked on, with what is known of it alone, so that it can be sent to another thread. */
export interface InputAsked {
  readonly input: Input;
  readonly manifests: readonly Manifest[];
  /** The hash of its bytes when its results were kept; `null` where none were. */
  readonly keptHash: string | null;
}

/** What came of one input. It holds no samples. */
export interface InputDone {
  /** Of the bytes that were read; `null` where they could not all be. */
  readonly sha256: string | null;
  /** The bytes are those whose results were kept: nothing else stands here. */
  readonly unchanged: boolean;
  readonly examinations: readonly Examination[];
  readonly description: ImportedFile | null;
  readonly warnings: readonly Problem[];
  readonly problems: readonly Problem[];
}

const nothing: InputDone = {
  sha256: null,
  unchanged: false,
  examinations: [],
  description: null,
  warnings: [],
  problems: [],
};

/** Works on one input. Whatever is wrong with it is a problem of its own, even what breaks the program: it never stops the rest. */
export function workOn(
  { input, manifests, keptHash }: InputAsked,
  recipe: ImportRecipe,
  wanted: Wanted,
  progress: (words: string) => void,
): InputDone {
  try {
    if (keptHash !== null && hashOfFile(input.file) === keptHash)
      return { ...nothing, sha256: keptHash, unchanged: true };
    const imported = readFile(input.file, recipe, input.file, progress);
    if (wanted.kind === 'description') {
      if (!imported.ok) return { ...nothing, problems: imported.problems };
      return { ...nothing, sha256: imported.value.sha256, description: { ...imported.value, captures: [] } };
    }
    const captures = meantCaptures(imported, input, manifests);
    if (!captures.ok) return { ...nothing, problems: captures.problems };
    return {
      ...nothing,
      ...examine(captures.value, wanted.plan),
      sha256: imported.ok ? imported.value.sha256 : null,
      warnings: captures.warnings,
    };
  } catch (error) {
    return brokenBy(input, error instanceof Error ? (error.stack ?? error.message) : String(error));
  }
}

/** What is said of an input on which the program broke. */
export function brokenBy({ file }: Input, reason: string): InputDone {
  return { ...nothing, problems: [problem('failure', { file }, sentenceOf(reason))] };
}

function sentenceOf(reason: string): string {
  return /allocation failed|out of memory/i.test(reason)
    ? 'there is not enough memory for this file; close other programs, take fewer threads with --jobs 1, or cut the file into shorter ones'
    : `the program failed on this file (${reason}); this is our mistake`;
}
