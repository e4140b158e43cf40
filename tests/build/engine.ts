import { answering } from '../../renderer/engine/answering.ts';
import { type Engine, engineOver } from '../../renderer/engine/engine.ts';
import type { Answer, Request } from '../../renderer/engine/messages.ts';

/** The engine over the core itself, without a worker between them; `asked` hears each request, `told` each message of an answer, copied as between threads. */
export function coreEngine(
  asked: (request: Request) => void = () => {},
  told: (answer: Answer) => void = () => {},
): Engine {
  let hear: (event: { data: Answer }) => void = () => {};
  const answer = answering((answered) => {
    told(answered);
    hear({ data: structuredClone(answered) });
  });
  return engineOver({
    postMessage(request) {
      asked(request);
      queueMicrotask(() => answer(request));
    },
    addEventListener: (type: 'message' | 'error', listener: (event: never) => void) => {
      if (type === 'message') hear = listener as typeof hear;
    },
  });
}
