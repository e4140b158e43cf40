import { parentPort, workerData } from 'node:worker_threads';
import { examineBlocks, type Work } from './examine-files.ts';

const { work, next } = workerData as { work: Work; next: Int32Array };
parentPort?.postMessage(examineBlocks(work, next));
