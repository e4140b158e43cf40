import { writeSync } from 'node:fs';
import { type FileHandle, link, lstat, mkdir, open, realpath, rename, rm, rmdir, stat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { codeOf, DiskRefusal } from './disk-words.ts';
import { newPart, sweepOnce } from './leftovers.ts';

/** What is to be written: at hand, or told part by part. */
export type Content = string | Uint8Array | ((put: (bytes: Uint8Array) => void) => void);

export interface WriteManner {
  /** Whether what stands in the place gives way. Where it does not, not even a file that came there a moment ago is lost. */
  readonly replace?: boolean;
  /** Whether folders above it are made. A drive that is not connected would otherwise be written to where nobody looks for it. */
  readonly makeFolders?: boolean;
}

/**
 * **The one way in which a file is written**: beside its place, through to the disk, then renamed into it, and the folder through to the disk. However it
 * ends, the place holds the old bytes or the new ones, whole. A link is followed, and stays; rights stay; what is marked as read-only is left alone.
 * Rejects with the system's error or a `DiskRefusal`, for both of which `diskWords` has a sentence; nothing is left behind then.
 */
export async function writeWhole(
  path: string,
  content: Content,
  { replace = true, makeFolders = true }: WriteManner = {},
): Promise<void> {
  const { place, mode } = await placeOf(path);
  const folder = dirname(place);
  const madeFrom = makeFolders ? await makeFolder(folder) : null;
  await sweepOnce(folder);
  const part = newPart();
  const beside = join(folder, part.name);
  try {
    await writeThrough(beside, content, mode);
    await (replace ? patiently(() => rename(beside, place)) : becomeNew(beside, place));
    await syncFolders(folder, madeFrom);
  } catch (error) {
    await rm(beside, { force: true }).catch(() => {});
    await removeMade(folder, madeFrom);
    throw error;
  } finally {
    part.ended();
  }
}

/** Where a path leads, and the rights of what stands there; `null` where nothing does. */
async function placeOf(path: string): Promise<{ readonly place: string; readonly mode: number | null }> {
  const place = await realpath(path).catch(async (error: unknown) => {
    if (codeOf(error) !== 'ENOENT') throw error;
    if (await isLink(path)) throw new DiskRefusal('LINK-TO-NOTHING');
    return resolve(path);
  });
  const there = await stat(place).catch((error: unknown) => {
    if (codeOf(error) !== 'ENOENT') throw error;
    return null;
  });
  if (there === null) return { place, mode: null };
  if (there.isDirectory()) throw new DiskRefusal('EISDIR');
  if (!there.isFile()) throw new DiskRefusal('NO-FILE');
  if ((there.mode & 0o222) === 0) throw new DiskRefusal('READ-ONLY');
  return { place, mode: there.mode & 0o777 };
}

/**
 * Makes a folder and what is missing above it; gives the topmost that was made, `null` where none was missing. (Node's own way calls a folder missing where
 * the disk can only be read.)
 */
async function makeFolder(folder: string): Promise<string | null> {
  try {
    await mkdir(folder);
    return folder;
  } catch (error) {
    if (codeOf(error) !== 'ENOENT' || dirname(folder) === folder) {
      if ((await stat(folder).catch(() => null))?.isDirectory() === true) return null;
      throw error;
    }
  }
  const above = await makeFolder(dirname(folder));
  const here = await makeFolder(folder);
  return above ?? here;
}

async function isLink(path: string): Promise<boolean> {
  const found = await lstat(path).catch(() => null);
  return found?.isSymbolicLink() === true;
}

async function writeThrough(beside: string, content: Content, mode: number | null): Promise<void> {
  const file = await open(beside, 'wx', mode ?? 0o666);
  try {
    // A new file's rights are cut down by the person's mask; what stood there had its own. Some drives know none.
    if (mode !== null) await file.chmod(mode).catch(() => {});
    if (typeof content === 'function') content((bytes) => putAll(file, bytes));
    else await writeAll(file, content);
    await synced(file);
  } finally {
    // A network drive may say only here that it had no room.
    await file.close();
  }
}

/** So much goes to the disk at once. */
const atOnceBytes = 1 << 20;

async function writeAll(file: FileHandle, content: string | Uint8Array): Promise<void> {
  const bytes = typeof content === 'string' ? Buffer.from(content, 'utf8') : content;
  for (let from = 0; from < bytes.length; ) {
    const { bytesWritten } = await file.write(bytes, from, Math.min(atOnceBytes, bytes.length - from));
    from += bytesWritten;
  }
}

function putAll(file: FileHandle, bytes: Uint8Array): void {
  for (let from = 0; from < bytes.length; ) from += writeSync(file.fd, bytes, from);
}

/** Into a place that nothing has taken: a link to it fails where something has, which a renaming would write over. */
async function becomeNew(beside: string, place: string): Promise<void> {
  try {
    await link(beside, place);
  } catch (error) {
    if (codeOf(error) === 'EEXIST') throw new DiskRefusal('TAKEN');
    // A disk without such links (FAT, some network drives): looked at once more, then renamed.
    if ((await lstat(place).catch(() => null)) !== null) throw new DiskRefusal('TAKEN');
    return patiently(() => rename(beside, place));
  }
  // What cannot be removed now is a leftover; the file is written.
  await rm(beside, { force: true }).catch(() => {});
}

/** What Windows says while a virus scanner or an indexer looks at a file. */
const passing: ReadonlySet<string | null> = new Set(['EBUSY', 'EPERM', 'EACCES']);
const waitsMs = [20, 40, 80, 160, 320];

async function patiently(act: () => Promise<void>): Promise<void> {
  for (const waitMs of waitsMs) {
    try {
      return await act();
    } catch (error) {
      if (!passing.has(codeOf(error))) throw error;
    }
    await wait(waitMs);
  }
  await act();
}

/** A renaming stands on the disk when its folder does, and a new folder when the one above it does. */
async function syncFolders(folder: string, madeFrom: string | null): Promise<void> {
  const last = madeFrom === null ? folder : dirname(madeFrom);
  for (let at = folder; ; at = dirname(at)) {
    await syncFolder(at);
    if (at === last || at === dirname(at)) return;
  }
}

async function syncFolder(folder: string): Promise<void> {
  // Windows opens no folder as a file, and keeps its folders by itself.
  const opened = await open(folder, 'r').catch(() => null);
  if (opened === null) return;
  try {
    await synced(opened);
  } finally {
    await opened.close();
  }
}

/** What some file systems answer that know no such request. */
const unknownRequest: ReadonlySet<string | null> = new Set(['EINVAL', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS']);

async function synced(file: FileHandle): Promise<void> {
  await file.sync().catch((error: unknown) => {
    if (!unknownRequest.has(codeOf(error))) throw error;
  });
}

/** Folders that were made for a file that could not be written, from below, as far as they are empty. */
async function removeMade(folder: string, madeFrom: string | null): Promise<void> {
  if (madeFrom === null) return;
  const above = dirname(madeFrom);
  for (let at = folder; at !== above && at !== dirname(at); at = dirname(at)) {
    const isGone = await rmdir(at).then(
      () => true,
      () => false,
    );
    if (!isGone) return;
  }
}
