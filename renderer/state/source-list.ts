import type { CaptureId } from '../../core/capture/capture.ts';
import { type ImportRecipe, inferEverything } from '../../core/import/import-recipe.ts';
import type { Problem } from '../../core/outcome.ts';
import type { Edit } from '../../core/review/edit.ts';
import type { Review, SourceFile } from '../../core/review/review.ts';
import type { ImportedSource, KnownSource, TraceFacts } from '../engine/messages.ts';
import type { OpenedSource } from './workbench-state.ts';

/** What is known of files beside the review: from the worker, and from what the person gave. */
export interface FilesKnown {
  /** Of the review's files, by name. */
  readonly known: ReadonlyMap<string, KnownSource>;
  /** Files that could not be taken in, by name, with the recipe that was tried. */
  readonly refused: ReadonlyMap<string, { readonly source: ImportedSource; readonly recipe: ImportRecipe }>;
  /** Other bytes given under a name of the review: their hash by the name. */
  readonly found: ReadonlyMap<string, string>;
}

export const nothingKnown: FilesKnown = { known: new Map(), refused: new Map(), found: new Map() };

/** The list of files as the screens show it: those of the review in its order, then those that could not be taken in. */
export function listFiles(review: Review, { known, refused, found }: FilesKnown): ReadonlyMap<string, OpenedSource> {
  const list = new Map<string, OpenedSource>();
  for (const source of review.sources)
    list.set(source.file, ofReview(source, known.get(source.file), found.get(source.file)));
  for (const [file, { source, recipe }] of refused) {
    if (list.has(file)) continue;
    const { kind: _, ...rest } = source;
    list.set(file, { ...rest, inReview: false, recipe, captures: [], found: null });
  }
  return list;
}

function ofReview(source: SourceFile, known: KnownSource | undefined, found: string | undefined): OpenedSource {
  const { file, sha256, recipe } = source;
  const fromWorker = known ?? { state: 'ready', understood: null, captures: [], asks: [], warnings: [], problems: [] };
  const isReplaced = fromWorker.state === 'missing' && found !== undefined;
  return {
    file,
    sha256,
    state: isReplaced ? 'changed' : fromWorker.state,
    inReview: true,
    recipe,
    understood: fromWorker.understood,
    captures: fromWorker.captures,
    asks: fromWorker.asks,
    warnings: fromWorker.warnings,
    problems: isReplaced ? [changedProblem(file)] : fromWorker.problems,
    found: found ?? null,
  };
}

function changedProblem(file: string): Problem {
  const sentence =
    'the file has changed since it was taken into the review (its SHA-256 differs); restore it, or take it in anew';
  return { code: 'source-changed', place: { file, line: null, column: null }, sentence };
}

export function listCaptures(files: ReadonlyMap<string, OpenedSource>): ReadonlyMap<CaptureId, TraceFacts> {
  const captures = new Map<CaptureId, TraceFacts>();
  for (const { captures: own } of files.values()) for (const capture of own) captures.set(capture.id, capture);
  return captures;
}

/** What becomes of files that were read: which are the review's own, which are new to it, which cannot be used. */
export interface Placement {
  /** One entry for the history; `null` where the review stays as it is. */
  readonly edit: Edit | null;
  /** Files of the review that are now there: they are looked at again. */
  readonly located: readonly string[];
  readonly found: readonly (readonly [file: string, sha256: string])[];
  readonly refused: readonly ImportedSource[];
  /** In the review already, with the same bytes. */
  readonly repeated: readonly string[];
}

/**
 * Matches files that were read to the review: first by their hash, whatever they are called by now, then by name; the rest is new.
 * @param isHeld whether the worker has a file with that hash already
 */
