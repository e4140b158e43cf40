import { contentOf, keepContents, sweepContents, whileAlone, withRoom } from './browser-contents.ts';
import { get, keysOf, put, remove } from './browser-store.ts';
import type { Draft, DraftToKeep, ReviewPlace } from './host.ts';

interface KeptDraft {
  readonly at: string;
  readonly name: string | null;
  readonly place: ReviewPlace | null;
  readonly version: string | null;
  readonly text: string;
  /** Hashes of the files in use. */
  readonly contents: readonly string[];
}

const lockOf = (draftId: string) => `draft ${draftId}`;

/**
 * Drafts in the browser's database. Each window has its own, and holds a lock of the browser on it as long as it lives, however it ends: a draft whose
 * lock nobody holds was left behind.
 */
export class BrowserDrafts {
  private readonly id = crypto.randomUUID();
  private hasDraft = false;

  constructor() {
    // Held until the window is gone: the promise never resolves.
    void navigator.locks.request(lockOf(this.id), () => new Promise(() => {}));
  }

  /** The review is kept when this resolves; its files, which may be many, follow. */
  async keep({ sources, ...draft }: DraftToKeep): Promise<void> {
    const kept: KeptDraft = { ...draft, at: new Date().toISOString(), contents: [...sources.keys()] };
    await withRoom(() => put('drafts', this.id, kept));
    this.hasDraft = true;
    void whileAlone(() => keepContents(sources)).catch(() => null);
  }

  async drop(): Promise<void> {
    if (!this.hasDraft) return;
    this.hasDraft = false;
    await this.forget(this.id);
  }

  async leftBehind(): Promise<readonly Draft[]> {
    const held = await heldLocks();
    const drafts: Draft[] = [];
    for (const id of await keysOf('drafts')) {
      const kept = held.has(lockOf(id)) ? undefined : await get<KeptDraft>('drafts', id);
      if (kept !== undefined) drafts.push(draftOf(id, kept));
    }
    return drafts.sort((a, b) => (a.at < b.at ? 1 : -1));
  }

  forget(id: string): Promise<void> {
    return whileAlone(async () => {
      await remove('drafts', id);
      await sweepContents();
    });
  }
}

async function heldLocks(): Promise<ReadonlySet<string>> {
  const { held } = await navigator.locks.query();
  return new Set((held ?? []).map(({ name }) => name ?? ''));
}

function draftOf(id: string, { contents: _, ...kept }: KeptDraft): Draft {
  return { id, ...kept, source: contentOf };
}
