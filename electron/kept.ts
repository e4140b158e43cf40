import { readFile } from 'node:fs/promises';
import * as v from 'valibot';
import { writeWhole } from './disk/write-whole.ts';

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
      const next = last.then(() => writeWhole(path, `${JSON.stringify(v.parse(schema, value), null, 2)}\n`));
      last = next.catch(() => undefined);
      return next;
    },
  };
}

function fromJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
