import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import type { Engine } from '../engine/engine.ts';
import type { FileToImport, ImportedSource, Progress } from '../engine/messages.ts';
import { Cancelled } from '../engine/pauses.ts';
import type { HostFile } from '../host/host.ts';

/** A file to be read, and the name under which it is to be known. */
export interface FileWanted {
  readonly file: string;
  readonly from: HostFile;
  readonly recipe: ImportRecipe;
}

/** Enough files to keep the worker at work between two messages, few enough that the window hardly notices their answers. */
const filesInBatch = 24;
const bytesInBatch = 16e6;

/**
 * Has files read and imported by the worker in batches. The next batch's files are opened while the last one is imported; the window takes in no bytes itself.
 * Where it is cancelled, what was read until then is the answer.
 */
export async function importInBatches(
  engine: Engine,
  files: readonly FileWanted[],
  signal: AbortSignal,
  onProgress: (progress: Progress) => void,
): Promise<readonly ImportedSource[]> {
  const read: ImportedSource[] = [];
  const stopped = new Promise<null>((resolve) => signal.addEventListener('abort', () => resolve(null), { once: true }));
  let done = 0;
  let next = openedFrom(files, 0);
  while (next !== null && !signal.aborted) {
    // A drive that stalls is not waited for any longer than the person waits.
    const batch = await Promise.race([next, stopped]);
    if (batch === null) break;
    const { ready, unreadable, end } = batch;
    next = openedFrom(files, end);
    // What rejects while nobody waits for it yet is heard when it is waited for.
    next?.catch(() => {});
    read.push(...unreadable);
    const before = done;
    try {
      const answers = engine.ask(
        'import',
        { files: ready },
        { signal, onProgress: (progress) => onProgress({ done: before + progress.done, total: files.length }) },
      );
      // The worker has its work by now: what the window draws meanwhile holds nothing up.
      if (before === 0) onProgress({ done: 0, total: files.length });
      read.push(...(await answers));
    } catch (error) {
      if (!(error instanceof Cancelled)) throw error;
    }
    done = end;
    onProgress({ done, total: files.length });
  }
  return read;
}

/** The batch that begins here, with its files opened; `null` after the last. Sizes are looked up batch by batch. */
function openedFrom(files: readonly FileWanted[], start: number): Promise<Opened> | null {
  if (start >= files.length) return null;
  let end = start + 1;
  let bytes = files[start].from.bytes;
  while (end < files.length && end - start < filesInBatch) {
    bytes += files[end].from.bytes;
    if (bytes > bytesInBatch) break;
    end++;
  }
  return opened(files.slice(start, end), end);
}

interface Opened {
  readonly ready: readonly FileToImport[];
  readonly unreadable: readonly ImportedSource[];
  /** Where the next batch begins. */
  readonly end: number;
}

async function opened(files: readonly FileWanted[], end: number): Promise<Opened> {
  const ready: FileToImport[] = [];
  const unreadable: ImportedSource[] = [];
  await Promise.all(
    files.map(async ({ file, from, recipe }, i) => {
      try {
        ready[i] = { file, content: await from.read(), recipe };
      } catch (error) {
        unreadable.push(cannotBeRead(file, error));
      }
    }),
  );
  return { ready: ready.filter((entry) => entry !== undefined), unreadable, end };
}

function cannotBeRead(file: string, error: unknown): ImportedSource {
  const sentence = error instanceof Error ? error.message : String(error);
  return {
    file,
    sha256: null,
    kind: 'captures',
    state: 'broken',
    understood: null,
    asks: [],
    warnings: [],
    problems: [{ code: 'unreadable', place: { file, line: null, column: null }, sentence }],
  };
}

/** Finds files beside a review, a few at a time; those that are not there are left out. */
export async function findBeside(
  files: readonly { readonly file: string; readonly recipe: ImportRecipe }[],
  fileBeside: (file: string) => Promise<HostFile | null>,
): Promise<readonly FileWanted[]> {
  const found: FileWanted[] = [];
  const width = 16;
  for (let i = 0; i < files.length; i += width) {
    const some = files.slice(i, i + width);
    const there = await Promise.all(some.map(({ file }) => fileBeside(file).catch(() => null)));
    there.forEach((from, j) => {
      if (from !== null) found.push({ ...some[j], from });
    });
  }
  return found;
}
