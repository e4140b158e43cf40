import type { Review } from '../../core/review/review.ts';
import type { FoundReview, HostFile, ReviewPlace } from '../host/host.ts';
import { type Desk, notify, setDocument, showFiles, tried } from './desk.ts';
import { documentOf, emptyDocument, isUnsaved, renamedFiles, savedAs } from './document.ts';
import { decisionsOf } from './evaluating.ts';
import { place, readFiles, showWithinMs, stopReading } from './file-actions.ts';
import { findBeside } from './importing.ts';
import { freshRecipe, nothingKnown, withHashes } from './source-list.ts';
import { freshView } from './view-actions.ts';
import type { Actions, Sample, Workbench } from './workbench-state.ts';

type ReviewActions = Pick<
  Actions,
  | 'newReview'
  | 'openReview'
  | 'answerGiven'
  | 'openRecent'
  | 'openSample'
  | 'save'
  | 'saveAs'
  | 'resolveConflict'
  | 'recover'
  | 'forgetDraft'
>;

/** A worker that is busy with one long record must not hold up the draft. */
const textWithinMs = 300;

/** The review's bytes as they are saved: from the worker where it is up with the review and free, so that thousands of files do not hold up the window. */
export async function textOf(desk: Desk, review: Review): Promise<string> {
  if (!desk.evaluations.isTold(review)) return textHere(review);
  const late = new Promise<null>((resolve) => setTimeout(() => resolve(null), textWithinMs));
  const text = await Promise.race([desk.engine.ask('reviewText', { decisions: decisionsOf(review) }), late]);
  return text ?? textHere(review);
}

/** What checks a review is large, and as a rule only the worker needs it. */
async function textHere(review: Review): Promise<string> {
  const { reviewText } = await import('../../core/review/open-review.ts');
  return reviewText(review);
}

/** Keeps this window's draft, or drops it where everything is saved. */
export async function keepDraft(desk: Desk): Promise<void> {
  const { document, host, version } = desk;
  if (!isUnsaved(document)) return host.dropDraft();
  const { name, place: at } = desk.store.getState();
  const text = await textOf(desk, document.review);
  const { title } = document.review;
  const called = name ?? (title === '' ? null : title);
  await host.keepDraft({ name: called, place: at, version, text, sources: sourcesOf(desk, document.review) });
}

function sourcesOf(desk: Desk, review: Review): ReadonlyMap<string, HostFile> {
  const sources = new Map<string, HostFile>();
  for (const { sha256 } of [...review.sources, ...review.manifests]) {
    const file = sha256 === null ? undefined : desk.held.get(sha256);
    if (sha256 !== null && file !== undefined) sources.set(sha256, file);
  }
  return sources;
}

