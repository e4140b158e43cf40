// The process that tries inputs; the one that watches it is run.mjs. Everything it has to say goes up as a message.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Session } from './session.ts';
import { subjects } from './subjects.ts';

const [name, seed, seconds, corpusFolder, workFolder] = process.argv.slice(2);
const subject = subjects.find((candidate) => candidate.name === name);
if (subject === undefined || process.send === undefined) throw new Error('this is started by run.mjs');

const read = (folder: string): Uint8Array[] => {
  mkdirSync(folder, { recursive: true });
  return readdirSync(folder).map((file) => new Uint8Array(readFileSync(join(folder, file))));
};

const session = new Session(subject, Number(seed), read(corpusFolder));
const current = join(workFolder, `${name}.current.${subject.ending}`);
const end = Date.now() + Number(seconds) * 1000;
let toldAt = Date.now();

for (const bytes of [...session.kept]) {
  writeFileSync(current, bytes);
  tell(await session.try({ bytes, truth: null }));
  reportAtTimes();
}
while (Date.now() < end) {
  tell(await session.next((bytes) => writeFileSync(current, bytes)));
  reportAtTimes();
}
report();
process.send({ kind: 'done', kept: session.kept.map((bytes) => Buffer.from(bytes).toString('base64')) }, () =>
  process.disconnect(),
);

function tell(found: Awaited<ReturnType<Session['next']>>): void {
  if (found !== null)
    process.send?.({ kind: 'found', faults: found.faults, bytes: Buffer.from(found.bytes).toString('base64') });
}

function reportAtTimes(): void {
  if (Date.now() - toldAt < 1000) return;
  toldAt = Date.now();
  report();
}

function report(): void {
  process.send?.({ kind: 'so far', tried: session.tried, outcomes: session.outcomes.size, kept: session.kept.length });
}
