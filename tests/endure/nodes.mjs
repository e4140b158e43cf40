// The same bytes on Node 20, 22 and 24, each in four places and on one to four threads. The programs come from the npm
// registry as packages and are unpacked into build/nodes; none of their scripts is run.
// --renew: writes the list of SHA-256 anew, from the Node that runs this, and then holds the others to it.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { isStale } from '../../electron/staleness.mjs';
import { bundledBits } from '../determinism/bundled-bits.mjs';
import { commandLine, differing, expectedBits, hashesOf, list, listed, places } from '../determinism/outputs.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const versions = ['20', '22', '24'];

if (isStale('cli')) {
  const { buildOrExit } = await import('../../electron/build.mjs');
  await buildOrExit(['cli']);
}
const cli = commandLine();
if (process.argv.includes('--renew')) list(hashesOf(process.execPath, cli, { env: places[3] }));

const expected = listed();
const bits = `${await bundledBits()}console.log(JSON.stringify(bits));`;
let failures = 0;
for (const version of versions) {
  const node = fetched(version);
  if (node === null) {
    console.log(
      `Node ${version}: not to be had from the registry here (node-${process.platform}-${process.arch}); not tried.`,
    );
    continue;
  }
  const exact = spawnSync(node, ['--version'], { encoding: 'utf8' }).stdout.trim();
  const summed = spawnSync(node, ['-'], { encoding: 'utf8', input: bits }).stdout.trim();
  const isSame = summed === JSON.stringify(expectedBits);
  if (!isSame) failures += 1;
  console.log(`${exact}: the bits of functions and records ${isSame ? 'as listed' : `differ: ${summed}`}`);
  for (const env of places) report(`${exact}, ${env.TZ}, ${env.LC_ALL}`, hashesOf(node, cli, { env }));
  for (const jobs of [1, 2, 4])
    report(`${exact}, ${jobs} ${jobs === 1 ? 'thread' : 'threads'}`, hashesOf(node, cli, { jobs }));
}
process.exitCode = failures > 0 ? 1 : 0;

function report(where, hashes) {
  const wrong = differing(hashes, expected);
  failures += wrong.length;
  const count = Object.keys(hashes).length;
  console.log(
    `${where}: ${wrong.length === 0 ? `all ${count} outputs as listed` : `${wrong.length} of ${count} differ: ${wrong.join('; ')}`}`,
  );
}

/** The program of a version, fetched where it is not there; `null` where it cannot be had. */
function fetched(version) {
  if (process.version.startsWith(`v${version}.`)) return process.execPath;
  const folder = `${root}build/nodes/${version}`;
  const program = `${folder}/package/bin/node`;
  if (existsSync(program)) return program;
  mkdirSync(folder, { recursive: true });
  const name = `node-${process.platform}-${process.arch}@${version}`;
  const packed = spawnSync('npm', ['pack', name, '--silent', '--ignore-scripts'], { cwd: folder, encoding: 'utf8' });
  const archive = packed.stdout?.trim().split('\n').at(-1);
  if (packed.status !== 0 || !archive) return null;
  spawnSync('tar', ['xzf', archive], { cwd: folder });
  return existsSync(program) ? program : null;
}