export function placeFiles(
  review: Review,
  read: readonly ImportedSource[],
  recipeOf: (file: string) => ImportRecipe,
  isHeld: (sha256: string) => boolean,
): Placement {
  const located = new Set<string>();
  const found: [string, string][] = [];
  const refused: ImportedSource[] = [];
  const repeated: string[] = [];
  const added = new Map<string, SourceFile>();
  const edits: Edit[] = [];
  const bySha = groupedBySha(review.sources);
  const byName = new Map(review.sources.map((source) => [source.file, source]));
  const missingByBase = new Map<string, SourceFile | null>();
  for (const source of review.sources) {
    if (source.sha256 !== null && isHeld(source.sha256)) continue;
    const base = baseOf(source.file);
    missingByBase.set(base, missingByBase.has(base) ? null : source);
  }

  for (const source of read) {
    const { file, sha256, state, kind } = source;
    if (kind !== 'captures') continue;
    const own = sha256 === null ? [] : (bySha.get(sha256) ?? []);
    if (own.length > 0) {
      for (const { file: name } of own) {
        if (sha256 !== null && isHeld(sha256)) repeated.push(name);
        else located.add(name);
      }
      continue;
    }
    const named = byName.get(file) ?? missingByBase.get(baseOf(file)) ?? null;
    if (named !== null && sha256 !== null) {
      if (named.sha256 === null) edits.push({ kind: 'change-source', file: named.file, source: { ...named, sha256 } });
      else found.push([named.file, sha256]);
      continue;
    }
    if (state === 'broken' || sha256 === null) {
      refused.push(source);
      continue;
    }
    if (added.has(file)) repeated.push(file);
    else added.set(file, { file, sha256, recipe: recipeForReview(recipeOf(file)), facts: [] });
  }

  const manifests = placeManifests(review.manifests, read);
  if (added.size > 0) edits.unshift({ kind: 'add-sources', sources: [...added.values()], at: null });
  if (manifests !== null) edits.push({ kind: 'set-manifests', manifests });
  for (const { file, sha256, kind, state } of read) {
    if (kind === 'manifest' && state === 'broken') refused.push(read.find((source) => source.file === file)!);
    else if (kind === 'manifest' && review.manifests.some((m) => m.sha256 === sha256)) located.add(file);
  }
  return { edit: asOne(edits, added.size), located: [...located], found, refused, repeated };
}

/** Manifests that are new, or have other bytes than the review knows under that name; `null` where there is none. */
function placeManifests(manifests: Review['manifests'], read: readonly ImportedSource[]): Review['manifests'] | null {
  let next = manifests;
  for (const { file, sha256, kind, state } of read) {
    if (kind !== 'manifest' || state === 'broken') continue;
    if (next.some((manifest) => manifest.sha256 === sha256 && sha256 !== null)) continue;
    const place = next.findIndex((manifest) => manifest.file === file);
    next = place < 0 ? [...next, { file, sha256 }] : next.with(place, { file, sha256 });
  }
  return next === manifests ? null : next;
}

function asOne(edits: readonly Edit[], files: number): Edit | null {
  if (edits.length < 2) return edits[0] ?? null;
  const name = files === 0 ? 'add files' : files === 1 ? 'add a file' : `add ${files} files`;
  return { kind: 'several', name, edits };
}

/** The recipe as a review has it: lists that may be altered. */
export function recipeForReview(recipe: ImportRecipe): SourceFile['recipe'] {
  const { columns } = recipe;
  return { ...recipe, columns: { ...columns, amplitudes: columns.amplitudes && [...columns.amplitudes] } };
}

export const freshRecipe: SourceFile['recipe'] = recipeForReview(inferEverything);

function groupedBySha(sources: readonly SourceFile[]): ReadonlyMap<string, readonly SourceFile[]> {
  const groups = new Map<string, SourceFile[]>();
  for (const source of sources) {
    if (source.sha256 === null) continue;
    const group = groups.get(source.sha256);
    if (group === undefined) groups.set(source.sha256, [source]);
    else group.push(source);
  }
  return groups;
}

function baseOf(file: string): string {
  return file.slice(file.lastIndexOf('/') + 1);
}

/** The review with the hashes of files that it knew by name alone; the same review where there is none such. */
export function withHashes(review: Review, read: readonly ImportedSource[]): Review {
  const hashes = new Map(read.map(({ file, sha256 }) => [file, sha256]));
  const isOpen = ({ file, sha256 }: { file: string; sha256: string | null }) => sha256 === null && hashes.has(file);
  if (!review.sources.some(isOpen) && !review.manifests.some(isOpen)) return review;
  const hashed = <T extends { file: string; sha256: string | null }>(one: T): T =>
    isOpen(one) ? { ...one, sha256: hashes.get(one.file) ?? null } : one;
  return { ...review, sources: review.sources.map(hashed), manifests: review.manifests.map(hashed) };
}

/** The sources that the worker must be told of: new, changed, or to be looked at again. */
export function sourcesToTell(
  review: Review,
  told: ReadonlyMap<string, SourceFile>,
  again: ReadonlySet<string>,
): readonly SourceFile[] {
  return review.sources.filter((source) => told.get(source.file) !== source || again.has(source.file));
}
