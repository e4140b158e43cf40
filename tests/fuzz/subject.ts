import type { Chance } from './chance.ts';

/** An input, and what its maker knows of it; nothing is known of one that was changed afterwards. */
export interface Input<Truth = unknown> {
  readonly bytes: Uint8Array;
  readonly truth: Truth | null;
}

/** What came of one input: `outcome` tells kinds of results apart, `faults` are sentences of what must not be. */
export interface Verdict {
  readonly outcome: string;
  readonly faults: readonly string[];
}

/** A parser under trial: how inputs for it are made and changed, and how its answer is judged by a slow reader of our own. */
export interface Subject<Truth = unknown> {
  readonly name: string;
  /** Ending of its files in the corpus. */
  readonly ending: string;
  make(chance: Chance): Input<Truth>;
  change(bytes: Uint8Array, other: Uint8Array, chance: Chance): Uint8Array;
  judge(input: Input<Truth>): Verdict | Promise<Verdict>;
}
