// `npm run package`: an installer for this machine's system in build/installers, with the fuses of electron/installer.json set. Where Electron's
// binary cannot be had, one line says so. The packager is no dependency of the project: it is fetched when it is needed.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { buildOrExit } from './build.mjs';
import { fetchBinary, findBinary } from './desktop-binary.mjs';
import { stage } from './stage.mjs';

const packager = 'electron-builder@26.17.0';
const root = fileURLToPath(new URL('..', import.meta.url));

await buildOrExit(['desktop']);
stage(root, `${root}build/app/`);
if ((findBinary() ?? fetchBinary()) === null) {
  console.error(
    'No installer can be made here: the binary of the desktop window (Electron) is not here and could not be fetched; run this where its release server can be reached.',
  );
  process.exit(1);
}
const { version } = JSON.parse(readFileSync(`${root}node_modules/electron/package.json`, 'utf8'));
const { status } = spawnSync(
  'npx',
  ['--yes', packager, '--config', 'electron/installer.json', `-c.electronVersion=${version}`, '--publish', 'never'],
  { cwd: root, stdio: 'inherit', shell: process.platform === 'win32' },
);
process.exit(status ?? 1);
