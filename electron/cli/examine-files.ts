import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Capture } from '../../core/capture/capture.ts';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import type { Manifest } from '../../core/import/manifest.ts';
import type { Problem } from '../../core/outcome.ts';
import { type Examination, examine, type Plan } from '../../core/steps/examine.ts';
import type { Input } from './inputs.ts';
import { capturesOf, endProgress, showProgress } from './read-files.ts';

/** Everything a thread needs to examine files by itself. */
export interface Work {
  readonly inputs: readonly Input[];
  readonly recipe: ImportRecipe;
  readonly manifests: readonly Manifest[];
  readonly plan: Plan;
}

/** What the files of a block yielded, in their order. */
export interface Block {
  readonly index: number;
  readonly examinations: readonly Examination[];
  readonly warnings: readonly Problem[];
  readonly problems: readonly Problem[];
}

export interface ExaminedFiles {
  readonly examinations: readonly Examination[];
  readonly warnings: readonly Problem[];
  readonly problems: readonly Problem[];
}

/** Blocks are small enough to share out evenly and large enough that equal traces can be transformed in pairs. */
const filesInBlock = 32;
/** From how many files on a second thread pays for its start. */
const filesForThreads = 1500;

/** Takes blocks from a counter that all threads share until there are none left. */
export function examineBlocks(work: Work, next: Int32Array): Block[] {
  const blocks: Block[] = [];
  for (;;) {
    const index = Atomics.add(next, 0, 1);
    const inputs = work.inputs.slice(index * filesInBlock, (index + 1) * filesInBlock);
    if (inputs.length === 0) return blocks;
    blocks.push(examineBlock(index, inputs, work));
    if (work.inputs.length > filesInBlock)
      showProgress(`${Math.min((index + 1) * filesInBlock, work.inputs.length)} of ${work.inputs.length} files`);
  }
}

function examineBlock(index: number, inputs: readonly Input[], { recipe, manifests, plan }: Work): Block {
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
  const examined = examine(captures, plan);
  return { index, examinations: examined.examinations, warnings, problems: [...problems, ...examined.problems] };
}

/** Examines files on this thread and, where it pays or is asked for, on others; the result does not depend on how many. */
export async function examineFiles(work: Work, jobs: number | null): Promise<ExaminedFiles> {
  const threads = jobs ?? (work.inputs.length >= filesForThreads ? availableParallelism() : 1);
  const next = new Int32Array(new SharedArrayBuffer(4));
  const helpers = Array.from({ length: threads - 1 }, () => examineElsewhere(work, next));
  const blocks = [examineBlocks(work, next), ...(await Promise.all(helpers))].flat().sort((a, b) => a.index - b.index);
  endProgress();
  return {
    examinations: blocks.flatMap((block) => block.examinations),
    warnings: blocks.flatMap((block) => block.warnings),
    problems: blocks.flatMap((block) => block.problems),
  };
}

function examineElsewhere(work: Work, next: Int32Array): Promise<Block[]> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./worker.js', import.meta.url), { workerData: { work, next } });
    worker.once('message', resolve);
    worker.once('error', reject);
  });
}
