import { createStore } from 'zustand/vanilla';
import type { DriftResult } from '../../../core/check/drift.ts';
import type { Evaluation } from '../../../core/evaluate.ts';
import { type ImportRecipe, inferEverything } from '../../../core/import/import-recipe.ts';
import { reviewText } from '../../../core/review/open-review.ts';
import type { CalibrationFit, DriftDecision, Reflector, Review } from '../../../core/review/review.ts';
import type { CalibrationResult } from '../../../core/steps/calibrate.ts';
import { type Engine, startEngine } from '../../engine/engine.ts';
import type { Preview } from '../../engine/messages.ts';
import type { Host, HostFile } from '../../host/host.ts';
import { initialLayout } from '../../settings/layout.ts';
import { decisionsOf } from '../../state/evaluating.ts';
import { createWorkbench, type WorkbenchStore } from '../../state/workbench.ts';
import type { Actions, State, Workbench } from '../../state/workbench-state.ts';
import { type AuditDesk, setUpAuditDesk } from './audit-desk.ts';
import { type PartDesk, setUpPartDesk } from './part-desk.ts';
import { type ProbesDesk, setUpProbesDesk } from './probes-desk.ts';
import { scenarioFiles, scenarioReview } from './scenario.ts';
import { waveText } from './waves.ts';

/** All that a scene may stand on: the scenario as the workbench has it once it is read and evaluated, and the means to show it otherwise. */
export interface Desk {
  readonly host: Host;
  readonly engine: Engine;
  readonly state: Workbench;
  /** Other decisions on the calibration, with what each gives. */
  readonly fits: Readonly<Record<'exact' | 'mistaken' | 'silent', Fitted>>;
  /** The drift checks as they are where no rule was chosen. */
  readonly withoutRule: { readonly decision: DriftDecision; readonly result: DriftResult | null };
  readonly previews: readonly PreviewShown[];
  /** The sample's weld. */
  readonly part: PartDesk;
  /** The sample's yearly check of an instrument. */
  readonly audit: AuditDesk;
  /** The sample's three probes on one plate. */
  readonly probes: ProbesDesk;
  /** The same workbench with some of its state replaced; it shows, and does nothing but move the view. */
  with(state: Partial<State>): WorkbenchStore;
}

export interface Fitted {
  readonly decision: CalibrationFit;
  readonly result: CalibrationResult;
}

/** A file as the column dialog shows it. */
export interface PreviewShown {
  readonly id: string;
  readonly title: string;
  readonly recipe: ImportRecipe;
  readonly preview: Preview;
  readonly isWorking: boolean;
}

/** Reads and evaluates the scenario by the program's own ways, so that no figure in the gallery is made up. */
export async function setUpDesk(): Promise<Desk> {
  const engine = counted(startEngine());
  const host = galleryHost();
  const store = createWorkbench(host, engine);
  await store.getState().actions.openReview({
    place: null,
    name: 'gallery.json',
    text: reviewText(scenarioReview()),
    version: 'as found',
    fileBeside: (file) => host.openSample([file]).then(([found]) => found ?? null),
  });
  const state = await settled(store);
  const fits = {
    exact: await fitted(engine, state.review, (list) => list.slice(0, 2)),
    mistaken: await fitted(engine, state.review, ([near, middle, far]) => [
      near!,
      { ...middle!, distanceMm: far!.distanceMm },
      { ...far!, distanceMm: middle!.distanceMm },
    ]),
    silent: await fitted(engine, state.review, (list) =>
      list.map((reflector, i) => ({ ...reflector, fromUs: 2.5 + i / 2, toUs: 3 + i / 2 })),
    ),
  };
  const drift = { ...state.review.drift!, rule: null };
  const unruled = evaluationWith(engine, { ...state.review, drift });
  const withoutRule = { decision: drift, result: (await unruled).drift };
  // Asked last: the worker goes on to hold the review as it was told it last.
  await evaluationWith(engine, state.review);
  const previews = await Promise.all(shownFiles.map((shown) => previewOf(engine, shown)));
  const part = await setUpPartDesk(host, counted, settled, showing);
  const audit = await setUpAuditDesk(host, counted, settled, showing);
  const probes = await setUpProbesDesk(host, counted, settled, showing);
  return {
    host,
    engine,
    state,
    fits,
    withoutRule,
    previews,
    part,
    audit,
    probes,
    with: (given) => showing({ ...state, notices: [], ...given }),
  };
}

/** Tells on the page how many answers are awaited, so that a picture is taken of what stays. */
function counted(engine: Engine): Engine {
  let awaited = 0;
  const tell = (by: number) => {
    awaited += by;
    document.documentElement.dataset.awaited = String(awaited);
  };
  return {
    ask(call, ask, manner) {
      tell(1);
      return engine.ask(call, ask, manner).finally(() => tell(-1));
    },
  };
}

/** An engine that is asked and never answers: what stands on a screen until it does. */
export const silentEngine: Engine = { ask: () => new Promise(() => {}) };

/** An engine that has stopped. */
export const stoppedEngine: Engine = {
  ask: () => Promise.reject(new Error('The computing worker stopped: out of memory.')),
};

