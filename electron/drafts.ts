import { readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import * as v from 'valibot';
import { diskWords } from './disk/disk-words.ts';
import { writeWhole } from './disk/write-whole.ts';

const draftFileSchema = v.strictObject({
  at: v.pipe(v.string(), v.isoTimestamp()),
  name: v.nullable(v.string()),
  path: v.nullable(v.string()),
  version: v.nullable(v.string()),
  text: v.string(),
  sources: v.array(v.strictObject({ file: v.string(), sha256: v.string(), path: v.string() })),
});

/** A review between saves, as it is kept: with paths, since it stays in the person's profile. */
export type DraftFile = v.InferOutput<typeof draftFileSchema>;

const fileName = /^([0-9a-f-]{36})\.json$/;

/** Drafts, each in a file of its own named by the window that keeps it: two windows never write the same one. */
export function drafts(folder: string) {
  const pathOf = (id: string): string => join(folder, `${id}.json`);
  const queues = new Map<string, Promise<unknown>>();

  /** One after the other for each draft, so that a draft that was dropped is not brought back by one still being written. */
  function inTurn<T>(id: string, work: () => Promise<T>): Promise<T> {
    const next = (queues.get(id) ?? Promise.resolve()).then(work);
    queues.set(
      id,
      next.catch(() => undefined),
    );
    return next;
  }

  return {
    keep: (id: string, draft: DraftFile): Promise<void> =>
      inTurn(id, async () => {
        const text = JSON.stringify(v.parse(draftFileSchema, draft));
        await writeWhole(pathOf(id), text).catch((cause: unknown) => {
          throw new Error(notKept(cause), { cause });
        });
      }),

    drop: (id: string): Promise<void> => inTurn(id, () => rm(pathOf(id), { force: true })),

    /** `null` for one that is not there or was damaged. */
    async read(id: string): Promise<DraftFile | null> {
      const text = await readFile(pathOf(id), 'utf8').catch(() => null);
      if (text === null) return null;
      try {
        const parsed = v.safeParse(draftFileSchema, JSON.parse(text));
        return parsed.success ? parsed.output : null;
      } catch {
        return null;
      }
    },

    async ids(): Promise<readonly string[]> {
      const names = await readdir(folder).catch(() => []);
      return names.flatMap((name) => fileName.exec(name)?.[1] ?? []);
    },
  };
}

function notKept(cause: unknown): string {
  const { reason } = diskWords(cause);
  return `What is not saved yet could not be kept safe (${reason}). Save the review now, so that nothing is lost.`;
}

export type Drafts = ReturnType<typeof drafts>;