export function reviewActions(desk: Desk): ReviewActions & {
  /** A saved review that was given with other files: opened, or kept until the person has said what becomes of unsaved work. */
  takeGiven(review: HostFile, others: readonly HostFile[]): Promise<void>;
} {
  const { host, store } = desk;
  let given: FoundReview | null = null;

  /** Nothing of the review before is left. */
  async function clear(): Promise<void> {
    desk.generation++;
    stopReading(desk);
    await desk.drafts.stop();
    await desk.evaluations.forget();
    desk.held.clear();
    desk.filesKnown = nothingKnown;
    desk.version = null;
    store.setState({
      ...freshView,
      name: null,
      place: null,
      evaluation: null,
      evaluationOf: null,
      live: null,
      given: null,
      conflict: null,
      notices: [],
    });
    setDocument(desk, emptyDocument, 'not');
    showFiles(desk);
    await host.dropDraft();
  }

  /** `unsaved`: what was found is a draft, and stands in no file as it is. */
  async function open(found: FoundReview, unsaved: boolean): Promise<boolean> {
    const opened = await desk.engine.ask('openReview', { file: found.name, text: found.text });
    if (!opened.ok) {
      notify(desk, opened.problems);
      return false;
    }
    const review = opened.value;
    await clear();
    desk.version = found.version;
    const { generation } = desk;
    let isShown = false;
    const show = () => {
      if (isShown || desk.generation !== generation) return;
      isShown = true;
      const isKept = found.place !== null || (!unsaved && found.version !== null);
      store.setState({ name: isKept ? found.name : null, place: found.place });
      setDocument(desk, documentOf(review, unsaved ? null : review), 'not');
      store.setState({ procedure: procedureOf(review) });
    };
    const late = setTimeout(show, showWithinMs);
    const files = [...review.sources, ...review.manifests.map(({ file }) => ({ file, recipe: freshRecipe }))];
    const wanted = await findBeside(files, (file) => found.fileBeside(file));
    const read = await readFiles(desk, 'Reading the review’s files', wanted, show);
    clearTimeout(late);
    show();
    if (read === null) return false;
    const whole = withHashes(review, read);
    if (whole !== review) setDocument(desk, documentOf(whole, unsaved ? null : whole), 'not');
    place(desk, read, wanted, 'own files');
    return true;
  }

  async function write(to: ReviewPlace | null, version: string | null): Promise<boolean> {
    if (store.getState().saving) return false;
    store.setState({ saving: true });
    try {
      const suggestedName = suggestedNameOf(desk.document.review, store.getState().name);
      const at = to ?? (await host.choosePlace?.(suggestedName)) ?? null;
      if (at === null && host.choosePlace !== undefined) return false;
      if (at !== null && at !== to) await renameFor(at);
      const { review } = desk.document;
      const text = await textOf(desk, review);
      const saved = await host.saveReview({
        place: at,
        suggestedName,
        text,
        version,
        sources: sourcesOf(desk, review),
      });
      if (saved.kind === 'cancelled') return false;
      if (saved.kind === 'changed-since') {
        store.setState({ conflict: { place: saved.place, at: saved.at } });
        return false;
      }
      desk.version = saved.version;
      store.setState({ name: saved.name, place: saved.place, conflict: null, notices: [] });
      setDocument(desk, savedAs(desk.document, review), 'not');
      await desk.drafts.now();
      store.setState({ recent: await host.recent() });
      return true;
    } finally {
      store.setState({ saving: false });
    }
  }

  /** In another folder the files have other names. They are no edit: undo does not bring back names that lead nowhere. */
  async function renameFor(at: ReviewPlace): Promise<void> {
    if (host.namesFrom === undefined) return;
    const { review } = desk.document;
    const files = new Map<string, HostFile>();
    for (const { file, sha256 } of [...review.sources, ...review.manifests]) {
      const held = sha256 === null ? undefined : desk.held.get(sha256);
      if (held !== undefined) files.set(file, held);
    }
    const names = await host.namesFrom(at, files);
    const renamed = renamedFiles(desk.document, names);
    if (renamed.review === review) return;
    const selected = store.getState().selected;
    const trace = selected === null ? null : (store.getState().captures.get(selected) ?? null);
    setDocument(desk, renamed);
    await desk.evaluations.settled();
    if (trace !== null) {
      const id = `${names.get(trace.file) ?? trace.file}#${trace.trace}`;
      if (store.getState().captures.has(id)) store.setState({ selected: id });
    }
  }

  async function openGivenBy(find: () => Promise<FoundReview | null>): Promise<void> {
    await tried(desk, undefined, async () => {
      const found = await find();
      if (found !== null && (await open(found, false))) store.setState({ recent: await host.recent() });
    });
  }

  async function answerGiven(answer: 'open' | 'leave'): Promise<void> {
    const found = given;
    given = null;
    store.setState({ given: null });
    if (answer === 'open' && found !== null) await openGivenBy(async () => found);
  }

  return {
    newReview: () => tried(desk, undefined, clear),
    openReview: (found) => openGivenBy(async () => found ?? host.openReview()),
    async takeGiven(file, others) {
      given = foundAmong(file, others, await (await file.read()).text());
      if (isUnsaved(desk.document)) store.setState({ given: { name: given.name } });
      else await answerGiven('open');
    },
    answerGiven,
    openRecent: (id) => openGivenBy(() => host.openRecent(id)),
    openSample: (which = 'shift') =>
      openGivenBy(async () => {
        const folder = sampleFolders[which];
        const [file] = await host.openSample([folder + sampleReview]);
        const text = await (await file.read()).text();
        // Its files are on their way while the review is read.
        const names = [...hashesIn(text).keys()];
        const coming = new Map(names.map((name) => [name, host.openSample([folder + name]).catch(() => [])]));
        const fileBeside = async (name: string) => (await coming.get(name))?.[0] ?? null;
        return { place: null, name: sampleReview, text, version: null, fileBeside };
      }),
    save: () => tried(desk, false, () => write(store.getState().place, desk.version)),
    saveAs: () => tried(desk, false, () => write(null, null)),
    async resolveConflict(choice) {
      const { conflict } = store.getState();
      store.setState({ conflict: null });
      if (conflict === null || choice === 'leave') return false;
      return tried(desk, false, () => write(choice === 'overwrite' ? conflict.place : null, null));
    },
    recover: (draftId) =>
      tried(desk, undefined, async () => {
        const draft = store.getState().drafts.find(({ id }) => id === draftId);
        if (draft === undefined) return;
        const { name, place: at, version, text } = draft;
        const hashes = hashesIn(text);
        const found: FoundReview = {
          place: at,
          name: name ?? 'draft',
          text,
          version,
          fileBeside: (file) => draft.source(file, hashes.get(file) ?? null),
        };
        if (!(await open(found, true))) return;
        // As long as this window has not kept it, what was left behind is the only copy.
        if (await desk.drafts.now()) await forget(draftId);
      }),
    forgetDraft: (draftId) => tried(desk, undefined, () => forget(draftId)),
  };

  async function forget(draftId: string): Promise<void> {
    await host.forgetDraft(draftId);
    store.setState({ drafts: store.getState().drafts.filter(({ id }) => id !== draftId) });
  }
}

