import { parentPort, workerData } from 'node:worker_threads';
import { examine, type Plan } from '../../core/steps/examine.ts';
import type { ExaminationAsked, ExaminationDone } from './examiners.ts';

const plan = workerData as Plan;

parentPort?.on('message', ({ id, captures }: ExaminationAsked) => {
  parentPort?.postMessage({ id, examined: examine(captures, plan) } satisfies ExaminationDone);
});
