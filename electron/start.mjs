// `npm start`: opens the desktop window; where that cannot be had, says why in one line and serves the same page on the loopback address.
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { fetchBinary, findBinary, whyNoWindow } from './desktop-binary.mjs';
import { isStale } from './staleness.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));

if (isStale('desktop')) {
  console.error('Building the workbench …');
  const { buildOrExit } = await import('./build.mjs');
  await buildOrExit(['desktop']);
}
const why = await openWindow();
if (why !== null) await serveInstead(why);

/** Runs the desktop window until it is closed; where it cannot be opened, the sentence that says why. */
async function openWindow() {
  const obstacle = whyNoWindow({ platform: process.platform, env: process.env, userId: process.getuid?.() });
  if (obstacle !== null) return obstacle;
  const binary = findBinary() ?? fetchBinary();
  if (binary === null) return 'The binary of the desktop window (Electron) is not here and could not be fetched';
  return await new Promise((resolve) => {
    const window = spawn(binary, [root], { stdio: 'inherit' });
    window.on('error', (error) => resolve(`The desktop window could not be started (${error.message})`));
    window.on('exit', (status, signal) =>
      resolve(
        status === 0 || signal === 'SIGINT' || signal === 'SIGTERM'
          ? null
          : `The desktop window stopped with status ${status ?? signal}`,
      ),
    );
  });
}

async function serveInstead(sentence) {
  const { serve } = await import(new URL('../build/serve.js', import.meta.url).href);
  const served = await serve({ page: `${root}build/renderer`, sample: `${root}sample-data` });
  console.log(`${sentence}, so the workbench is served to this machine's browser at ${served.address} until Ctrl+C.`);
}
