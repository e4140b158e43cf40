import { contentOf, keepContents, sweepContents, whileAlone } from './browser-contents.ts';
import { download, pickFiles } from './browser-files.ts';
import { get, isOutOfRoom, keysOf, put, remove } from './browser-store.ts';
import type { FoundReview, Host, HostFile, Recent, Saved } from './host.ts';

/** A file that the browser may read and write again, where it has the File System Access API. */
interface FileHandle {
  readonly name: string;
  getFile(): Promise<File>;
  createWritable(): Promise<{ write(text: string): Promise<void>; close(): Promise<void> }>;
  isSameEntry(other: FileHandle): Promise<boolean>;
  requestPermission?(mode: { mode: 'read' | 'readwrite' }): Promise<'granted' | 'denied' | 'prompt'>;
}

interface FilePickers {
  showOpenFilePicker?(options: object): Promise<readonly FileHandle[]>;
  showSaveFilePicker?(options: object): Promise<FileHandle>;
}

interface KeptRecent {
  readonly name: string;
  readonly at: string;
  /** `null` where the browser can only download: such an entry keeps the bytes of the review's files, and is not listed. */
  readonly handle: FileHandle | null;
  readonly contents: readonly string[];
}

const mostRecent = 8;
const types = [{ description: 'Review', accept: { 'application/json': ['.json', '.ascan-review'] } }];
const pickers = (): FilePickers => window as unknown as FilePickers;

/** Saved reviews in a browser: files that are written in place where the browser can do that, downloads where it cannot. */
export const browserReviews: Pick<Host, 'openReview' | 'recent' | 'openRecent' | 'saveReview'> = {
  async openReview() {
    const { showOpenFilePicker } = pickers();
    if (showOpenFilePicker === undefined) {
      const [file] = await pickFiles('.json,.ascan-review', false);
      return file === undefined ? null : await foundIn(file);
    }
    const handle = await unlessClosed(showOpenFilePicker.call(window, { types }).then(([first]) => first));
    return handle === null || handle === undefined ? null : await openHandle(handle, await idOf(handle));
  },

  async recent() {
    const recent: Recent[] = [];
    for (const id of await keysOf('recent')) {
      const kept = await get<KeptRecent>('recent', id);
      if (kept !== undefined && kept.handle !== null) recent.push({ id, name: kept.name, at: kept.at });
    }
    return recent.sort((a, b) => (a.at < b.at ? 1 : -1));
  },

  async openRecent(id) {
    const handle = (await get<KeptRecent>('recent', id))?.handle ?? null;
    if (handle === null || (await handle.requestPermission?.({ mode: 'read' })) === 'denied')
      throw new Error('The browser was not allowed to read this review. Open it by its file.');
    return openHandle(handle, id).catch(async (cause: unknown) => {
      await remove('recent', id);
      throw new Error('This review is no longer where it was. Open it by its file.', { cause });
    });
  },

  async saveReview({ place, suggestedName, text, version, sources }) {
    const known = place === null ? null : ((await get<KeptRecent>('recent', place.id))?.handle ?? null);
    const { showSaveFilePicker } = pickers();
    if (known === null && showSaveFilePicker === undefined) {
      download(suggestedName, new Blob([text], { type: 'application/json' }));
      await remember(`downloaded ${suggestedName}`, suggestedName, null, text, sources);
      return { kind: 'saved', place: null, name: suggestedName, version: null };
    }
    const handle =
      known ?? (await unlessClosed(showSaveFilePicker!.call(window, { suggestedName, types }) as Promise<FileHandle>));
    if (handle === null) return { kind: 'cancelled' };
    if ((await handle.requestPermission?.({ mode: 'readwrite' })) === 'denied')
      throw new Error('The browser was not allowed to write this review. Save it under another name.');
    const id = await idOf(handle);
    const saved = await navigator.locks.request(`saving ${handle.name}`, () => write(handle, id, text, version));
    if (saved.kind === 'saved') await remember(id, handle.name, handle, text, sources);
    return saved;
  },
};

