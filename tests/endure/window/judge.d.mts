import type { Counted } from './counts.mjs';

export function judge(samples: readonly Counted[]): {
  readonly held: readonly string[];
  readonly faults: readonly string[];
};
