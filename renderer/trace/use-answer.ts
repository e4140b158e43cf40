import { useEffect, useState } from 'react';
import { Cancelled } from '../engine/pauses.ts';

/**
 * What the worker answered last, and `otherwise` until it has. `ask` is a new function whenever something else is to be asked (`useCallback`); the
 * answer before stays until the new one comes, and one that comes late is dropped.
 */
export function useAnswer<T>(
  ask: ((signal: AbortSignal) => Promise<T>) | null,
  otherwise: T,
  onFailure: (error: unknown) => void,
): T {
  const [answer, setAnswer] = useState(otherwise);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `otherwise` stands for nothing, whatever value is given for it
  useEffect(() => {
    if (ask === null) {
      setAnswer(otherwise);
      return;
    }
    const until = new AbortController();
    ask(until.signal).then(
      (answered) => {
        if (!until.signal.aborted) setAnswer(answered);
      },
      (error: unknown) => {
        if (!(error instanceof Cancelled) && !until.signal.aborted) onFailure(error);
      },
    );
    return () => until.abort();
  }, [ask, onFailure]);
  return answer;
}
