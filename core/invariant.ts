/** Throws for a mistake of our own: what a user can cause is a `Problem`, never an exception. */
export function invariant(condition: boolean, sentence: string): asserts condition {
  if (!condition) throw new Error(`This should not happen: ${sentence}`);
}

/** The end of an exhaustive switch over a closed union. */
export function unreachable(value: never): never {
  throw new Error(`This should not happen: unknown case ${JSON.stringify(value)}`);
}
