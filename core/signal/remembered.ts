/** What was worked out of a thing once; the thing must never be altered. */
export function remembered<Thing extends object, Result>(
  memory: WeakMap<Thing, Result>,
  thing: Thing,
  work: (thing: Thing) => Result,
): Result {
  const known = memory.get(thing);
  if (known !== undefined) return known;
  const result = work(thing);
  memory.set(thing, result);
  return result;
}
