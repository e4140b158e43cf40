import { Chance } from './chance.ts';
import type { Input, Subject, Verdict } from './subject.ts';

/** One input that the product did not stand, and why. */
export interface Found {
  readonly bytes: Uint8Array;
  readonly faults: readonly string[];
}

/**
 * Tries inputs on one subject: half of them made afresh, half of them changed from what is kept. Kept is what was given (the corpus), and each input
 * that came to a kind of outcome that no other had before.
 */
export class Session {
  readonly kept: Uint8Array[] = [];
  readonly outcomes = new Map<string, number>();
  tried = 0;
  private readonly chance: Chance;

  constructor(
    readonly subject: Subject,
    seed: number,
    corpus: readonly Uint8Array[],
  ) {
    this.chance = new Chance(seed);
    this.kept.push(...corpus);
  }

  /** The next input; `before` sees it before the product does. */
  async next(before: (bytes: Uint8Array) => void = () => {}): Promise<Found | null> {
    const input = this.input();
    before(input.bytes);
    return this.try(input);
  }

  async try(input: Input): Promise<Found | null> {
    this.tried++;
    const verdict = await judged(this.subject, input);
    const seen = this.outcomes.get(verdict.outcome) ?? 0;
    this.outcomes.set(verdict.outcome, seen + 1);
    if (seen === 0 && verdict.faults.length === 0) this.kept.push(input.bytes);
    return verdict.faults.length === 0 ? null : { bytes: input.bytes, faults: verdict.faults };
  }

  private input(): Input {
    const { chance, kept, subject } = this;
    if (kept.length === 0 || chance.oneIn(2)) return subject.make(chance);
    return { bytes: subject.change(chance.pick(kept), chance.pick(kept), chance), truth: null };
  }
}

/** What is thrown is a fault, whatever the input was. */
async function judged(subject: Subject, input: Input): Promise<Verdict> {
  try {
    return await subject.judge(input);
  } catch (error) {
    const stack = error instanceof Error ? (error.stack ?? error.message) : String(error);
    return { outcome: 'thrown', faults: [`thrown: ${stack.split('\n').slice(0, 6).join('\n')}`] };
  }
}
