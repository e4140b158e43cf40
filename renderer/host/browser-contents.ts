import { clear, get, isOutOfRoom, keysOf, putAll, remove } from './browser-store.ts';
import type { HostFile } from './host.ts';

/** Bytes kept at most: what is beyond must be located again. */
const mostBytes = 500e6;
/** Left free for decisions, however many files there are. */
const reservedBytes = 50e6;

/** One window at a time looks after the bytes, so that none sweeps away what another is about to speak of. */
export function whileAlone<T>(work: () => Promise<T>): Promise<T> {
  return navigator.locks.request('contents', work) as Promise<T>;
}

/** So many are put at once: quick where there are thousands, and little is lost where one of them cannot be put. */
const filesAtOnce = 32;

/** Keeps the bytes of files by their hash, as far as there is room: a page that is gone cannot ask the person's files for them again. */
export async function keepContents(sources: ReadonlyMap<string, HostFile>): Promise<void> {
  const kept = new Set(await keysOf('contents'));
  let [room, free] = [mostBytes, (await freeBytes()) - reservedBytes];
  const wanted = [...sources].filter(([sha256, file]) => {
    room -= file.bytes;
    if (room < 0 || kept.has(sha256)) return false;
    free -= file.bytes;
    return free >= 0;
  });
  for (let i = 0; i < wanted.length; i += filesAtOnce) {
    const blobs = new Map<string, Blob>();
    for (const [sha256, file] of wanted.slice(i, i + filesAtOnce)) {
      // A file that is gone by now, or a full disk, is no reason to lose the review.
      const blob = await file.read().catch(() => null);
      if (blob !== null) blobs.set(sha256, blob);
    }
    await putAll('contents', blobs).catch(() => null);
  }
}

async function freeBytes(): Promise<number> {
  const { quota, usage } = await navigator.storage.estimate();
  return quota === undefined || usage === undefined ? mostBytes : quota - usage;
}

export async function contentOf(file: string, sha256: string | null): Promise<HostFile | null> {
  const blob = sha256 === null ? undefined : await get<Blob>('contents', sha256);
  return blob === undefined ? null : { name: file, bytes: blob.size, read: async () => blob };
}

/**
 * Does what keeps decisions; where there is no room for it, lets go of all bytes that are kept and does it once more. Files can be located again, decisions
 * cannot be made again.
 */
export async function withRoom<T>(keep: () => Promise<T>): Promise<T> {
  try {
    return await keep();
  } catch (error) {
    if (!isOutOfRoom(error)) throw error;
    await whileAlone(() => clear('contents'));
    return keep();
  }
}

/** Lets go of bytes that no draft and no recent review speaks of. */
export async function sweepContents(): Promise<void> {
  const spoken = new Set<string>();
  for (const table of ['drafts', 'recent'] as const) {
    for (const key of await keysOf(table)) {
      const entry = await get<{ readonly contents: readonly string[] }>(table, key);
      for (const sha256 of entry?.contents ?? []) spoken.add(sha256);
    }
  }
  for (const sha256 of await keysOf('contents')) if (!spoken.has(sha256)) await remove('contents', sha256);
}
