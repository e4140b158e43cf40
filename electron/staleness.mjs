// Is what was built older than what it was built from? Looked at on every start, so it only lists folders and reads dates.
import { readdirSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const projectRoot = fileURLToPath(new URL('..', import.meta.url));

/** What each part is built from: folders (searched through) and files, from the repository's root. */
const sources = {
  cli: ['core', 'electron/cli', 'electron/disk', 'electron/build.mjs', 'package-lock.json'],
  desktop: ['core', 'electron', 'renderer', 'package-lock.json'],
  gallery: ['core', 'electron/build.mjs', 'renderer', 'package-lock.json'],
};

/** The file whose date says when the part was built. */
export function stampOf(part, root = projectRoot) {
  return `${root}build/${part}.stamp`;
}

/**
 * True where the part has never been built, or a source or a folder of sources (something was added or deleted) is younger than its stamp.
 */
export function isStale(part, root = projectRoot) {
  const builtAt = statSync(stampOf(part, root), { throwIfNoEntry: false })?.mtimeMs;
  return builtAt === undefined || sources[part].some((path) => changedSince(root + path, builtAt));
}

function changedSince(path, instant) {
  const found = statSync(path, { throwIfNoEntry: false });
  if (found === undefined) return false;
  if (found.mtimeMs > instant) return true;
  return found.isDirectory() && readdirSync(path).some((name) => changedSince(`${path}/${name}`, instant));
}
