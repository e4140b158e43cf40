import { createContext, useContext } from 'react';
import { type StoreApi, useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import { invariant } from '../../core/invariant.ts';
import type { Engine } from '../engine/engine.ts';
import type { Host, HostFile } from '../host/host.ts';
import { type Desk, notify, showFiles, showHighest } from './desk.ts';
import { emptyDocument } from './document.ts';
import { editActions } from './edit-actions.ts';
import { EvaluationKeeper, type Listener } from './evaluating.ts';
import { fileActions } from './file-actions.ts';
import { DraftKeeper } from './keeping-drafts.ts';
import { problemOf } from './notices.ts';
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
  place: null,
  saving: false,
  recent: [],
  drafts: [],
  conflict: null,
  notices: [],
};

/** The workbench over a host and the core's worker. It begins empty, and asks the host for settings, recent reviews and what was left behind. */
export function createWorkbench(host: Host, engine: Engine): WorkbenchStore {
  const store = createStore<Workbench>(() => ({ ...initial, actions: {} as Actions }));
  const desk: Desk = {
    host,
    engine,
    store,
    evaluations: new EvaluationKeeper(
      engine,
      listenerOf(() => desk),
    ),
    drafts: new DraftKeeper(
      () => keepDraft(desk),
      (error) => notify(desk, [problemOf(error)]),
    ),
    document: emptyDocument,
    filesKnown: nothingKnown,
    held: new Map(),
    fallback: null,
    generation: 0,
    version: null,
  };
  const review = reviewActions(desk);
  const openGiven = (file: HostFile, others: readonly HostFile[]) => openFromFiles(review, file, others);
  const actions: Actions = {
    ...editActions(desk),
    ...fileActions(desk, openGiven),
    ...review,
    ...viewActions(desk),
  };
  store.setState({ actions });
  void begin(desk);
  if (typeof document !== 'undefined') {
    // The last moment at which a page that is closed or put aside can do anything.
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'hidden' && store.getState().unsaved) void desk.drafts.now();
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

/** A folder that was given with a review in it: the rest are the review's files, by their names below its own folder. */
async function openFromFiles(
  { openReview }: Pick<Actions, 'openReview'>,
  file: HostFile,
  others: readonly HostFile[],
): Promise<void> {
  const folder = file.name.slice(0, file.name.lastIndexOf('/') + 1);
  const byName = new Map(others.map((other) => [other.name, other]));
  await openReview({
    place: null,
    name: file.name.slice(folder.length),
    text: await (await file.read()).text(),
    version: null,
    fileBeside: async (name) => byName.get(folder + name) ?? null,
  });
}
