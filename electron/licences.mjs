// The licences of what the program is built from, as they must go with it: read from the packages themselves.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));

/** Fetches Electron's binary when it is installed, and is no part of what is built; the binary brings its own licences. */
const builtUpon = 'electron';

/** The text: each package with its version, licence and the licence's own words. */
export function licences() {
  const seen = new Set();
  const { dependencies } = manifestOf(root);
  for (const name of Object.keys(dependencies)) if (name !== builtUpon) collect(name, root, seen);
  return [...seen]
    .sort()
    .map(entry)
    .join(`\n${'─'.repeat(80)}\n\n`);
}

/** A package and what it depends on, by the folders they are installed in. */
function collect(name, from, seen) {
  const folder = folderOf(name, from);
  if (folder === null || seen.has(folder)) return;
  seen.add(folder);
  for (const dependency of Object.keys(manifestOf(folder).dependencies ?? {})) collect(dependency, folder, seen);
}

/** As Node looks for it: in the package's own `node_modules`, then upwards. */
function folderOf(name, from) {
  for (let folder = from; folder.startsWith(root); folder = folder.replace(/[^/]+\/$/, '')) {
    const found = `${folder}node_modules/${name}/`;
    if (existsSync(`${found}package.json`)) return found;
    if (folder === root) break;
  }
  return null;
}

function entry(folder) {
  const { name, version, license } = manifestOf(folder);
  const file = readdirSync(folder).find((one) => /^(licen[cs]e|copying)/i.test(one));
  const words =
    file === undefined
      ? '\nThe package brings no text of its licence.\n'
      : `\n${readFileSync(folder + file, 'utf8').trim()}\n`;
  return `${name} ${version}: ${license}\n${words}`;
}

function manifestOf(folder) {
  return JSON.parse(readFileSync(`${folder}package.json`, 'utf8'));
}
