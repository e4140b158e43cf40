import type { Progress } from './messages.ts';

/** Thrown inside the worker, and out of the page's promise, where work was stopped before its end. */
export class Cancelled extends Error {
  constructor() {
    super('This was cancelled.');
    this.name = 'Cancelled';
  }
}

/** What long work in the worker is given: it tells how far it is, and lets other requests be answered now and then. */
export interface Control {
  progress(progress: Progress): void;
  /** Call often: pauses when the worker has been busy for a while. Throws `Cancelled` where the work is no longer wanted. */
  pause(): Promise<void>;
}

/** So long the worker works before it looks for other requests: a drawing that is asked for meanwhile waits no longer. */
const busyMs = 12;

/** Pauses made only when due; `isCancelled` is asked after each. */
export function pausing(isCancelled: () => boolean): () => Promise<void> {
  let busySince = performance.now();
  return async () => {
    if (performance.now() - busySince < busyMs) return;
    await nextTask();
    busySince = performance.now();
    if (isCancelled()) throw new Cancelled();
  };
}

/** After the messages that are waiting now. (A timer would wait 4 ms longer each time.) */
function nextTask(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(null);
  });
}
