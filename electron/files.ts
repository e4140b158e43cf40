import { createHash } from 'node:crypto';
import { open, readdir, readFile, stat } from 'node:fs/promises';
import { basename, dirname, extname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import type { FoundReviewTold, Offered, PlaceTold, SavedTold } from './bridge.ts';
import { writeBeside } from './kept.ts';
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
}

export function files(tokens: Tokens): Files {
  /** What was offered to be read as a capture: a source, over which nothing is ever written. */
  const sources = new Set<string>();
  let saving: Promise<unknown> = Promise.resolve();

  async function offerOne(path: string, name = basename(path)): Promise<Offered | null> {
    const found = await stat(path).catch(() => null);
    if (found === null || !found.isFile()) return null;
    if (isCapture(path)) sources.add(sourceKey(path));
    return { token: tokens.tokenOf(path), name, bytes: found.size };
  }

  async function offerAll(named: readonly (readonly [path: string, name: string])[]): Promise<Offered[]> {
    const all: Offered[] = [];
    for (const [path, name] of named) {
      const one = await offerOne(path, name);
      if (one !== null) all.push(one);
    }
    return all;
  }

  function refuseSource(path: string): void {
    if (!sources.has(sourceKey(path))) return;
    throw new Error(
      `${basename(path)} is a capture of this review, and nothing is written over it; choose another name.`,
    );
  }

  return {
    offerOne,
    offer: (paths) => offerAll(paths.map((path) => [path, basename(path)])),
    async offerFolder(folder) {
      const found: [string, string][] = [];
      await collect(folder, '', 0, found);
      return offerAll(found);
    },

    async readPart(token, from, length) {
      const file = await open(tokens.pathOf(token), 'r').catch((error: unknown) => {
        throw new Error(`${basename(tokens.pathOf(token))} can no longer be read (${reasonOf(error)}).`);
      });
      try {
        const part = new Uint8Array(length);
        const { bytesRead } = await file.read(part, 0, length, from);
        return part.subarray(0, bytesRead);
      } finally {
        await file.close();
      }
    },

    async readReview(path) {
      const size = (await stat(path).catch(() => null))?.size ?? null;
      if (size === null) throw new Error(`${basename(path)} is no longer there.`);
      if (size > largestReviewBytes) throw new Error(`${basename(path)} is too large to be a review.`);
      const bytes = await readFile(path);
      return { place: placeOf(path), name: basename(path), text: textOf(bytes), version: versionOf(bytes) };
    },

    async beside(review, name) {
      const path = pathBeside(tokens.pathOf(review), name);
      return path === null ? null : offerOne(path, name);
    },

    place: placeOf,

    saveReview(place, text, version) {
      const save = saving.then(async (): Promise<SavedTold> => {
        const path = tokens.pathOf(place);
        refuseSource(path);
        const there = await readFile(path).catch(() => null);
        if (version !== null && there !== null && versionOf(there) !== version) {
          const at = (await stat(path).catch(() => null))?.mtime.toISOString() ?? null;
          return { kind: 'changed-since', place: placeOf(path), at };
        }
        const bytes = Buffer.from(text, 'utf8');
        await writeBeside(path, bytes);
        return { kind: 'saved', place: placeOf(path), name: basename(path), version: versionOf(bytes) };
      });
      saving = save.catch(() => undefined);
      return save;
    },

    namesFrom(place, files) {
      const folder = dirname(tokens.pathOf(place));
      return files.map((token) => nameFrom(folder, tokens.pathOf(token)));
    },

    async saveText(path, text) {
      refuseSource(path);
      await writeBeside(path, text);
    },
    async saveBytes(path, bytes) {
      refuseSource(path);
      await writeBeside(path, bytes);
    },
  };

  function placeOf(path: string): PlaceTold {
    return { id: tokens.tokenOf(path), name: basename(path) };
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

/** Where capitals do not tell files apart, `A.csv` is `a.csv`; where they do, one name too many is refused. */
function sourceKey(path: string): string {
  return resolve(path).toLowerCase();
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

function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
