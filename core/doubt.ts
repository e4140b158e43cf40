import type { Flag } from './flag.ts';

/** A doubt about one result: the flag, and a sentence with the numbers in it that says what is odd and what to do. */
export interface Doubt {
  readonly flag: Flag;
  readonly sentence: string;
}
