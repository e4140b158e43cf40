import type { TraceFacts } from '../engine/messages.ts';
import type { State } from '../state/workbench-state.ts';
import type { SeriesCapture } from './places.ts';

/** The captures that are read together, in the review's order. */
export function seriesCaptures({ review, captures }: Pick<State, 'review' | 'captures'>): readonly TraceFacts[] {
  // A reference names a capture, or a file with all its captures; a set, since a look at each reference for each capture would take long with thousands.
  const read = new Set(review.readings?.captures);
  return [...captures.values()].filter(({ id, file }) => read.has(id) || read.has(file));
}

/** The captures as the picture knows them, named with the trace where a file has several. */
export function seriesOf(facts: readonly TraceFacts[]): SeriesCapture[] {
  const tracesIn = new Map<string, number>();
  for (const { file } of facts) tracesIn.set(file, (tracesIn.get(file) ?? 0) + 1);
  return facts.map(({ id, file, trace, positionMm, takenAt, gainDb }) => ({
    captureId: id,
    name: tracesIn.get(file) === 1 ? file : `${file}#${trace}`,
    positionMm,
    takenAt,
    gainDb,
  }));
}
