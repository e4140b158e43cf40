import { createHash, randomBytes } from 'node:crypto';
import { lstat, readdir, rm } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';

/**
 * A file that is being written stands beside its place under a name that says by which process of which machine:
 *
 *     .ascan-0f3a99c1-48211-9be04d72.part
 *            machine  process  at random
 *
 * Short whatever the file is called, so that a name as long as the disk takes it can be written; hidden; and never the name of a capture.
 */
const partName = /^\.ascan-([0-9a-f]{8})-([1-9]\d*)-([0-9a-f]{8})\.part$/;

const thisMachine = createHash('sha256').update(hostname()).digest('hex').slice(0, 8);
/** Those that this process is writing now: another process of its number may have ended before it. */
const beingWritten = new Set<string>();

/** A name for what is being written, and the way to say that it has ended. */
export function newPart(): { readonly name: string; ended(): void } {
  const name = `.ascan-${thisMachine}-${process.pid}-${randomBytes(4).toString('hex')}.part`;
  beingWritten.add(name);
  return { name, ended: () => void beingWritten.delete(name) };
}

/** Whether a process of this machine that has ended left a file of this name. What another machine writes on a shared drive is never taken for it. */
export function isLeftover(name: string): boolean {
  const [, machine, process_] = partName.exec(name) ?? [];
  if (machine !== thisMachine || process_ === undefined) return false;
  const id = Number(process_);
  return id === process.pid ? !beingWritten.has(name) : !isRunning(id);
}

/**
 * Removes from a folder what writes left behind that a sudden end cut off. Only files by that very name and nothing else: no folder, no link. Never fails:
 * what cannot be removed is left for another time.
 */
export async function sweepLeftovers(folder: string): Promise<void> {
  const names = await readdir(folder).catch(() => []);
  for (const name of names) {
    if (!isLeftover(name)) continue;
    const path = join(folder, name);
    const isFile = await lstat(path).then(
      (found) => found.isFile(),
      () => false,
    );
    if (isFile) await rm(path, { force: true }).catch(() => {});
  }
}

const swept = new Set<string>();

/** Once for each folder is enough: what ends suddenly later is another process, and the next one sweeps after it. */
export async function sweepOnce(folder: string): Promise<void> {
  if (swept.has(folder)) return;
  swept.add(folder);
  await sweepLeftovers(folder);
}

function isRunning(id: number): boolean {
  try {
    process.kill(id, 0);
    return true;
  } catch (error) {
    // It runs, and is another person's.
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}
