// `npm run fuzz -- --minutes N [--seed S] [--only SUBJECT]`: tries inputs on every parser for so long, each in a process of its own that is watched:
// one that stands still for three minutes, or needs more memory than it may have, is ended, and the input it was at is a finding like any other.
//   build/fuzz/found/            inputs that the product did not stand, with what was wrong beside each
//   build/fuzz/kept/SUBJECT/     the corpus: inputs that each came to a kind of outcome of their own, with which changes begin, in the next run too
import { fork, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { mostMemoryBytes, tooMuch } from './bounds.mjs';
import { buildFuzz } from './build.mjs';

const names = ['importer', 'manifest', 'review', 'recipe', 'stated-probes', 'package', 'arguments'];
const standsStillAfterMs = 180_000;
const mostMegabytes = 512;

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '1' },
    seed: { type: 'string', default: '1' },
    only: { type: 'string' },
  },
});
const minutes = Number(values.minutes);
const seed = Number(values.seed);
if (!(minutes > 0) || !Number.isInteger(seed) || (values.only !== undefined && !names.includes(values.only))) {
  console.error(`Give --minutes above 0, --seed as a whole number, and --only one of ${names.join(', ')}.`);
  process.exit(2);
}

const root = fileURLToPath(new URL('../..', import.meta.url));
const work = `${root}build/fuzz/`;
const found = `${work}found/`;
mkdirSync(found, { recursive: true });
const program = await buildFuzz('work');
const chosen = values.only === undefined ? names : [values.only];
const totals = [];
const isWithinBounds = values.only !== undefined || (await tryBounds());
for (const name of chosen) totals.push(await tryOne(name, (minutes * 60) / chosen.length));

console.log('');
for (const { name, tried, outcomes, findings } of totals) {
  const words = findings === 0 ? 'nothing found' : `${findings} found, see build/fuzz/found`;
  console.log(
    `${name.padEnd(14)} ${String(tried).padStart(9)} inputs, ${String(outcomes).padStart(4)} kinds of outcome, ${words}`,
  );
}
process.exitCode = !isWithinBounds || totals.some(({ findings }) => findings > 0) ? 1 : 0;

/** The table of inputs that are made to be too much, 200,000 bytes or more each: none may stand still, nor take more memory than its bound. */
async function tryBounds() {
  const child = spawn(process.execPath, ['--expose-gc', await tooMuch(), '200000'], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let text = '';
  let aliveAt = Date.now();
  child.stdout.on('data', (part) => {
    text += part;
    aliveAt = Date.now();
  });
  const watch = setInterval(() => Date.now() - aliveAt > standsStillAfterMs && child.kill('SIGKILL'), 1000);
  const status = await new Promise((resolve) => child.on('exit', (code, signal) => resolve(code ?? signal)));
  clearInterval(watch);
  const last = text.trim().split('\n').at(-1) ?? '';
  if (status !== 0) {
    console.log(`too much: ended with ${status} at ‘${last.slice(0, 100)}’`);
    return false;
  }
  const { inputs, largestBytes, baseBytes, peakBytes } = JSON.parse(last);
  const taken = peakBytes - baseBytes;
  console.log(
    `too much       ${String(inputs).padStart(9)} inputs of up to ${(largestBytes / 1e6).toFixed(1)} MB in one process: ${(taken / 1e6).toFixed(0)} MB at the most (allowed: ${(mostMemoryBytes(largestBytes) / 1e6).toFixed(0)} MB)`,
  );
  return taken <= mostMemoryBytes(largestBytes);
}

async function tryOne(name, seconds) {
  const corpus = `${work}kept/${name}/`;
  mkdirSync(corpus, { recursive: true });
  const total = { name, tried: 0, outcomes: 0, findings: 0 };
  const kinds = new Set();
  const end = Date.now() + seconds * 1000;
  for (let again = 0; Date.now() < end; again++) {
    const before = total.tried;
    await new Promise((resolve) => {
      const child = fork(program, [name, String(seed + again), String((end - Date.now()) / 1000), corpus, work], {
        execArgv: [`--max-old-space-size=${mostMegabytes}`],
        stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
      });
      let aliveAt = Date.now();
      let why = null;
      const watch = setInterval(() => {
        if (Date.now() - aliveAt < standsStillAfterMs) return;
        why = `stood still for ${standsStillAfterMs / 1000} s`;
        child.kill('SIGKILL');
      }, 1000);
      let isDone = false;
      child.on('message', (message) => {
        aliveAt = Date.now();
        if (message.kind === 'so far') {
          total.tried = before + message.tried;
          total.outcomes = Math.max(total.outcomes, message.outcomes);
          if (process.stdout.isTTY)
            process.stdout.write(
              `\r\u001b[K${name}: ${total.tried} inputs, ${message.outcomes} kinds, ${total.findings} found`,
            );
        } else if (message.kind === 'found') {
          note(name, message.faults, Buffer.from(message.bytes, 'base64'), total, kinds);
        } else if (message.kind === 'done') {
          isDone = true;
          for (const text of message.kept) keep(corpus, Buffer.from(text, 'base64'));
        }
      });
      child.on('exit', (code, signal) => {
        clearInterval(watch);
        if (!isDone) {
          const current = ['csv', 'json', 'zip']
            .map((ending) => `${work}${name}.current.${ending}`)
            .find((path) => existsSync(path));
          if (current !== undefined)
            note(
              name,
              [why ?? `the process ended (${code ?? signal}), as it does where memory is used up`],
              readFileSync(current),
              total,
              kinds,
            );
        }
        resolve();
      });
    });
  }
  if (process.stdout.isTTY) process.stdout.write('\r\u001b[K');
  return total;
}

/** Each kind of fault is written down once: its sentence without the numbers and names in it. */
function note(name, faults, bytes, total, kinds) {
  const kind = faults[0]
    .replace(/\d+(\.\d+)?(e[+-]?\d+)?/g, '0')
    .replace(/[‘"].*?[’"]/g, '…')
    .slice(0, 300);
  if (kinds.has(kind)) return;
  kinds.add(kind);
  total.findings++;
  const path = `${found}${name}-${hashOf(bytes)}`;
  writeFileSync(path, bytes);
  writeFileSync(`${path}.txt`, `${faults.join('\n')}\n`);
  console.log(`${name}: ${faults[0]}\n    ${path}`);
}

function keep(folder, bytes) {
  const path = `${folder}${hashOf(bytes)}`;
  if (!existsSync(path)) writeFileSync(path, bytes);
}

function hashOf(bytes) {
  return createHash('sha256').update(bytes).digest('hex').slice(0, 16);
}
