import type { ProbesDecision } from '../../../core/review/probes-decision.ts';
import type { Answer } from '../answer.ts';
import { characterise, type ProbeOptions } from './probe.ts';

export interface CompareOptions extends ProbeOptions {
  by?: 'probe';
  referenceProbe?: string;
  align?: ProbesDecision['align'];
  asRecorded?: boolean;
  significance?: number;
}

/** Probes side by side: figures in one table, overlays, and whether they differ. */
export function compare(words: readonly string[], options: CompareOptions): Promise<Answer> {
  return characterise(words, options, {
    referenceProbe: options.referenceProbe ?? null,
    firstIsReference: true,
    align: options.align ?? 'cross-correlation',
    normalised: options.asRecorded !== true,
    significance: (options.significance ?? 5) / 100,
  });
}
