import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import type { Problem } from '../../core/outcome.ts';
import type { Edit } from '../../core/review/edit.ts';
import type { Review, SourceFile } from '../../core/review/review.ts';
import type { ImportedSource, Progress } from '../engine/messages.ts';
import type { HostFile } from '../host/host.ts';
import { type Desk, notify, setDocument, showFiles, tried } from './desk.ts';
import { edited } from './document.ts';
import { type FileWanted, importInBatches } from './importing.ts';
import { note } from './notices.ts';
import { freshRecipe, placeFiles, recipeForReview } from './source-list.ts';
import type { Actions } from './workbench-state.ts';

type FileActions = Pick<
  Actions,
  | 'addFiles'
  | 'cancelImport'
  | 'setRecipe'
  | 'setRecipes'
  | 'setFacts'
  | 'takeFound'
  | 'removeFiles'
  | 'openFiles'
  | 'openFolder'
>;

/** What stops the reading of files that is going on. */
const stops = new WeakMap<Desk, AbortController>();

/** What is quickly on its way to the worker is read while the page is drawn anew; what takes longer is shown all the same. */
export const showWithinMs = 100;

/** Reads files with the progress on the screen; `null` where others are being read already, or the review they were for is no longer open. */
export async function readFiles(
  desk: Desk,
  what: string,
  wanted: readonly FileWanted[],
  onBegun: () => void = () => {},
): Promise<readonly ImportedSource[] | null> {
  const { generation } = desk;
  if (stops.has(desk)) {
    notify(desk, [note('busy', 'workbench', 'files are being read already; wait for them, or cancel, then try again')]);
    return null;
  }
  const stop = new AbortController();
  stops.set(desk, stop);
  const show = (progress: Progress) => {
    onBegun();
    desk.store.setState({ importing: { what, ...progress } });
  };
  let next = setTimeout(show, showWithinMs, { done: 0, total: wanted.length });
  try {
    // In a task of its own: a window that has just handed thousands of files over answers before it is drawn anew.
    const read = await importInBatches(desk.engine, wanted, stop.signal, (progress) => {
      clearTimeout(next);
      next = setTimeout(show, 0, progress);
    });
    return desk.generation === generation ? read : null;
  } finally {
    clearTimeout(next);
    stops.delete(desk);
    desk.store.setState({ importing: null });
  }
}

/** Stops the reading of files that is going on, if any. */
export function stopReading(desk: Desk): void {
  stops.get(desk)?.abort();
}

/** The files that were read take their places: in the review, among what was missing, or among what cannot be used. */
export function place(
  desk: Desk,
  read: readonly ImportedSource[],
  wanted: readonly FileWanted[],
  what: 'given files' | 'own files' = 'given files',
): void {
  const byName = new Map(wanted.map((one) => [one.file, one]));
  const { review } = desk.document;
  const placement = placeFiles(
    review,
    read,
    (file) => byName.get(file)?.recipe ?? freshRecipe,
    (sha256) => desk.held.has(sha256),
  );
  for (const { file, sha256 } of read) {
    const from = byName.get(file)?.from;
    if (sha256 !== null && from !== undefined) desk.held.set(sha256, from);
  }
  const refused = new Map(desk.filesKnown.refused);
  for (const { file } of read) refused.delete(file);
  for (const source of placement.refused)
    refused.set(source.file, { source, recipe: byName.get(source.file)?.recipe ?? freshRecipe });
  const found = new Map(desk.filesKnown.found);
  for (const file of placement.located) found.delete(file);
  for (const [file, sha256] of placement.found) found.set(file, sha256);
  desk.filesKnown = { ...desk.filesKnown, refused, found };

  const manifests = read.some(({ kind }) => kind === 'manifest');
  desk.evaluations.lookAgain(placement.located, manifests);
  const outcome = placement.edit === null || what === 'own files' ? null : edited(desk.document, placement.edit, 'now');
  if (outcome?.ok) setDocument(desk, outcome.value);
  else desk.evaluations.submit(review);
  // What a review's own files hold is shown when the worker has told of them.
  if (what === 'given files' || placement.refused.length > 0 || placement.found.length > 0) showFiles(desk);
  const notices =
    what === 'given files'
      ? [...placement.repeated.map(repeated), ...placement.found.map(([file]) => otherBytes(file))]
      : changedManifests(review, read);
  notify(desk, notices.slice(0, mostNotices));
}

/** More are not read, and would bury the rest. */
const mostNotices = 20;

function repeated(file: string): Problem {
  return note('repeated', file, 'this file is in the review already, with the same bytes; it was not added again');
}

function otherBytes(file: string): Problem {
  const sentence =
    'the review knows this file with other bytes; nothing was changed: take the new one in its place, or leave the review as it is';
  return note('other-bytes', file, sentence);
}

