import { createHash } from 'node:crypto';
import { open, readdir, readFile, realpath, stat } from 'node:fs/promises';
import { basename, dirname, extname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import type { FoundReviewTold, Offered, PlaceTold, SavedTold } from './bridge.ts';
import { codeOf, diskWords } from './disk/disk-words.ts';
import { driveAsked } from './disk/drive.ts';
import { sweepLeftovers } from './disk/leftovers.ts';
import { type Content, writeWhole } from './disk/write-whole.ts';
import type { Kept } from './kept.ts';
import type { Tokens } from './tokens.ts';

/** Kinds of files that may be captures or their manifest: the command line takes the same ones from a folder. */
export const captureEndings = ['csv', 'txt', 'tsv', 'dat', 'asc'] as const;
/** A folder may hold saved reviews too. */
const folderEndings: readonly string[] = [...captureEndings, 'ascan-review', 'json'];
const mostBelowFolder = 100_000;
const deepest = 12;
const largestReviewBytes = 100_000_000;

/** The person's files, as the page may use them: read those that were given, write reviews and tables, and never over a capture. */
export interface Files {
  offer(paths: readonly string[]): Promise<readonly Offered[]>;
  offerFolder(path: string): Promise<readonly Offered[]>;
  /** `null` for what is not a file (any more). */
  offerOne(path: string, name?: string): Promise<Offered | null>;
  readPart(token: string, from: number, length: number): Promise<Uint8Array<ArrayBuffer>>;
  readReview(path: string): Promise<FoundReviewTold>;
  beside(review: string, name: string): Promise<Offered | null>;
  place(path: string): PlaceTold;
  saveReview(place: string, text: string, version: string | null): Promise<SavedTold>;
  namesFrom(place: string, tokens: readonly string[]): (string | null)[];
  saveText(path: string, text: string): Promise<void>;
  saveBytes(path: string, bytes: Uint8Array): Promise<void>;
  /** Removes what writes left behind that a sudden end cut off, where files were written last. */
  sweep(): Promise<void>;
}

/** Of Node's four threads for files: what is saved, and the program's own files, keep theirs while drives that are read stall. */
const readAtOnce = 2;

/** Where files were written to, the last first: a write that a sudden end cut off is cleaned up after where it stood. */
export type WrittenFolders = Kept<readonly string[]>;
const mostFolders = 20;

export function files(tokens: Tokens, written: WrittenFolders | null = null): Files {
  /** What was offered to be read as a capture: a source, over which nothing is ever written. */
  const sources = new Set<string>();
  /** What each file that was offered was like then, by its token. */
  const states = new Map<string, string>();
  const read = driveAsked(readAtOnce);
  // One after the other in any case; a drive that has gone silent must not keep a review from being saved on another.
  const save = driveAsked(Number.POSITIVE_INFINITY);
  let saving: Promise<unknown> = Promise.resolve();

  async function offerOne(path: string, name = basename(path)): Promise<Offered | null> {
    const found = await read(() => stat(path, { bigint: true })).catch(() => null);
    if (found === null || !found.isFile()) return null;
    if (isCapture(path)) for (const key of await keysOf(path)) sources.add(key);
    const state = stateOf(found);
    const token = tokens.tokenOf(path, state);
    states.set(token, state);
    return { token, name, bytes: Number(found.size) };
  }

  async function offerAll(named: readonly (readonly [path: string, name: string])[]): Promise<Offered[]> {
    const all: Offered[] = [];
    for (const [path, name] of named) {
      const one = await offerOne(path, name);
      if (one !== null) all.push(one);
    }
    return all;
  }

  async function refuseSource(path: string): Promise<void> {
    if (!(await keysOf(path)).some((key) => sources.has(key))) return;
    throw new Error(
      `${basename(path)} is a capture of this review, and nothing is written over it; choose another name.`,
    );
  }

  /** One file after the other, so that of two windows that save the same one the second is told. */
  function inTurn<T>(path: string, work: () => Promise<T>): Promise<T> {
    const turn = saving.then(() => save(work));
    saving = turn.catch(() => undefined);
    return turn.catch((cause: unknown) => {
      throw codeOf(cause) === null ? cause : notWritten(path, cause);
    });
  }

  async function write(path: string, content: Content): Promise<void> {
    await refuseSource(path);
    await noteFolder(dirname(path));
    await writeWhole(path, content, { makeFolders: false });
  }

  /** Noted before anything is written there. That it cannot be noted is no reason not to save. */
  async function noteFolder(folder: string): Promise<void> {
    const known = (await written?.read()) ?? [];
    if (written === null || known[0] === folder) return;
    const next = [folder, ...known.filter((one) => one !== folder)].slice(0, mostFolders);
    await written.write(next).catch(() => {});
  }

  return {
    offerOne,
    offer: (paths) => offerAll(paths.map((path) => [path, basename(path)])),
    async offerFolder(folder) {
      const found: [string, string][] = [];
      await collect(folder, '', 0, found);
      return offerAll(found);
    },

    readPart: (token, from, length) =>
      read(() => partOf(tokens.pathOf(token), states.get(token) ?? null, from, length)).catch((cause: unknown) => {
        throw notRead(tokens.pathOf(token), cause);
      }),

    async readReview(path) {
      const bytes = await read(() => reviewBytes(path)).catch((cause: unknown) => {
        if (codeOf(cause) === 'ENOENT') throw new Error(`${basename(path)} is no longer there.`, { cause });
        throw codeOf(cause) === null ? cause : notRead(path, cause);
      });
      return { place: placeOf(path), name: basename(path), text: textOf(bytes), version: versionOf(bytes) };
    },

    async beside(review, name) {
      const path = pathBeside(tokens.pathOf(review), name);
      return path === null ? null : offerOne(path, name);
    },

    place: placeOf,

    async saveReview(place, text, version) {
      const path = tokens.pathOf(place);
      return inTurn(path, async (): Promise<SavedTold> => {
        const there = version === null ? null : await standingAt(path);
        if (there !== null && versionOf(there) !== version) {
          const at = (await stat(path).catch(() => null))?.mtime.toISOString() ?? null;
          return { kind: 'changed-since', place: placeOf(path), at };
        }
        const bytes = Buffer.from(text, 'utf8');
        await write(path, bytes);
        return { kind: 'saved', place: placeOf(path), name: basename(path), version: versionOf(bytes) };
      });
    },

    namesFrom(place, files) {
      const folder = dirname(tokens.pathOf(place));
      return files.map((token) => nameFrom(folder, tokens.pathOf(token)));
    },

    saveText: (path, text) => inTurn(path, () => write(path, text)),
    saveBytes: (path, bytes) => inTurn(path, () => write(path, bytes)),

    async sweep() {
      for (const folder of (await written?.read()) ?? []) await read(() => sweepLeftovers(folder)).catch(() => {});
    },
  };

  function placeOf(path: string): PlaceTold {
    return { id: tokens.tokenOf(path), name: basename(path) };
  }
}

/** What tells a file that was written since from one that was not. */
function stateOf({ size, mtimeNs }: { readonly size: bigint; readonly mtimeNs: bigint }): string {
  return `${size} ${mtimeNs}`;
}

/** Looked at after the reading: parts of two states of a file must never be taken for one. */
async function partOf(
  path: string,
  state: string | null,
  from: number,
  length: number,
): Promise<Uint8Array<ArrayBuffer>> {
  const file = await open(path, 'r');
  try {
    const part = new Uint8Array(length);
    let filled = 0;
    for (let got = 1; got > 0 && filled < length; filled += got)
      got = (await file.read(part, filled, length - filled, from + filled)).bytesRead;
    if (state !== null && stateOf(await file.stat({ bigint: true })) !== state)
      throw new Error('it has been changed since it was opened; open it again');
    return part.subarray(0, filled);
  } finally {
    await file.close();
  }
}

function notWritten(path: string, cause: unknown): Error {
  const { reason, advice } = diskWords(cause);
  return new Error(`${basename(path)} cannot be written: ${reason}; ${advice}.`, { cause });
}

async function reviewBytes(path: string): Promise<Uint8Array> {
  if ((await stat(path)).size > largestReviewBytes) throw new Error(`${basename(path)} is too large to be a review.`);
  return readFile(path);
}

function notRead(path: string, cause: unknown): Error {
  return new Error(`${basename(path)} can no longer be read: ${reasonOf(cause)}.`, { cause });
}

/** What stands in a review's place; `null` for nothing. What cannot be read cannot be compared, and is not written over. */
async function standingAt(path: string): Promise<Uint8Array | null> {
  try {
    return await readFile(path);
  } catch (cause) {
    if (codeOf(cause) === 'ENOENT') return null;
    const sentence = 'what stands there cannot be read, so it is not written over; save under another name';
    throw new Error(`${basename(path)} cannot be written: ${sentence}.`, { cause });
  }
}

/**
 * The path of a capture or manifest named in a review. Such a name leads from the review's folder, may lead out of it, and must end as captures do:
 * a review from a stranger may name a file, but can open nothing else.
 */
export function pathBeside(review: string, name: string): string | null {
  if (isAbsolute(name) || /^[a-z]:|[\\\0]/i.test(name) || !isCapture(name)) return null;
  return join(dirname(review), name);
}

/** The name of a file as seen from a folder, with forward slashes; `null` where no relative path leads there (another drive). */
export function nameFrom(folder: string, path: string): string | null {
  const name = relative(folder, path);
  return name === '' || isAbsolute(name) ? null : name.split(sep).join('/');
}

/** A path, and what it leads to by links. Where capitals do not tell files apart, `A.csv` is `a.csv`; where they do, one name too many is refused. */
async function keysOf(path: string): Promise<readonly string[]> {
  const real = await realpath(path).catch(() => path);
  return [resolve(path).toLowerCase(), real.toLowerCase()];
}

function isCapture(path: string): boolean {
  return captureEndings.some((ending) => extname(path).toLowerCase() === `.${ending}`);
}

/** Files below a folder, in the order of their names; hidden ones, and links to folders, are left out. */
async function collect(folder: string, below: string, depth: number, found: [string, string][]): Promise<void> {
  if (depth > deepest) return;
  const entries = await readdir(folder, { withFileTypes: true }).catch((error: unknown) => {
    if (depth > 0) return [];
    throw new Error(`The folder ${basename(folder)} cannot be read (${reasonOf(error)}).`);
  });
  for (const entry of entries.toSorted((a, b) => (a.name < b.name ? -1 : 1))) {
    if (entry.name.startsWith('.') || found.length >= mostBelowFolder) continue;
    const [path, name] = [join(folder, entry.name), below + entry.name];
    if (entry.isDirectory()) await collect(path, `${name}/`, depth + 1, found);
    else if (folderEndings.includes(extname(name).slice(1).toLowerCase())) found.push([path, name]);
  }
}

function textOf(bytes: Uint8Array): string {
  return new TextDecoder('utf-8').decode(bytes);
}

function versionOf(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** Never the system's own words, which name paths. */
function reasonOf(error: unknown): string {
  const code = codeOf(error);
  if (code === null) return error instanceof Error ? error.message : String(error);
  return code === 'ENOENT' ? 'it is no longer there' : diskWords(error).reason;
}
