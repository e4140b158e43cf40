import type { StoreApi } from 'zustand';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { Evaluation } from '../../core/evaluate.ts';
import type { Reading } from '../../core/gate/reading.ts';
import type { Review } from '../../core/review/review.ts';
import type { Engine } from '../engine/engine.ts';
import type { TraceFacts } from '../engine/messages.ts';
import type { Host, HostFile } from '../host/host.ts';
import { type Document, isUnsaved, redoName, undoName } from './document.ts';
import type { EvaluationKeeper } from './evaluating.ts';
import type { Keeper } from './keeper.ts';
import { problemOf } from './notices.ts';
import { type FilesKnown, listCaptures, listFiles } from './source-list.ts';
import type { Workbench } from './workbench-state.ts';

/** What the actions work with beside the state that the screens see. */
export interface Desk {
  readonly host: Host;
  readonly engine: Engine;
  readonly store: StoreApi<Workbench>;
  readonly evaluations: EvaluationKeeper;
  readonly drafts: Keeper;
  readonly layouts: Keeper;
  document: Document;
  filesKnown: FilesKnown;
  /** Of each file that was read, by its hash: the worker holds its bytes, and a host can find it again. */
  readonly held: Map<string, HostFile>;
  /** The capture that is selected for want of a choice, until the highest reading is known; `null` once a person has chosen or changed anything. */
  fallback: CaptureId | null;
  /** Counts reviews: what began in an earlier one must not end in this. */
  generation: number;
  /** What stood in the review's place when it was last read or written. */
  version: string | null;
}

/** The next document, shown; evaluated at once, or when nothing has changed for a while. */
export function setDocument(desk: Desk, document: Document, evaluate: 'now' | 'later' | 'not' = 'now'): void {
  const { review } = document;
  const filesChanged = review.sources !== desk.document.review.sources;
  desk.document = document;
  const unsaved = isUnsaved(document);
  desk.store.setState({ review, undoName: undoName(document), redoName: redoName(document), unsaved });
  desk.host.sayUnsaved(unsaved);
  if (filesChanged) showFiles(desk);
  if (evaluate === 'now') evaluateSoon(desk, review, 0);
  else if (evaluate === 'later') evaluateSoon(desk, review, laterMs);
  desk.drafts.changed();
}

/** A drag that has paused for so long is read whole, though it has not ended. */
const laterMs = 400;
const timers = new WeakMap<Desk, ReturnType<typeof setTimeout>>();

function evaluateSoon(desk: Desk, review: Review, afterMs: number): void {
  clearTimeout(timers.get(desk));
  if (afterMs === 0) desk.evaluations.submit(review);
  else
    timers.set(
      desk,
      setTimeout(() => desk.evaluations.submit(review), afterMs),
    );
}

/** The list of files anew from the review and from what is known of them; the selection stays on a capture that is there. */
export function showFiles(desk: Desk): void {
  const { selected, overlaid } = desk.store.getState();
  const files = listFiles(desk.document.review, desk.filesKnown);
  const captures = listCaptures(files);
  const isThere = selected !== null && captures.has(selected);
  const first = isThere ? null : firstToShow(desk.document.review, captures);
  const kept = first === null ? selected : first.id;
  if (first !== null) desk.fallback = first.isFallback ? first.id : null;
  const stillThere = overlaid.filter((id) => captures.has(id) && id !== kept);
  desk.store.setState({
    files,
    captures,
    selected: kept,
    overlaid: stillThere.length === overlaid.length ? overlaid : stillThere,
  });
}

/** A review is told from its beginning: the capture that it is calibrated with, then the part that is examined. */
function firstToShow(
  { calibration, readings }: Review,
  captures: ReadonlyMap<CaptureId, TraceFacts>,
): { readonly id: CaptureId | null; readonly isFallback: boolean } {
  const among = (references: readonly string[]): CaptureId | null => {
    const named = new Set(references);
    for (const { id, file } of captures.values()) if (named.has(id) || named.has(file)) return id;
    return null;
  };
  const ofBlock = calibration?.kind === 'fit' ? among(calibration.captures) : null;
  if (ofBlock !== null) return { id: ofBlock, isFallback: false };
  const id = among(readings?.captures ?? []) ?? captures.keys().next().value ?? null;
  return { id, isFallback: true };
}

/** In a review that was opened and in which nothing has been chosen yet, the highest reading is the one to see first. */
export function showHighest(desk: Desk, evaluation: Evaluation): void {
  const { selected, captures } = desk.store.getState();
  if (selected !== desk.fallback || desk.fallback === null) return;
  desk.fallback = null;
  const readings = evaluation.readings?.readings ?? [];
  const highest = readings.reduce<Reading | null>(
    (best, reading) => ((reading.amplitudePercent ?? 0) > (best?.amplitudePercent ?? 0) ? reading : best),
    null,
  );
  if (highest !== null && captures.has(highest.captureId)) desk.store.setState({ selected: highest.captureId });
}

/** Carries an action out; what goes wrong in the host or the worker stands on the screen in its own words. */
export async function tried<T>(desk: Desk, otherwise: T, action: () => Promise<T>): Promise<T> {
  try {
    return await action();
  } catch (error) {
    notify(desk, [problemOf(error)]);
    return otherwise;
  }
}

export function notify(desk: Desk, notices: Workbench['notices']): void {
  desk.store.setState({ notices });
}
