// Can the desktop window be opened here? Never through `require('electron')`, which fetches the binary without being asked.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const packageFolder = fileURLToPath(new URL('../node_modules/electron/', import.meta.url));

/** The sentence that says why no window can be opened on this machine, or `null` where nothing stands in the way. */
export function whyNoWindow({ platform, env, userId }) {
  if (platform === 'linux' && !env.DISPLAY && !env.WAYLAND_DISPLAY) return 'There is no display here';
  if (platform === 'linux' && userId === 0) return 'The desktop window keeps its sandbox, which root cannot have';
  return null;
}

/** The path of Electron's binary where it has been fetched, else `null`. */
export function findBinary(env = process.env, folder = packageFolder) {
  const named = join(folder, 'path.txt');
  const executable = existsSync(named) ? readFileSync(named, 'utf8') : 'electron';
  const path = join(env.ELECTRON_OVERRIDE_DIST_PATH ?? join(folder, 'dist'), executable);
  return existsSync(path) ? path : null;
}

/** Fetches the binary that belongs to the installed package (its checksums come with the package); `null` where that fails. */
export function fetchBinary() {
  console.error('Fetching the binary of the desktop window, once …');
  spawnSync(process.execPath, [join(packageFolder, 'install.js')], { stdio: 'ignore' });
  return findBinary();
}
