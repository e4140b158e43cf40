import { type Outcome, success } from '../../core/outcome.ts';
import { apply, type Edit, nameOf } from '../../core/review/edit.ts';
import { renameSources } from '../../core/review/rename-sources.ts';
import { emptyReview, type Review } from '../../core/review/review.ts';
import type { Manner } from './workbench-state.ts';

/** The review with its history. Values, never altered: each function gives a new one. Reviews share all that an edit leaves alone, so keeping them costs little. */
export interface Document {
  readonly review: Review;
  /** The review before each edit, the latest last, with the edit's name. */
  readonly past: readonly Entry[];
  /** The review after each edit that was undone, the next to redo last. */
  readonly future: readonly Entry[];
  /** What a merged edit may go on merging with: the subject of the last entry, while it is open. */
  readonly open: string | null;
  /** As it stands in its file; `null` where it stands in none as it is. */
  readonly saved: Review | null;
}

interface Entry {
  readonly name: string;
  readonly review: Review;
}

/** More steps than anyone goes back. */
const mostSteps = 1000;

export const emptyDocument: Document = documentOf(emptyReview, emptyReview);

/** A review that was opened: nothing to undo. */
export function documentOf(review: Review, saved: Review | null): Document {
  return { review, past: [], future: [], open: null, saved };
}

/**
 * Applies an edit and enters it into the history.
 *
 *     manner   merged merged now | now | merged merged …
 *     entries  └───── one ─────┘   one   └─ one, open ─┘
 *
 * Edits merge with those before them as long as they concern the same thing; `now` closes the entry. What is undone starts from before the first of them.
 * An edit that changes nothing leaves no entry.
 */
export function edited(document: Document, edit: Edit, manner: Manner): Outcome<Document> {
  const outcome = apply(document.review, edit);
  if (!outcome.ok) return outcome;
  const { review } = outcome.value;
  const subject = subjectOf(edit);
  const open = manner === 'merged' ? subject : null;
  const last = document.past.at(-1);
  if (document.open !== null && document.open === subject && last !== undefined) {
    const earlier = document.past.slice(0, -1);
    if (isSame(review, last.review)) return success({ ...document, review: last.review, past: earlier, open: null });
    const entry = { name: nameOf(edit, last.review), review: last.review };
    return success({ ...document, review, past: [...earlier, entry], future: [], open });
  }
  if (isSame(review, document.review)) return success(document);
  const entry = { name: nameOf(edit, document.review), review: document.review };
  return success({ ...document, review, past: [...document.past, entry].slice(-mostSteps), future: [], open });
}

export function undone(document: Document): Document {
  const last = document.past.at(-1);
  if (last === undefined) return document;
  return {
    ...document,
    review: last.review,
    past: document.past.slice(0, -1),
    future: [...document.future, { name: last.name, review: document.review }],
    open: null,
  };
}

export function redone(document: Document): Document {
  const next = document.future.at(-1);
  if (next === undefined) return document;
  return {
    ...document,
    review: next.review,
    past: [...document.past, { name: next.name, review: document.review }],
    future: document.future.slice(0, -1),
    open: null,
  };
}

/** Its review stands in its file as it is now. Nothing merges across a save. */
export function savedAs(document: Document, review: Review): Document {
  return { ...document, saved: review, open: null };
}

/** The same document, history and all, with its files under other names. */
export function renamedFiles(document: Document, names: ReadonlyMap<string, string>): Document {
  const done = new Map<Review, Review>();
  const renamed = (review: Review): Review => {
    const known = done.get(review) ?? renameSources(review, names);
    done.set(review, known);
    return known;
  };
  const entries = (list: readonly Entry[]) => list.map((entry) => ({ ...entry, review: renamed(entry.review) }));
  return {
    ...document,
    review: renamed(document.review),
    past: entries(document.past),
    future: entries(document.future),
    saved: document.saved && renamed(document.saved),
  };
}

export function undoName({ past }: Document): string | null {
  return past.at(-1)?.name ?? null;
}

export function redoName({ future }: Document): string | null {
  return future.at(-1)?.name ?? null;
}

export function isUnsaved({ review, saved }: Document): boolean {
  return review !== saved;
}

/** What an edit concerns: edits of one subject may merge. */
function subjectOf(edit: Edit): string {
  switch (edit.kind) {
    case 'change-gate':
      return `gate ${edit.gate.name}`;
    case 'add-gate':
      return `gate ${edit.gate.name}`;
    case 'change-source':
    case 'set-facts':
      return `${edit.kind} ${edit.file}`;
    case 'several':
      return `several ${edit.name}`;
    default:
      return edit.kind;
  }
}

/** Files are compared by identity: an edit that touches them makes new ones. */
function isSame(a: Review, b: Review): boolean {
  const keys = Object.keys(a) as (keyof Review)[];
  return keys.every(
    (key) => a[key] === b[key] || (key !== 'sources' && JSON.stringify(a[key]) === JSON.stringify(b[key])),
  );
}
