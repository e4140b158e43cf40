import { parentPort, workerData } from 'node:worker_threads';
import type { FromWorker, ToWorker, WorkSettings } from './crew.ts';
import { workOn } from './input-work.ts';

const { recipe, wanted } = workerData as WorkSettings;
const say = (message: FromWorker) => parentPort?.postMessage(message);

parentPort?.on('message', ({ asked }: ToWorker) => {
  const done = asked.map((one) => workOn(one, recipe, wanted, (words) => say({ kind: 'progress', words })));
  say({ kind: 'done', done });
});
