import { answering, transfers } from './answering.ts';
import type { Request } from './messages.ts';

const answer = answering();

self.addEventListener('message', (event: MessageEvent<Request>) => {
  const answered = answer(event.data);
  self.postMessage(answered, { transfer: transfers(answered) as ArrayBuffer[] });
});