/** A folder that was given with a review in it: the rest are the review's files, by their names below its own folder. */
function foundAmong(file: HostFile, others: readonly HostFile[], text: string): FoundReview {
  const folder = file.name.slice(0, file.name.lastIndexOf('/') + 1);
  const byName = new Map(others.map((other) => [other.name, other]));
  return {
    place: null,
    name: file.name.slice(folder.length),
    text,
    version: null,
    fileBeside: async (name) => byName.get(folder + name) ?? null,
  };
}

const sampleReview = 'review.json';

const sampleFolders: Readonly<Record<Sample, string>> = { shift: '', instrument: 'instruments/', probes: 'probes/' };

/** The procedure that fits what is seen first. */
function procedureOf({ calibration, readings, linearity, probes }: Review): Workbench['procedure'] {
  if (Object.values(linearity).some((check) => check !== null)) return 'verdicts';
  if (calibration?.kind === 'fit' && calibration.captures.length > 0) return 'calibration';
  if (readings !== null) return 'readings';
  return probes === null ? 'import' : 'probes';
}

/** The saved name, or one from the title that every file system takes. */
export function suggestedNameOf(review: Review, name: string | null): string {
  if (name !== null) return name;
  const words = review.title
    .normalize('NFC')
    .replace(/[^\p{L}\p{N} _-]+/gu, ' ')
    .trim()
    .replace(/\s+/g, '-')
    .slice(0, 60);
  return `${words === '' ? 'review' : words}.json`;
}

/** The hash of each file that a review's text names. The text was checked when it was opened; here it is only looked at. */
function hashesIn(text: string): ReadonlyMap<string, string> {
  const review = JSON.parse(text) as Pick<Review, 'sources' | 'manifests'>;
  const hashes = new Map<string, string>();
  for (const { file, sha256 } of [...review.sources, ...review.manifests])
    if (sha256 !== null) hashes.set(file, sha256);
  return hashes;
}
