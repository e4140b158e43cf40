import type { VerdictOutcome } from '../check/verdict.ts';

/** Verdicts as a person reads them. */
export const verdictWords: Readonly<Record<VerdictOutcome, string>> = {
  pass: 'pass',
  fail: 'fail',
  inconclusive: 'inconclusive',
  'not-assessed': 'not assessed',
};