/** The same file has one id, however often it is picked. */
async function idOf(handle: FileHandle): Promise<string> {
  for (const id of await keysOf('recent')) {
    const other = (await get<KeptRecent>('recent', id))?.handle ?? null;
    if (other !== null && (await handle.isSameEntry(other))) return id;
  }
  return crypto.randomUUID();
}

/** Holds what stands there against what was read, then writes: no other window of this browser comes between. */
async function write(handle: FileHandle, id: string, text: string, version: string | null): Promise<Saved> {
  const place = { id, name: handle.name };
  if (version !== null) {
    const now = await handle.getFile().catch(() => null);
    if (now === null || (await versionOf(await now.text())) !== version) {
      const at = now === null ? null : new Date(now.lastModified).toISOString();
      return { kind: 'changed-since', place, at };
    }
  }
  await writeThrough(handle, text).catch((cause: unknown) => {
    const reason = isOutOfRoom(cause) ? 'there is no room left' : 'the browser could not write there';
    const sentence = 'what stood there is unchanged; save under another name, on another disk if need be';
    throw new Error(`${handle.name} was not saved: ${reason}; ${sentence}.`, { cause });
  });
  return { kind: 'saved', place, name: handle.name, version: await versionOf(text) };
}

/** The browser writes beside it, and puts it in place when it is closed. */
async function writeThrough(handle: FileHandle, text: string): Promise<void> {
  const stream = await handle.createWritable();
  await stream.write(text);
  await stream.close();
}

async function openHandle(handle: FileHandle, id: string): Promise<FoundReview> {
  const found = await foundIn({ ...fileOf(await handle.getFile()) });
  await remember(id, handle.name, handle, found.text, new Map());
  return { ...found, place: { id, name: handle.name } };
}

function fileOf(file: File): HostFile {
  return { name: file.name, bytes: file.size, read: async () => file };
}

/** Its files are found where their bytes were kept in this browser; the others must be located. */
async function foundIn(file: HostFile): Promise<FoundReview> {
  const text = await (await file.read()).text();
  const hashes = hashesIn(text);
  return {
    place: null,
    name: file.name,
    text,
    version: await versionOf(text),
    fileBeside: (name) => contentOf(name, hashes.get(name) ?? null),
  };
}

/** A text that is no review names no files: it is refused where it is opened, with its reasons. */
function hashesIn(text: string): ReadonlyMap<string, string> {
  try {
    const { sources = [], manifests = [] } = JSON.parse(text) as Record<string, { file: string; sha256: string }[]>;
    return new Map([...sources, ...manifests].map(({ file, sha256 }) => [file, sha256]));
  } catch {
    return new Map();
  }
}

/** That it cannot be remembered does not make a review that was opened or saved any less so. */
async function remember(...about: Parameters<typeof rememberNow>): Promise<void> {
  await rememberNow(...about).catch(() => null);
}

async function rememberNow(
  id: string,
  name: string,
  handle: FileHandle | null,
  text: string,
  sources: ReadonlyMap<string, HostFile>,
): Promise<void> {
  await whileAlone(async () => {
    const contents = [...hashesIn(text).values()];
    await put('recent', id, { name, at: new Date().toISOString(), handle, contents } satisfies KeptRecent);
    await keepContents(sources);
    await forgetOldest();
    await sweepContents();
  });
}

async function forgetOldest(): Promise<void> {
  const ages: [string, string][] = [];
  for (const id of await keysOf('recent')) ages.push([(await get<KeptRecent>('recent', id))?.at ?? '', id]);
  ages.sort(([a], [b]) => (a < b ? 1 : -1));
  for (const [, id] of ages.slice(mostRecent)) await remove('recent', id);
}

async function versionOf(text: string): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** `null` where the person closed the dialog. */
async function unlessClosed<T>(asked: Promise<T>): Promise<T | null> {
  try {
    return await asked;
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return null;
    throw error;
  }
}
