import type { WorkManner } from './each-input.ts';
import type { WorkSettings } from './input-work.ts';
import { openJob } from './job-file.ts';
import type { CommonOptions } from './options.ts';
import type { Manner } from './streamed-answer.ts';

/** What the commands that go through very many captures know beside the rest. */
export interface LargeJobOptions extends CommonOptions {
  lines?: boolean;
  list?: string;
  resume?: string;
  failures?: string;
  replace?: boolean;
}

export function mannerFrom({ jobs, resume }: LargeJobOptions, settings: WorkSettings): WorkManner {
  const { recipe, wanted } = settings;
  return { jobs: jobs ?? null, job: resume === undefined ? null : openJob(resume, { recipe, wanted }) };
}

/** How an answer is written. */
export function writtenAs({ json, lines }: { readonly json?: boolean; readonly lines?: boolean }): Manner {
  return lines === true ? 'lines' : json === true ? 'json' : 'words';
}
