// npm run endure -- large [--only NAME]… : jobs of 1,000 to 100,000 captures, wide files and one long trace, each a process of its own.
//
// Input is made once, seeded, into build/large (about 2.5 GB; remove that folder to make it anew). Memory is the kernel's figure of the whole process at its peak,
// time the processor's, so that other work on the machine counts little. Bounds are ratios; exit status 1 where one is passed, 2 where a job fails.
import { execFileSync, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { cpSync, createReadStream, existsSync, readFileSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { buildOrExit } from '../../electron/build.mjs';
import { makeCalibration, setAt } from '../large/generate.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = `${root}build/large`;
/** A build of its own: it stays as it is however long this takes, and a job goes on with the build it was begun by alone. */
const program = `${folder}/program/main.js`;
const calibration = `${folder}/calibration.json`;
/** Of this run alone. */
const output = `${folder}/${process.pid}.out`;
const job = `${folder}/${process.pid}.job`;

const gate = ['--calibration', calibration, '--gate', 'wall=5mm..15mm@10'];
const reflectors = [
  '--calibration',
  calibration,
  '--reflector',
  '10.064mm@3us..3.8us',
  '--reflector',
  '20.128mm@6us..7.2us',
];
const commands = {
  describe: (input) => ['describe', input, '--lines'],
  echoes: (input) => ['echoes', input, '--lines'],
  'read apart': (input) => ['read', input, ...gate, '--separate', '--lines'],
  'read in series': (input) => ['read', input, ...gate, '--json'],
  drift: (input) => ['drift', input, ...reflectors, '--json'],
};

/** A command over a small set and a large one: how much larger, and at most how many times the memory and the time for each capture. */
const rows = [
  ...['describe', 'echoes', 'read apart'].map((command) => row(command, '10000-files', '100000-files', 10, 2, 1.5)),
  // All readings, or checks, are kept until the last is there: memory may grow as they do.
  row('read in series', '10000-files', '100000-files', 10, 10, 1.5),
  row('drift', '10000-checks', '100000-checks', 10, 10, 1.5),
  row('echoes', '1000-files', '100000-files', 100, 2.5, 1.1),
  row('echoes', '2-wide', '20-wide', 10, 1.6, 1.5),
  row('describe', '2-wide', '20-wide', 10, 1.6, 1.5),
  // Columns of one file are read together: its memory may grow as the file does.
  row('echoes', 'half-wide.csv', 'wide.csv', 2, 2, 1.3),
  row('read apart', 'half-wide.csv', 'wide.csv', 2, 2, 1.3),
  row('describe', 'tenth-long.csv', 'long.csv', 10, 10, 1.3),
  row('read apart', 'tenth-long.csv', 'long.csv', 10, 10, 1.3),
];

function row(command, small, large, times, memory, time) {
  return { name: `${command}: ${large} against ${small}`, command, small, large, times, memory, time };
}

function take(command, set) {
  const words = commands[command](setAt(folder, set));
  const measured = execFileSync(
    'python3',
    [`${root}tests/bench/measure.py`, output, process.execPath, program, ...words],
    {
      cwd: root,
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'inherit'],
    },
  );
  const { cpu_s: seconds, peak_mb: megabytes, status } = JSON.parse(measured);
  if (status !== 0 && status !== 1) throw new Error(`${words.join(' ')} ended with ${status}`);
  return { seconds, megabytes };
}

/** Kills a job of 10,000 captures again and again until it is done, and holds what it says at last to an unbroken run. */
async function resumeAfterKills() {
  const words = commands.echoes(setAt(folder, '10000-files'));
  take('echoes', '10000-files');
  const unbroken = await hashOf(output);
  rmSync(job, { force: true });
  const moments = [400, 2000, 4500, 8000, Number.POSITIVE_INFINITY];
  let last = null;
  for (const moment of moments) {
    const hash = createHash('sha256');
    let lines = 0;
    const child = spawn(process.execPath, [program, ...words, '--resume', job], {
      cwd: root,
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    child.stdout.on('data', (part) => {
      hash.update(part);
      for (const byte of part) if (byte === 10) lines++;
      if (lines >= moment) child.kill('SIGKILL');
    });
    await once(child, 'close');
    last = hash.digest('hex');
  }
  return last === unbroken;
}

async function hashOf(path) {
  const hash = createHash('sha256');
  for await (const part of createReadStream(path)) hash.update(part);
  return hash.digest('hex');
}

const { values } = parseArgs({ options: { only: { type: 'string', multiple: true } } });
const isChosen = (name) => values.only === undefined || values.only.some((part) => name.includes(part));
await buildOrExit(['cli']);
rmSync(`${folder}/program`, { recursive: true, force: true });
cpSync(`${root}build/cli`, `${folder}/program`, { recursive: true });
makeCalibration(calibration);
const known = new Map();
const taken = (command, set) => {
  const key = `${command} ${set}`;
  if (!known.has(key)) known.set(key, take(command, set));
  return known.get(key);
};

let good = true;
for (const { name, command, small, large, times, memory, time } of rows.filter((one) => isChosen(one.name))) {
  const [less, more] = [taken(command, small), taken(command, large)];
  const ofMemory = more.megabytes / less.megabytes;
  const ofTime = more.seconds / less.seconds / times;
  const isMet = ofMemory <= memory && ofTime <= time;
  good &&= isMet;
  console.log(
    `${isMet ? 'met   ' : 'MISSED'}  ${name}: peak ${more.megabytes.toFixed(0)} MB, ${ofMemory.toFixed(2)} times (at most ${memory}); processor time for each capture or sample ${ofTime.toFixed(2)} times (at most ${time})`,
  );
}
const killed = 'echoes, killed four times in 10000-files and gone on with';
if (isChosen(killed)) {
  const same = await resumeAfterKills();
  good &&= same;
  const kept = existsSync(job) ? readFileSync(job).length / 1e6 : 0;
  console.log(
    `${same ? 'met   ' : 'MISSED'}  ${killed}: ${same ? 'byte for byte' : 'not'} what an unbroken run says; job file ${kept.toFixed(0)} MB`,
  );
}
rmSync(output, { force: true });
rmSync(job, { force: true });
process.exitCode = good ? 0 : 1;
