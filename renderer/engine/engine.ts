import type { Answer, CallName, Calls, Progress, Request } from './messages.ts';
import { Cancelled } from './pauses.ts';
import { joined, type Piece } from './pieces.ts';

/** Asks the core, in its worker; rejects with `Cancelled` where the signal is given, and otherwise where the worker fails, which is a mistake of ours and never of the data. */
export interface Engine {
  ask<Name extends CallName>(call: Name, ask: Calls[Name]['ask'], manner?: Manner): Promise<Calls[Name]['answer']>;
}

export interface Manner {
  readonly signal?: AbortSignal;
  onProgress?(progress: Progress): void;
}

/** The part of `Worker` that the engine needs, so that tests can stand in for it. */
export interface Line {
  postMessage(request: Request): void;
  addEventListener(type: 'message', listener: (event: { readonly data: Answer }) => void): void;
  addEventListener(type: 'error', listener: (event: { readonly message: string }) => void): void;
}

interface Waiting {
  readonly call: CallName;
  readonly pieces: Piece[];
  readonly onProgress: ((progress: Progress) => void) | undefined;
  resolve(answer: unknown): void;
  reject(error: Error): void;
}

export function engineOver(line: Line): Engine {
  const waiting = new Map<number, Waiting>();
  let latestId = 0;

  line.addEventListener('message', ({ data }) => {
    const asked = waiting.get(data.id);
    if (asked === undefined) return;
    if (data.kind === 'progress') return asked.onProgress?.(data.progress);
    if (data.kind === 'piece') {
      asked.pieces.push(data);
      return;
    }
    waiting.delete(data.id);
    if (data.kind === 'done') asked.resolve(joined(asked.call, data.answer, asked.pieces));
    else asked.reject(data.kind === 'cancelled' ? new Cancelled() : new Error(data.mistake));
  });
  line.addEventListener('error', ({ message }) => {
    for (const asked of waiting.values()) asked.reject(new Error(`The computing worker stopped: ${message}`));
    waiting.clear();
  });

  return {
    ask(call, ask, { signal, onProgress } = {}) {
      if (signal?.aborted) return Promise.reject(new Cancelled());
      const id = ++latestId;
      return new Promise((resolve, reject) => {
        const stop = () => {
          if (!waiting.delete(id)) return;
          line.postMessage({ id, call: 'cancel' });
          reject(new Cancelled());
        };
        const heard = () => signal?.removeEventListener('abort', stop);
        waiting.set(id, {
          call,
          pieces: [],
          onProgress,
          resolve(answer) {
            heard();
            resolve(answer as Calls[typeof call]['answer']);
          },
          reject(error) {
            heard();
            reject(error);
          },
        });
        line.postMessage({ id, call, ask } as Request);
        // Nothing more is heard of what was cancelled: its answer would be of no use, whether or not the worker has finished it by then.
        signal?.addEventListener('abort', stop);
      });
    },
  };
}

/** One worker for the page's whole life. */
export function startEngine(): Engine {
  return engineOver(new Worker(new URL('./engine.worker.ts', import.meta.url), { type: 'module', name: 'core' }));
}
