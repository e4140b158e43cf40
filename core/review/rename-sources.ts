import type { Review } from './review.ts';

/**
 * The review with its files under other names: where it is saved in another folder, its names must begin there. References to captures follow.
 * @param names from each old name to the new one; a name that is missing stays
 */
export function renameSources(review: Review, names: ReadonlyMap<string, string>): Review {
  if ([...names].every(([from, to]) => from === to)) return review;
  const named = (file: string) => names.get(file) ?? file;
  const {
    sources,
    manifests,
    echoes,
    calibration,
    readings,
    drift,
    linearity,
    sensitivity,
    part,
    scan,
    probes,
    material,
  } = review;
  const decisions = { echoes, calibration, readings, drift, linearity, sensitivity, part, scan, probes, material };
  return {
    ...review,
    sources: sources.map((source) => ({ ...source, file: named(source.file) })),
    manifests: manifests.map((manifest) => ({ ...manifest, file: named(manifest.file) })),
    ...(withReferences(decisions, (reference) => renamed(reference, names)) as typeof decisions),
  };
}

/** Where one capture is named, or `null`. */
const namesOne: ReadonlySet<string> = new Set(['capture', 'before', 'after']);

/** Decisions with their references to captures made anew: these stand in `captures`, a list, and `capture` (`before` and `after` of a damping test), one or `null`, wherever in a decision that is. */
function withReferences(value: unknown, named: (reference: string) => string): unknown {
  if (Array.isArray(value)) return value.map((item) => withReferences(item, named));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, part]) => {
      if (key === 'captures' && Array.isArray(part)) return [key, part.map((reference: string) => named(reference))];
      if (namesOne.has(key) && typeof part === 'string') return [key, named(part)];
      return [key, withReferences(part, named)];
    }),
  );
}

/** `FILE` or `FILE#TRACE`; a file's own name may have a `#` in it, so whole names come first, then the longest. */
function renamed(reference: string, names: ReadonlyMap<string, string>): string {
  const whole = names.get(reference);
  if (whole !== undefined) return whole;
  for (let hash = reference.lastIndexOf('#'); hash > 0; hash = reference.lastIndexOf('#', hash - 1)) {
    const file = names.get(reference.slice(0, hash));
    if (file !== undefined) return file + reference.slice(hash);
  }
  return reference;
}
