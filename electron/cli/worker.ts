import { parentPort, workerData } from 'node:worker_threads';
import type { FromWorker, ToWorker } from './crew.ts';
import { examineInput, type WorkSettings, workOn } from './input-work.ts';

const settings = workerData as WorkSettings;
const say = (message: FromWorker) => parentPort?.postMessage(message);
const progress = (words: string) => say({ kind: 'progress', words });

parentPort?.on('message', ({ asked, read }: ToWorker) => {
  const { wanted } = settings;
  const done =
    read === null || wanted.kind !== 'examinations'
      ? asked.map((one) => workOn(one, settings, progress))
      : read.map((one) => examineInput(one, wanted.plan));
  say({ kind: 'done', done });
});
