import type { Problem } from '../../core/outcome.ts';
import type { Edit } from '../../core/review/edit.ts';
import { planForReadings } from '../../core/steps/read.ts';
import { newestWins } from '../engine/newest-wins.ts';
import { type Desk, notify, setDocument } from './desk.ts';
import { type Document, edited, redone, undone } from './document.ts';
import { problemOf } from './notices.ts';
import type { Actions, Manner } from './workbench-state.ts';

type EditActions = Pick<Actions, 'edit' | 'undo' | 'redo' | 'cancelEvaluation'>;

/** Changes to the review and the way back. While one is dragged, the selected capture alone is read; the rest follows when the drag ends. */
export function editActions(desk: Desk): EditActions {
  const readLive = newestWins((error) => notify(desk, [problemOf(error)]));

  function edit(change: Edit, manner: Manner = 'now'): readonly Problem[] {
    const outcome = edited(desk.document, change, manner);
    if (!outcome.ok) return outcome.problems;
    const before = desk.document;
    if (outcome.value === before) return [];
    desk.fallback = null;
    if (outcome.value.review === before.review) setDocument(desk, outcome.value, 'not');
    else setDocument(desk, outcome.value, manner === 'now' ? 'now' : 'later');
    if (manner === 'merged') readSelected();
    followGate(change);
    return [];
  }

  function readSelected(): void {
    readLive(async () => {
      const { review, selected, evaluation, captures } = desk.store.getState();
      if (review.readings === null || selected === null || !captures.has(selected)) return;
      const plan = planForReadings(review, review.readings, evaluation?.calibration?.calibration ?? null);
      const read = await desk.engine.ask('readOne', { capture: selected, plan });
      // When the drag has ended, the evaluation has the word.
      if (read.ok && desk.document.open !== null)
        desk.store.setState({ live: { captureId: selected, readings: read.value } });
    });
  }

  /** The selected gate keeps being selected under another name, and is none where it was removed. */
  function followGate(change: Edit): void {
    const { selectedGate } = desk.store.getState();
    if (change.kind === 'change-gate' && change.name === selectedGate)
      desk.store.setState({ selectedGate: change.gate.name });
    dropLostGate();
  }

  function dropLostGate(): void {
    const { selectedGate, review } = desk.store.getState();
    const isThere = review.readings?.gates.some(({ name }) => name === selectedGate) === true;
    if (selectedGate !== null && !isThere) desk.store.setState({ selectedGate: null });
  }

  function go(to: (document: Document) => Document): void {
    const next = to(desk.document);
    if (next === desk.document) return;
    desk.fallback = null;
    setDocument(desk, next);
    desk.store.setState({ live: null });
    dropLostGate();
  }

  return {
    edit,
    undo: () => go(undone),
    redo: () => go(redone),
    cancelEvaluation: () => desk.evaluations.cancel(),
  };
}
