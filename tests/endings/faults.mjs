// Loaded before a program (`node --import`): counts the calls by which it touches the files of one folder, and at the n-th of them lets it die, or lets the
// call fail as a disk would. `FAULTS` says which:
//
//     within   the folder; calls on other files are left alone and not counted
//     at       the number of the call, from 1; none where it is left out
//     act      "die-before", "die-after", "die-within" (half of what is to be written is), or the code of an error
//     only     counts calls of this name alone
//     times    so many calls fail, from that one on (1)
//     told     a file that the list of calls is written to when the program ends by itself
//
// A program may change them while it runs: `globalThis.faults`.
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { basename, resolve } from 'node:path';

const faults = { calls: 0, list: [], ...JSON.parse(process.env.FAULTS ?? '{}') };
globalThis.faults = faults;
const opened = new Map();
const plain = { writeSync: fs.writeSync, writeFileSync: fs.writeFileSync };

const isWithin = (path) => typeof path === 'string' && `${resolve(path)}/`.startsWith(`${faults.within}/`);
const die = () => process.kill(process.pid, 'SIGKILL');

/** What becomes of a call: nothing out of the way, or a death before, within or after it. Throws where it is to fail. */
function fateOf(name, path) {
  if (!isWithin(path) || (faults.only !== undefined && faults.only !== name)) return null;
  faults.calls++;
  faults.list.push(`${name} ${basename(path)}`);
  const { at, times = 1, act } = faults;
  if (at === undefined || faults.calls < at || faults.calls >= at + times) return null;
  if (act === 'die-before') die();
  if (!act.startsWith('die-')) throw Object.assign(new Error(`${act}: as a disk says it, '${path}'`), { code: act });
  return act;
}

function dieAfter(fate) {
  if (fate === 'die-after') die();
}

/** Calls that are given a path; of two, the second is the one that matters. */
const byPath = ['open', 'mkdir', 'rename', 'link', 'rm', 'rmdir', 'lstat', 'stat', 'realpath', 'readFile', 'readdir'];
for (const name of byPath) {
  const call = fs.promises[name];
  fs.promises[name] = async (...given) => {
    const path = name === 'rename' || name === 'link' ? given[1] : given[0];
    const fate = fateOf(name, path);
    try {
      const answer = await call.apply(fs.promises, given);
      if (name === 'open') watch(answer, path);
      return answer;
    } finally {
      dieAfter(fate);
    }
  };
}

function watch(file, path) {
  opened.set(file.fd, path);
  const { close } = file;
  file.close = async () => {
    const fate = fateOf('close', path);
    opened.delete(file.fd);
    await close();
    dieAfter(fate);
  };
}

// Calls on a file that is open. Their class has no other way to it.
const own = await fs.promises.open(process.execPath, 'r');
const handle = Object.getPrototypeOf(own);
await own.close();
for (const name of ['write', 'sync', 'chmod']) {
  const call = handle[name];
  handle[name] = async function (...given) {
    const path = opened.get(this.fd);
    const fate = fateOf(name, path);
    if (fate === 'die-within' && name === 'write') {
      const [bytes, from = 0, length = bytes.length] = given;
      plain.writeSync(this.fd, bytes, from, Math.ceil(length / 2));
      die();
    }
    const answer = await call.apply(this, given);
    dieAfter(fate);
    return answer;
  };
}

fs.writeSync = (...given) => {
  const [file, bytes, from = 0, length = bytes.length - from] = given;
  if (!opened.has(file)) return plain.writeSync(...given);
  const fate = fateOf('write', opened.get(file));
  if (fate === 'die-within') {
    plain.writeSync(file, bytes, from, Math.ceil(length / 2));
    die();
  }
  const answer = plain.writeSync(...given);
  dieAfter(fate);
  return answer;
};
syncBuiltinESMExports();

process.on('exit', () => {
  if (faults.told !== undefined) plain.writeFileSync(faults.told, JSON.stringify(faults.list));
});
