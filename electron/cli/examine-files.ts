import { availableParallelism } from 'node:os';
import type { Capture } from '../../core/capture/capture.ts';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import type { Manifest } from '../../core/import/manifest.ts';
import type { Problem } from '../../core/outcome.ts';
import type { Examination, Examined, Plan } from '../../core/steps/examine.ts';
import type { Input } from './inputs.ts';
import { capturesOf, endProgress, showProgress } from './read-files.ts';

/** Which files are to be examined, and how. */
export interface Work {
  readonly inputs: readonly Input[];
  readonly recipe: ImportRecipe;
  readonly manifests: readonly Manifest[];
  readonly plan: Plan;
}

export interface ExaminedFiles {
  readonly examinations: readonly Examination[];
  readonly warnings: readonly Problem[];
  readonly problems: readonly Problem[];
}

/** Enough files for a message between threads to cost little, few enough for memory to stay small. */
const filesInBatch = 32;
/** From how many files on a second thread pays for its start. */
const filesForThreads = 200;

/** The captures of some files, and what the import said of them. */
interface Batch {
  readonly captures: readonly Capture[];
  readonly warnings: readonly Problem[];
  readonly problems: readonly Problem[];
}

/**
 * Imports files batch by batch and examines them: all on this thread, or, where it pays or is asked for, with this thread importing
 * while others examine. Import and examination being different code, neither thread has to warm up the other's.
 * The result does not depend on the number of threads.
 */
export async function examineFiles(work: Work, jobs: number | null): Promise<ExaminedFiles> {
  const threads = jobs ?? (work.inputs.length >= filesForThreads ? availableParallelism() : 1);
  const batches: Omit<Batch, 'captures'>[] = [];
  const examined: (Examined | Promise<Examined>)[] = [];
  // Only what this run needs is loaded.
  const elsewhere = threads > 1 ? (await import('./examiners.ts')).startExaminers(work.plan, threads - 1) : null;
  const here = elsewhere === null ? (await import('../../core/steps/examine.ts')).examine : null;
  for (let first = 0; first < work.inputs.length; first += filesInBatch) {
    const { captures, warnings, problems } = importBatch(work.inputs.slice(first, first + filesInBatch), work);
    batches.push({ warnings, problems });
    examined.push(elsewhere?.examine(captures) ?? here!(captures, work.plan));
    await elsewhere?.readyForMore();
    showProgress(`${Math.min(first + filesInBatch, work.inputs.length)} of ${work.inputs.length} files`);
  }
  const results = await Promise.all(examined);
  elsewhere?.stop();
  endProgress();
  return {
    examinations: results.flatMap((result) => result.examinations),
    warnings: batches.flatMap((batch) => batch.warnings),
    problems: batches.flatMap((batch, i) => [...batch.problems, ...results[i].problems]),
  };
}

function importBatch(inputs: readonly Input[], { recipe, manifests }: Work): Batch {
  const captures: Capture[] = [];
  const warnings: Problem[] = [];
  const problems: Problem[] = [];
  for (const input of inputs) {
    const outcome = capturesOf(input, recipe, manifests);
    if (outcome.ok) {
      captures.push(...outcome.value);
      warnings.push(...outcome.warnings);
    } else problems.push(...outcome.problems);
  }
  return { captures, warnings, problems };
}
