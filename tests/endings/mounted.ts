import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A disk of its own in memory, of so many bytes; `null` where this person may mount none. */
export function smallDisk(size: string): { readonly path: string; makeReadOnly(): void; remove(): void } | null {
  const path = mkdtempSync(join(tmpdir(), 'small-disk-'));
  if (spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${size}`, 'tmpfs', path]).status !== 0) {
    rmdirSync(path);
    return null;
  }
  return {
    path,
    makeReadOnly: () => void spawnSync('mount', ['-o', 'remount,ro', path]),
    remove() {
      spawnSync('umount', [path]);
      rmdirSync(path);
    },
  };
}

export const mayMount = (() => {
  const disk = smallDisk('4k');
  disk?.remove();
  return disk !== null;
})();
