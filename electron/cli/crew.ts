import { Worker } from 'node:worker_threads';
import { brokenBy, type InputAsked, type InputDone, type InputRead, type WorkSettings } from './input-work.ts';
import { showProgress } from './progress.ts';

export interface ToWorker {
  readonly asked: readonly InputAsked[];
  /** The same inputs where they have been read already. */
  readonly read: readonly InputRead[] | null;
}

export type FromWorker =
  | { readonly kind: 'done'; readonly done: readonly InputDone[] }
  | { readonly kind: 'progress'; readonly words: string };

/** Threads that work on inputs, each on one batch at a time. */
export interface Crew {
  /** Never rejects: an input on which a thread breaks is a problem like any other. */
  work(asked: readonly InputAsked[]): Promise<readonly InputDone[]>;
  /** The second half for inputs that have been read: their samples move to the other thread and are gone from this one. */
  examine(asked: readonly InputAsked[], read: readonly InputRead[]): Promise<readonly InputDone[]>;
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
      const { asked, read } = batch;
      worker.postMessage({ asked, read } satisfies ToWorker, buffersOf(read ?? []));
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
      (one) => new Promise<readonly InputDone[]>((take) => queue({ asked: [one], read: null, resolve: take })),
    );
    void Promise.all(alone).then((done) => resolve(done.flat()));
  }

  function queue(batch: Batch): void {
    waiting.push(batch);
  }

  function begun(batch: ToWorker): Promise<readonly InputDone[]> {
    return new Promise((resolve) => {
      queue({ ...batch, resolve });
      goOn();
    });
  }

  return {
    work: (asked) => begun({ asked, read: null }),
    // The preamble has served its purpose, and would be copied.
    examine: (asked, read) => begun({ asked, read: read.map(withoutPreambles) }),
    stop() {
      for (const worker of all) void worker.terminate();
    },
  };
}

function withoutPreambles({ captures, done }: InputRead): InputRead {
  return { captures: captures.map((capture) => ({ ...capture, metadata: [] })), done };
}

function buffersOf(read: readonly InputRead[]): ArrayBuffer[] {
  const samples = read.flatMap(({ captures }) =>
    captures.map(({ waveform }) => waveform.samples.buffer as ArrayBuffer),
  );
  return [...new Set(samples)];
}
