import { Worker } from 'node:worker_threads';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import { brokenBy, type InputAsked, type InputDone, type Wanted } from './input-work.ts';
import { showProgress } from './progress.ts';

/** What every thread works by. */
export interface WorkSettings {
  readonly recipe: ImportRecipe;
  readonly wanted: Wanted;
}

export interface ToWorker {
  readonly asked: readonly InputAsked[];
}

export type FromWorker =
  | { readonly kind: 'done'; readonly done: readonly InputDone[] }
  | { readonly kind: 'progress'; readonly words: string };

/** Threads that work on inputs, each on one batch at a time. */
export interface Crew {
  /** Never rejects: an input on which a thread breaks is a problem like any other. */
  work(asked: readonly InputAsked[]): Promise<readonly InputDone[]>;
  stop(): void;
}

interface Batch extends ToWorker {
  resolve(done: readonly InputDone[]): void;
}

/** At most `threads` of them, each started when there is a batch for it that no other is free for. */
export function startCrew(settings: WorkSettings, threads: number): Crew {
  const waiting: Batch[] = [];
  const idle: Worker[] = [];
  const all = new Set<Worker>();
  const at = new Map<Worker, Batch>();

  function goOn(): void {
    while (waiting.length > 0) {
      const worker = idle.pop() ?? (all.size < threads ? begin() : null);
      if (worker === null) return;
      const batch = waiting.shift()!;
      at.set(worker, batch);
      worker.postMessage({ asked: batch.asked } satisfies ToWorker);
    }
  }

  function begin(): Worker {
    const worker = new Worker(new URL('./worker.js', import.meta.url), { workerData: settings });
    all.add(worker);
    worker.on('message', (message: FromWorker) => {
      if (message.kind === 'progress') return showProgress(message.words);
      const batch = at.get(worker);
      at.delete(worker);
      idle.push(worker);
      batch?.resolve(message.done);
      goOn();
    });
    worker.on('error', (error) => {
      all.delete(worker);
      const batch = at.get(worker);
      at.delete(worker);
      if (batch !== undefined) again(batch, String(error));
      goOn();
    });
    return worker;
  }

  /** A thread ended by one of a batch: each is tried alone, and the one that ends a thread by itself is said to. */
  function again({ asked, resolve }: Batch, reason: string): void {
    if (asked.length === 1) {
      resolve([brokenBy(asked[0].input, reason)]);
      return;
    }
    const alone = asked.map(
      (one) => new Promise<readonly InputDone[]>((take) => queue({ asked: [one], resolve: take })),
    );
    void Promise.all(alone).then((done) => resolve(done.flat()));
  }

  function queue(batch: Batch): void {
    waiting.push(batch);
  }

  return {
    work(asked) {
      return new Promise((resolve) => {
        queue({ asked, resolve });
        goOn();
      });
    },
    stop() {
      for (const worker of all) void worker.terminate();
    },
  };
}