/** The workbench once it has evaluated; rejects with what it says where it could not. */
function settled(store: WorkbenchStore): Promise<Workbench> {
  return new Promise((resolve, reject) => {
    const look = (state: Workbench) => {
      if (state.notices.length > 0) reject(new Error(state.notices.map(({ sentence }) => sentence).join(' ')));
      else if (!state.evaluating && state.importing === null && state.evaluation !== null) resolve(state);
    };
    store.subscribe(look);
    look(store.getState());
  });
}

function showing(state: Workbench): WorkbenchStore {
  const store = createStore<Workbench>(() => state);
  const moves: Partial<Actions> = {
    select: (selected) => store.setState({ selected }),
    overlay: (overlaid) => store.setState({ overlaid }),
    show: (view) => store.setState({ view }),
    selectGate: (selectedGate) => store.setState({ selectedGate }),
    setDrawingGate: (drawingGate) => store.setState({ drawingGate }),
    setCursors: (cursors) => store.setState({ cursors }),
    setTraceMode: (traceMode) => store.setState({ traceMode }),
    setEnvelope: (envelope) => store.setState({ envelope }),
    chooseIndication: (indication) => store.setState({ indication }),
    setProcedure: (procedure) => store.setState({ procedure }),
    ask: (asked) => store.setState({ asked }),
  };
  const inert = Object.fromEntries(Object.keys(state.actions).map((name) => [name, () => []]));
  store.setState({ actions: { ...(inert as unknown as Actions), ...moves } });
  return store;
}

function galleryHost(): Host {
  const files = scenarioFiles();
  const fileOf = (name: string): HostFile => {
    const blob = new Blob([files.get(name) ?? '']);
    return { name, bytes: blob.size, read: async () => blob };
  };
  const nothing = async () => [];
  return {
    openFiles: nothing,
    openFolder: nothing,
    dropped: nothing,
    openSample: async (names) => names.map(fileOf),
    openReview: async () => null,
    recent: nothing,
    openRecent: () => Promise.reject(new Error('There is no other review in the gallery.')),
    saveReview: async () => ({ kind: 'cancelled' }),
    saveText: async () => false,
    saveBytes: async () => false,
    printPage: async () => false,
    keepDraft: async () => {},
    dropDraft: async () => {},
    drafts: nothing,
    forgetDraft: async () => {},
    about: async () => ({ version: '1.2.3' }),
    settings: async () => ({ theme: 'system', units: 'metric', decimalMark: '.' }),
    keepSettings: async () => {},
    layout: async () => initialLayout,
    keepLayout: async () => {},
    sayUnsaved: () => {},
  };
}

async function fitted(
  engine: Engine,
  review: Review,
  change: (list: readonly Reflector[]) => readonly Reflector[],
): Promise<Fitted> {
  const { calibration, conditioning } = review;
  if (calibration?.kind !== 'fit' || calibration.reflectors.kind !== 'windows') throw new Error('no fit by windows');
  const list = [...change(calibration.reflectors.list)];
  const decision: CalibrationFit = { ...calibration, reflectors: { kind: 'windows', list } };
  return { decision, result: await engine.ask('fitPreview', { decision, conditioning }) };
}

function evaluationWith(engine: Engine, review: Review): Promise<Evaluation> {
  return engine.ask('evaluate', { decisions: decisionsOf(review) });
}

const plainRows = Array.from({ length: 200 }, (_, i) => `${(i * 0.02).toFixed(2)};${((i * 37) % 101) - 50}`);

const shownFiles = [
  {
    id: 'ready',
    title: 'all is understood',
    text: waveText({ head: ['rectification: rf'], echoes: [{ timeUs: 12, percent: 70 }], seed: 80 }),
    isWorking: false,
  },
  {
    id: 'working',
    title: 'another answer is tried',
    text: waveText({ head: ['rectification: rf'], echoes: [{ timeUs: 12, percent: 70 }], seed: 81 }),
    isWorking: true,
  },
  { id: 'asking', title: 'units are asked', text: `x;y\n${plainRows.join('\n')}\n`, isWorking: false },
  {
    id: 'wrong',
    title: 'a line that cannot be read',
    text: waveText({ head: [], echoes: [], samples: 60, seed: 82 }).replace('0.30,', '0.30,n/a'),
    isWorking: false,
  },
  {
    id: 'many',
    title: 'forty columns with long names',
    text: wideText(40),
    isWorking: false,
  },
];

function wideText(columns: number): string {
  const names = Array.from({ length: columns }, (_, i) => `amplitude at the ${i + 1}th place of the scan [%]`);
  const rows = Array.from({ length: 80 }, (_, i) =>
    [(i / 50).toFixed(2), ...names.map((_, c) => ((i * 7 + c * 13) % 91) - 45)].join(','),
  );
  return `time [us],${names.join(',')}\n${rows.join('\n')}\n`;
}

async function previewOf(
  engine: Engine,
  { id, title, text, isWorking }: (typeof shownFiles)[number],
): Promise<PreviewShown> {
  const file = `export/${id}.csv`;
  const recipe = inferEverything;
  const [source] = await engine.ask('import', { files: [{ file, content: new Blob([text]), recipe }] });
  const preview = await engine.ask('preview', { file, sha256: source!.sha256!, recipe, lines: 60, columns: 400 });
  return { id, title, recipe, preview, isWorking };
}
