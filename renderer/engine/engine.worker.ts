import { answering } from './answering.ts';
import type { Request } from './messages.ts';

const answer = answering((answered, transfer) => self.postMessage(answered, { transfer: [...transfer] }));

self.addEventListener('message', (event: MessageEvent<Request>) => answer(event.data));
