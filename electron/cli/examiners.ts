import { Worker } from 'node:worker_threads';
import type { Capture } from '../../core/capture/capture.ts';
import type { Examined, Plan } from '../../core/steps/examine.ts';

/** Threads that examine captures by one plan. */
export interface Examiners {
  /** Hands captures over: their samples move to the other thread and are gone from this one. */
  examine(captures: readonly Capture[]): Promise<Examined>;
  /** Resolves when few enough batches wait that another may be made: memory stays bounded however many files there are. */
  readyForMore(): Promise<void>;
  stop(): void;
}

/** What goes to a thread and comes back, by number. */
export interface ExaminationAsked {
  readonly id: number;
  readonly captures: readonly Capture[];
}

export interface ExaminationDone {
  readonly id: number;
  readonly examined: Examined;
}

const waitingAtMost = 24;

export function startExaminers(plan: Plan, threads: number): Examiners {
  const waiting = new Map<number, { resolve(examined: Examined): void; reject(error: unknown): void }>();
  let proceed: (() => void) | null = null;
  let asked = 0;

  const workers = Array.from({ length: threads }, () => {
    const worker = new Worker(new URL('./worker.js', import.meta.url), { workerData: plan });
    worker.on('message', ({ id, examined }: ExaminationDone) => {
      waiting.get(id)?.resolve(examined);
      waiting.delete(id);
      if (waiting.size <= waitingAtMost / 2) proceed?.();
    });
    worker.on('error', (error) => {
      for (const each of waiting.values()) each.reject(error);
      waiting.clear();
      proceed?.();
    });
    return worker;
  });

  return {
    examine(captures) {
      const id = asked++;
      // The preamble has served its purpose, and would be copied.
      const bare = captures.map((capture) => ({ ...capture, metadata: [] }));
      const buffers = new Set(captures.map((capture) => capture.waveform.samples.buffer as ArrayBuffer));
      workers[id % threads].postMessage({ id, captures: bare } satisfies ExaminationAsked, [...buffers]);
      return new Promise((resolve, reject) => waiting.set(id, { resolve, reject }));
    },
    async readyForMore() {
      if (waiting.size < waitingAtMost) return;
      await new Promise<void>((resolve) => {
        proceed = resolve;
      });
      proceed = null;
    },
    stop() {
      for (const worker of workers) void worker.terminate();
    },
  };
}
