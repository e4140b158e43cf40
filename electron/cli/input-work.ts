import type { Capture } from '../../core/capture/capture.ts';
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

/** How every input is worked on. */
export interface WorkSettings {
  readonly recipe: ImportRecipe;
  readonly wanted: Wanted;
}

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

/** An input that has been read: its captures where they are still to be examined, and what came of it so far. */
export interface InputRead {
  readonly captures: readonly Capture[];
  readonly done: InputDone;
}

/** Works on one input. Whatever is wrong with it is a problem of its own, even what breaks the program: it never stops the rest. */
export function workOn(
  asked: InputAsked,
  { recipe, wanted }: WorkSettings,
  progress: (words: string) => void,
): InputDone {
  const read = readInput(asked, { recipe, wanted }, progress);
  return wanted.kind === 'examinations' ? examineInput(read, wanted.plan) : read.done;
}

/** The first half of it. */
export function readInput(
  { input, manifests, keptHash }: InputAsked,
  { recipe, wanted }: WorkSettings,
  progress: (words: string) => void,
): InputRead {
  const only = (done: Partial<InputDone>): InputRead => ({ captures: [], done: { ...nothing, ...done } });
  try {
    if (keptHash !== null && hashOfFile(input.file) === keptHash) return only({ sha256: keptHash, unchanged: true });
    const imported = readFile(input.file, recipe, input.file, progress);
    if (!imported.ok) return only({ problems: imported.problems });
    const { sha256 } = imported.value;
    if (wanted.kind === 'description') return only({ sha256, description: { ...imported.value, captures: [] } });
    const captures = meantCaptures(imported, input, manifests);
    if (!captures.ok) return only({ problems: captures.problems });
    return { captures: captures.value, done: { ...nothing, sha256, warnings: captures.warnings } };
  } catch (error) {
    return { captures: [], done: brokenBy(input, reasonOf(error)) };
  }
}

/** The second half. */
export function examineInput({ captures, done }: InputRead, plan: Plan): InputDone {
  if (captures.length === 0) return done;
  try {
    return { ...done, ...examine(captures, plan) };
  } catch (error) {
    return brokenBy({ file: captures[0].file, trace: null }, reasonOf(error));
  }
}

function reasonOf(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
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
