import { readFile } from 'node:fs/promises';
import { join } from 'node:path';

/** A demonstration capture by its path below the folder; the bridge's table has checked that the path stays inside. */
export async function openSample(
  folder: string,
  name: string,
): Promise<{ name: string; bytes: Uint8Array<ArrayBuffer> }> {
  return { name, bytes: new Uint8Array(await readFile(join(folder, name))) };
}
