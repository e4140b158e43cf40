import { useEffect, useState } from 'react';

/** A part of the page in a file of its own, which comes after what is needed at first. */
export interface LaterPart<Part extends object> {
  /** Has it loaded, if it is not there yet. */
  load(): Promise<Part>;
  /** `null` until it is there; loads it where nobody has: at once where it is wanted, otherwise when the page has nothing else to do. */
  usePart(isWanted: boolean): Part | null;
}

/** A page that is always busy gets it all the same. */
const idleWithinMs = 2000;

/** `load` is asked once, however many wait for it, and again where it failed. */
export function laterPart<Part extends object>(load: () => Promise<Part>): LaterPart<Part> {
  let there: Part | null = null;
  let coming: Promise<Part> | null = null;

  function start(): Promise<Part> {
    coming ??= load().then(
      (part) => {
        there = part;
        return part;
      },
      (error: unknown) => {
        coming = null;
        throw error;
      },
    );
    return coming;
  }

  return {
    load: start,
    usePart(isWanted) {
      const [part, setPart] = useState(there);
      const [failure, setFailure] = useState<unknown>(null);
      // biome-ignore lint/correctness/useExhaustiveDependencies: there is one `start` for each part, and it stays
      useEffect(() => {
        if (part !== null) return;
        const bring = () => void start().then(setPart, setFailure);
        if (isWanted) return bring();
        const idle = requestIdleCallback(bring, { timeout: idleWithinMs });
        return () => cancelIdleCallback(idle);
      }, [part, isWanted]);
      if (failure !== null) throw failure;
      return part;
    },
  };
}
