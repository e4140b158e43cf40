// Lays out what an installer takes: only what runs, with a package.json of its own, since everything that is needed is in the bundles.
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';

/** From the built project at `root` into `folder`, which is made anew. */
export function stage(root, folder) {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(`${folder}build`, { recursive: true });
  for (const name of readdirSync(`${root}build`)) {
    if (/^(main\.js|preload\.cjs|.*\.chunk\.js)$/.test(name)) cpSync(`${root}build/${name}`, `${folder}build/${name}`);
  }
  cpSync(`${root}build/renderer`, `${folder}build/renderer`, { recursive: true });
  cpSync(`${root}sample-data`, `${folder}sample-data`, {
    recursive: true,
    filter: (path) => !path.endsWith('.mjs') && !path.endsWith('/scenario'),
  });
  const { name, version, description, main, type } = JSON.parse(readFileSync(`${root}package.json`, 'utf8'));
  writeFileSync(
    `${folder}package.json`,
    `${JSON.stringify({ name, version, description, main, type, private: true }, null, 2)}\n`,
  );
}
