import { uniform } from '../build/random.ts';

/** Choices that follow from a seed: the same seed makes the same input on every machine. */
export class Chance {
  private readonly next: () => number;

  constructor(seed: number) {
    this.next = uniform(seed);
  }

  /** From 0 up to, and not including, `end`. */
  below(end: number): number {
    return Math.floor(this.next() * end);
  }

  /** Both ends included. */
  between(least: number, most: number): number {
    return least + this.below(most - least + 1);
  }

  /** Once in so many times. */
  oneIn(times: number): boolean {
    return this.below(times) === 0;
  }

  pick<T>(choices: readonly T[]): T {
    return choices[this.below(choices.length)];
  }

  /** Small numbers often, large ones seldom. */
  small(most: number): number {
    return Math.min(most, Math.floor(-Math.log(1 - this.next()) * Math.sqrt(most)));
  }
}

/** A seed from bytes (FNV-1a, 32 bits): what is tried with an input follows from the input alone, so that it can be tried again. */
export function seedOf(bytes: Uint8Array): number {
  let hash = 0x811c9dc5;
  for (const byte of bytes) hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  return hash;
}
