import type { Review } from './review.ts';

/**
 * The review with its files under other names: where it is saved in another folder, its names must begin there. References to captures follow.
 * @param names from each old name to the new one; a name that is missing stays
 */
export function renameSources(review: Review, names: ReadonlyMap<string, string>): Review {
  if ([...names].every(([from, to]) => from === to)) return review;
  const named = (file: string) => names.get(file) ?? file;
  const referenced = (references: string[]) => references.map((reference) => renamed(reference, names));
  const { calibration, readings, drift, echoes } = review;
  const reflector = <R extends { capture: string | null }>(one: R): R => ({
    ...one,
    capture: one.capture === null ? null : renamed(one.capture, names),
  });
  return {
    ...review,
    sources: review.sources.map((source) => ({ ...source, file: named(source.file) })),
    manifests: review.manifests.map((manifest) => ({ ...manifest, file: named(manifest.file) })),
    echoes: echoes && { ...echoes, captures: referenced(echoes.captures) },
    calibration:
      calibration?.kind === 'fit'
        ? {
            ...calibration,
            captures: referenced(calibration.captures),
            reflectors:
              calibration.reflectors.kind === 'windows'
                ? { kind: 'windows', list: calibration.reflectors.list.map(reflector) }
                : calibration.reflectors,
          }
        : calibration,
    readings: readings && { ...readings, captures: referenced(readings.captures) },
    drift: drift && {
      ...drift,
      captures: referenced(drift.captures),
      reflectors: drift.reflectors.map(reflector),
    },
  };
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
