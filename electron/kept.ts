import { mkdir, open, readFile, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import * as v from 'valibot';

/** A small JSON document of the program's own (settings, recent reviews, the window's place), kept in the person's profile. */
export interface Kept<T> {
  read(): Promise<T>;
  write(value: T): Promise<void>;
}

/** What is damaged, of another shape or not there yet reads as `initially`: nothing of the person's work stands in such a file. */
export function kept<T>(path: string, schema: v.GenericSchema<unknown, T>, initially: T): Kept<T> {
  let last: Promise<unknown> = Promise.resolve();
  return {
    async read() {
      const text = await readFile(path, 'utf8').catch(() => '');
      const parsed = v.safeParse(schema, fromJson(text));
      return parsed.success ? parsed.output : initially;
    },
    write(value) {
      const next = last.then(() => writeBeside(path, `${JSON.stringify(v.parse(schema, value), null, 2)}\n`));
      last = next.catch(() => undefined);
      return next;
    },
  };
}

/**
 * Writes a file so that a crash leaves either the old one or the new one whole: beside it, through to the disk, then renamed over it.
 */
export async function writeBeside(path: string, content: string | Uint8Array): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const beside = `${path}.${process.pid}-${++written}.part`;
  try {
    const file = await open(beside, 'wx');
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(beside, path);
  } catch (error) {
    await rm(beside, { force: true });
    throw error;
  }
}

let written = 0;

function fromJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
