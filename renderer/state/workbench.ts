import { createContext, useContext } from 'react';
import { type StoreApi, useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import { invariant } from '../../core/invariant.ts';
import type { Engine } from '../engine/engine.ts';
import type { Host } from '../host/host.ts';
import { initialLayout } from '../settings/layout.ts';
import { type Desk, notify, showFiles, showHighest } from './desk.ts';
import { emptyDocument } from './document.ts';
import { editActions } from './edit-actions.ts';
import { EvaluationKeeper, type Listener } from './evaluating.ts';
import { fileActions } from './file-actions.ts';
import { Keeper } from './keeper.ts';
import { problemOf } from './notices.ts';
import { reportActions } from './report-actions.ts';
import { keepDraft, reviewActions } from './review-actions.ts';
import { nothingKnown } from './source-list.ts';
import { freshView, viewActions } from './view-actions.ts';
import type { Actions, State, Workbench } from './workbench-state.ts';

export type WorkbenchStore = StoreApi<Workbench>;

/** `<WorkbenchContext value={createWorkbench(host, engine)}>` around the page. */
export const WorkbenchContext = createContext<WorkbenchStore | null>(null);

/** A part of the workbench, and a new rendering whenever that part is another value. */
export function useWorkbench<Part>(part: (workbench: Workbench) => Part): Part {
  const store = useContext(WorkbenchContext);
  invariant(store !== null, 'a screen outside the workbench');
  return useStore(store, part);
}

const initial: State = {
  review: emptyDocument.review,
  undoName: null,
  redoName: null,
  unsaved: false,
  name: null,
  files: new Map(),
  captures: new Map(),
  importing: null,
  evaluation: null,
  evaluationOf: null,
  evaluating: false,
  evaluationProgress: null,
  live: null,
  ...freshView,
  style: { units: 'metric', decimalMark: '.' },
  theme: 'system',
  layout: initialLayout,
  place: null,
  saving: false,
  recent: [],
  drafts: [],
  given: null,
  conflict: null,
  notices: [],
};

/** The workbench over a host and the core's worker. It begins empty, and asks the host for settings, recent reviews and what was left behind. */
export function createWorkbench(host: Host, engine: Engine): WorkbenchStore {
  const store = createStore<Workbench>(() => ({ ...initial, actions: {} as Actions }));
  const hear = (error: unknown) => notify(desk, [problemOf(error)]);
  const desk: Desk = {
    host,
    engine,
    store,
    evaluations: new EvaluationKeeper(
      engine,
      listenerOf(() => desk),
    ),
    drafts: new Keeper(() => keepDraft(desk), hear),
    layouts: new Keeper(() => host.keepLayout(store.getState().layout), hear),
    document: emptyDocument,
    filesKnown: nothingKnown,
    held: new Map(),
    fallback: null,
    generation: 0,
    version: null,
  };
  const review = reviewActions(desk);
  const { takeGiven, ...reviewDone } = review;
  const actions: Actions = {
    ...editActions(desk),
    ...fileActions(desk, takeGiven),
    ...reviewDone,
    ...viewActions(desk),
    ...reportActions(desk),
  };
  store.setState({ actions });
  void begin(desk);
  if (typeof document !== 'undefined') {
    // The last moment at which a page that is closed or put aside can do anything.
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState !== 'hidden') return;
      if (store.getState().unsaved) void desk.drafts.now();
      void desk.layouts.rest();
    });
  }
  return store;
}

async function begin(desk: Desk): Promise<void> {
  const { host, store } = desk;
  const hear = (error: unknown) => notify(desk, [problemOf(error)]);
  await Promise.all([
    host
      .settings()
      .then(({ theme, units, decimalMark }) => store.setState({ theme, style: { units, decimalMark } }))
      .catch(hear),
    host
      .layout()
      .then((layout) => store.setState({ layout }))
      .catch(hear),
    host
      .recent()
      .then((recent) => store.setState({ recent }))
      .catch(hear),
    host
      .drafts()
      .then((drafts) => store.setState({ drafts }))
      .catch(hear),
  ]);
}

function listenerOf(desk: () => Desk): Listener {
  const set = (state: Partial<State>) => desk().store.setState(state);
  return {
    onKnown(known) {
      desk().filesKnown = { ...desk().filesKnown, known };
      showFiles(desk());
    },
    onBusy: (evaluating) => set(evaluating ? { evaluating } : { evaluating, evaluationProgress: null }),
    onProgress: (evaluationProgress) => set({ evaluationProgress }),
    onEvaluation(evaluation, evaluationOf) {
      set({ evaluation, evaluationOf, live: null });
      showHighest(desk(), evaluation);
    },
    onFailure: (error) => notify(desk(), [problemOf(error)]),
  };
}
