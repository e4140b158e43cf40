import type { Answer, CallName, Calls, Request } from './messages.ts';

/** Asks the core, in its worker; rejects where the worker fails, which is a mistake of ours and never of the data. */
export interface Engine {
  ask<Name extends CallName>(
    call: Name,
    ask: Calls[Name]['ask'],
    transfer?: Transferable[],
  ): Promise<Calls[Name]['answer']>;
}

/** The part of `Worker` that the engine needs, so that tests can stand in for it. */
export interface Line {
  postMessage(request: Request, transfer: Transferable[]): void;
  addEventListener(type: 'message', listener: (event: { readonly data: Answer }) => void): void;
  addEventListener(type: 'error', listener: (event: { readonly message: string }) => void): void;
}

export function engineOver(line: Line): Engine {
  const waiting = new Map<number, { resolve(answer: unknown): void; reject(error: Error): void }>();
  let latestId = 0;

  line.addEventListener('message', ({ data }) => {
    const asked = waiting.get(data.id);
    waiting.delete(data.id);
    if (data.ok) asked?.resolve(data.answer);
    else asked?.reject(new Error(data.mistake));
  });
  line.addEventListener('error', ({ message }) => {
    for (const asked of waiting.values()) asked.reject(new Error(`The computing worker stopped: ${message}`));
    waiting.clear();
  });

  return {
    ask(call, ask, transfer = []) {
      const id = ++latestId;
      return new Promise((resolve, reject) => {
        waiting.set(id, { resolve: resolve as (answer: unknown) => void, reject });
        line.postMessage({ id, call, ask } as Request, transfer);
      });
    },
  };
}

/** One worker for the page's whole life. */
export function startEngine(): Engine {
  return engineOver(new Worker(new URL('./engine.worker.ts', import.meta.url), { type: 'module', name: 'core' }));
}