/** A review's own manifests that are not what they were: they are not applied, since what they say now is not what was decided on. */
function changedManifests(review: Review, read: readonly ImportedSource[]): Problem[] {
  const known = new Map(review.manifests.map(({ file, sha256 }) => [file, sha256]));
  const sentence =
    'the manifest has changed since it was taken into the review (its SHA-256 differs), so it is not applied; restore it, or open it to take it in anew';
  return read
    .filter(({ file, sha256, kind }) => kind === 'manifest' && known.get(file) !== sha256)
    .map(({ file }) => note('manifest-changed', file, sentence));
}

export function fileActions(
  desk: Desk,
  openGiven: (review: HostFile, others: readonly HostFile[]) => Promise<void>,
): FileActions {
  function edit(change: Edit): void {
    const outcome = edited(desk.document, change, 'now');
    if (outcome.ok) setDocument(desk, outcome.value);
    else notify(desk, outcome.problems);
  }

  async function addFiles(files: readonly HostFile[]): Promise<void> {
    if (files.length === 0) return;
    await tried(desk, undefined, async () => {
      const review = await reviewAmong(files);
      if (review !== null) {
        await openGiven(
          review,
          files.filter((file) => file !== review),
        );
        return;
      }
      const wanted = withDistinctNames(files).map((from) => ({
        file: from.name,
        from,
        recipe: recipeKnown(desk.document.review, from.name),
      }));
      const read = await readFiles(desk, 'Reading files', wanted);
      if (read === null) return;
      place(desk, read, wanted);
    });
  }

  async function setRecipes(files: readonly string[], recipe: ImportRecipe): Promise<void> {
    const inReview = files.flatMap((file) => desk.document.review.sources.filter((source) => source.file === file));
    const changes = inReview.map(
      (source): Edit => ({
        kind: 'change-source',
        file: source.file,
        source: { ...source, recipe: recipeForReview(recipe) },
      }),
    );
    if (changes.length === 1) edit(changes[0]);
    else if (changes.length > 1)
      edit({ kind: 'several', name: `change import of ${changes.length} files`, edits: changes });
    await readAgain(files, recipe);
  }

  /** Files that could not be taken in are tried once more. */
  async function readAgain(files: readonly string[], recipe: ImportRecipe): Promise<void> {
    const wanted = files.flatMap((file): FileWanted[] => {
      const sha256 = desk.filesKnown.refused.get(file)?.source.sha256 ?? null;
      const from = sha256 === null ? undefined : desk.held.get(sha256);
      return from === undefined ? [] : [{ file, from, recipe }];
    });
    if (wanted.length === 0) return;
    await tried(desk, undefined, async () => {
      const read = await readFiles(desk, 'Reading files', wanted);
      if (read !== null) place(desk, read, wanted);
    });
  }

  return {
    addFiles,
    cancelImport: () => stopReading(desk),
    setRecipe: (file, recipe) => setRecipes([file], recipe),
    setRecipes,
    setFacts: (file, facts) => edit({ kind: 'set-facts', file, facts }),
    async takeFound(file) {
      const sha256 = desk.filesKnown.found.get(file);
      const source = desk.document.review.sources.find((candidate) => candidate.file === file);
      if (sha256 === undefined || source === undefined) return;
      const found = new Map(desk.filesKnown.found);
      found.delete(file);
      desk.filesKnown = { ...desk.filesKnown, found };
      edit({ kind: 'change-source', file, source: { ...source, sha256 } });
    },
    removeFiles(files) {
      const named = new Set(files);
      const refused = new Map([...desk.filesKnown.refused].filter(([file]) => !named.has(file)));
      desk.filesKnown = { ...desk.filesKnown, refused };
      const own = desk.document.review.sources.map(({ file }) => file).filter((file) => named.has(file));
      if (own.length > 0) edit({ kind: 'remove-sources', files: own });
      else showFiles(desk);
    },
    openFiles: () => tried(desk, undefined, async () => addFiles(await desk.host.openFiles())),
    openFolder: () => tried(desk, undefined, async () => addFiles(await desk.host.openFolder())),
  };
}

/** The recipe that the review has for a file of this name, for one that was missing. */
function recipeKnown(review: Review, file: string): SourceFile['recipe'] {
  return review.sources.find((source) => source.file === file)?.recipe ?? freshRecipe;
}

/** The one saved review among files, `null` where there is none or more than one. */
async function reviewAmong(files: readonly HostFile[]): Promise<HostFile | null> {
  const candidates = files.filter(({ name }) => /\.(json|ascan-review)$/i.test(name)).slice(0, 20);
  const reviews: HostFile[] = [];
  for (const file of candidates) {
    const start = await (await file.read()).slice(0, 400).text();
    if (start.includes('"ascan-review"')) reviews.push(file);
  }
  return reviews.length === 1 ? reviews[0] : null;
}

/** Two files of one name, from two folders that the host does not know: the second is called otherwise, so that both can be told apart. */
function withDistinctNames(files: readonly HostFile[]): HostFile[] {
  const taken = new Set<string>();
  return files.map((file) => {
    let name = file.name;
    for (let n = 2; taken.has(name); n++) name = file.name.replace(/(\.[^./]*)?$/, ` (${n})$1`);
    taken.add(name);
    return name === file.name ? file : Object.create(file, { name: { value: name, enumerable: true } });
  });
}
