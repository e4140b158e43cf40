import { statSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { type Manifest, rowsAbout } from '../../core/import/manifest.ts';
import type { InputAsked, InputDone, WorkSettings } from './input-work.ts';
import type { Input } from './inputs.ts';
import { Interrupted, unwatched, watchInterrupt } from './interrupt.ts';
import type { Job } from './job-file.ts';
import { endProgress, showProgress } from './progress.ts';

/** Which inputs are to be worked on, and how. */
export interface InputWork extends WorkSettings {
  readonly inputs: readonly Input[];
  readonly manifests: readonly Manifest[];
}

export interface WorkManner {
  /** How many threads; `null` for as many as pay. */
  readonly jobs: number | null;
  /** Where results are kept as they come, and were kept before. */
  readonly job: Job | null;
}

/** Enough files for a message between threads to cost little, few enough that a batch is soon done. */
const filesInBatch = 32;
const bytesInBatch = 1 << 20;
/** Batches begun and not yet handed on, for each thread: so many results can wait for one that takes long. */
const batchesAhead = 4;
/** From how many files, or bytes, on other threads pay for their start; they also leave this one free to hear an interruption. */
const filesForThreads = 200;
const bytesForThreads = 1 << 24;

/**
 * Works on inputs, on all cores where that pays, and gives what came of each in the order of the inputs. What has been given is let go of, and no more is begun
 * than stands a few batches ahead of what is taken: memory does not grow with the number of inputs, and a slow taker slows the work.
 * What is given does not depend on the number of threads, nor on what was kept before.
 */
export async function* eachInput(
  work: InputWork,
  { jobs, job }: WorkManner,
): AsyncGenerator<InputDone & { readonly input: Input }> {
  const team = await teamFor(work, jobs);
  const watch = team.isElsewhere ? watchInterrupt() : unwatched();
  const total = work.inputs.length;
  let given = 0;
  let failed = 0;
  try {
    const begun: { readonly asked: readonly InputAsked[]; readonly done: Promise<readonly InputDone[]> }[] = [];
    const batches = batchesOf(work, job);
    for (;;) {
      while (begun.length < team.ahead) {
        const next = batches.next();
        if (next.done) break;
        begun.push({ asked: next.value, done: team.work(next.value) });
      }
      const first = begun.shift();
      if (first === undefined) return;
      const all = await watch.wait(first.done);
      for (const [i, { input, manifests }] of first.asked.entries()) {
        const done = all[i].unchanged && job !== null ? job.kept(input) : all[i];
        if (!all[i].unchanged) job?.keep(input, manifests, done);
        given++;
        if (done.problems.length > 0) failed++;
        yield { ...done, input };
      }
      showProgress(`${given} of ${total} files${failed === 0 ? '' : `, ${failed} not usable`}`);
    }
  } catch (error) {
    if (error instanceof Interrupted) error.sentence = interruptedWords(given, total, job);
    throw error;
  } finally {
    watch.end();
    team.stop();
    job?.close();
    endProgress();
  }
}

function interruptedWords(given: number, total: number, job: Job | null): string {
  const kept =
    job === null
      ? 'to be able to go on after an interruption, begin with --resume and the name of a job file'
      : `they are kept in ${job.file}: give the same command again to go on`;
  return `interrupted: ${given} of ${total} files are done; ${kept}`;
}

/** Who works: other threads, or this one. */
interface Team {
  /** Whether other threads work: this one, held by a drive that stalls, hears nothing, and Ctrl+C must end the program by itself. */
  readonly isElsewhere: boolean;
  readonly ahead: number;
  work(asked: readonly InputAsked[]): Promise<readonly InputDone[]>;
  stop(): void;
}

async function teamFor(work: InputWork, jobs: number | null): Promise<Team> {
  // Only what this run needs is loaded.
  const { workOn, readInput } = await import('./input-work.ts');
  const settings = { recipe: work.recipe, wanted: work.wanted };
  if (jobs === null || jobs === 1 ? isLarge(work.inputs) : work.inputs.length > 1) {
    const threads = jobs ?? availableParallelism();
    const reads = threads === 2 && settings.wanted.kind === 'examinations' && areSmall(work.inputs);
    const crew = (await import('./crew.ts')).startCrew(settings, reads ? 1 : threads);
    if (!reads) return { isElsewhere: true, ahead: threads * batchesAhead, ...crew };
    // Of two threads one reads and one examines: the code being different, neither has to warm up the other's.
    return {
      isElsewhere: true,
      ahead: threads * batchesAhead,
      async work(asked) {
        await nextTurn();
        return crew.examine(
          asked,
          asked.map((one) => readInput(one, settings, showProgress)),
        );
      },
      stop: crew.stop,
    };
  }
  return {
    isElsewhere: false,
    ahead: 1,
    async work(asked) {
      const done: InputDone[] = [];
      for (const one of asked) {
        done.push(workOn(one, settings, showProgress));
        await nextTurn();
      }
      return done;
    },
    stop() {},
  };
}

/** By the first few of many. */
function areSmall(inputs: readonly Input[]): boolean {
  return (
    inputs.length >= filesForThreads && inputs.slice(0, filesInBatch).every(({ file }) => bytesOf(file) < bytesInBatch)
  );
}

function isLarge(inputs: readonly Input[]): boolean {
  if (inputs.length >= filesForThreads) return true;
  let bytes = 0;
  for (const { file } of inputs) {
    bytes += bytesOf(file);
    if (bytes >= bytesForThreads) return true;
  }
  return false;
}

/** What cannot be looked at is said where it is read. */
function bytesOf(file: string): number {
  try {
    return statSync(file, { throwIfNoEntry: false })?.size ?? 0;
  } catch {
    return 0;
  }
}

function* batchesOf({ inputs, manifests }: InputWork, job: Job | null): Generator<readonly InputAsked[]> {
  let batch: InputAsked[] = [];
  let bytes = 0;
  for (const input of inputs) {
    const about = manifests.map((manifest) => rowsAbout(input.file, manifest)).filter(({ rows }) => rows.length > 0);
    batch.push({ input, manifests: about, keptHash: job?.keptHash(input, about) ?? null });
    bytes += bytesOf(input.file);
    if (batch.length < filesInBatch && bytes < bytesInBatch) continue;
    yield batch;
    batch = [];
    bytes = 0;
  }
  if (batch.length > 0) yield batch;
}
