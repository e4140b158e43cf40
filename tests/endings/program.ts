// A program of its own, so that it can end suddenly: does with the host's own parts what the window does with them, in the folder it is given.
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import * as v from 'valibot';
import { sweepLeftovers } from '../../electron/disk/leftovers.ts';
import { writeWhole } from '../../electron/disk/write-whole.ts';
import { drafts } from '../../electron/drafts.ts';
import { files } from '../../electron/files.ts';
import { kept } from '../../electron/kept.ts';
import { tokens } from '../../electron/tokens.ts';
import { changed, draftId, draftOf, type Failed, type FailedWork, failures, targets, type Work } from './work.ts';

const [what, folder, profile] = process.argv.slice(2) as [
  Work | 'start' | 'draft-on-and-on' | 'failing',
  string,
  string,
];
const at = (name: string) => join(folder, name);
const written = kept(join(profile, 'written.json'), v.array(v.string()), []);

const works: Readonly<Record<Work, () => Promise<unknown>>> = {
  async review() {
    const store = files(tokens(), written);
    const { place, version } = await store.readReview(at('review.json'));
    const saved = await store.saveReview(place.id, changed.review, version);
    if (saved.kind !== 'saved') throw new Error(saved.kind);
  },
  table: () => files(tokens(), written).saveText(at('table.csv'), changed.table),
  package: () => files(tokens(), written).saveBytes(at('package.zip'), changed.package),
  draft: () => drafts(folder).keep(draftId, draftOf(changed.review)),
  settings: () => kept(at('settings.json'), v.strictObject({ n: v.number() }), { n: 0 }).write({ n: 2 }),
  'in-new-folders': () => writeWhole(at('deep/er/report.html'), changed.table, { replace: false }),
};

/** Told past every buffer, so that what was said before a death is heard. */
const say = (words: string) => void writeSync(1, `${words}\n`);

if (what === 'start') {
  // As the host begins: its own folders, then those that were written to.
  for (const own of [profile, folder]) await sweepLeftovers(own);
  await files(tokens(), written).sweep();
} else if (what === 'draft-on-and-on') {
  const store = drafts(folder);
  for (let edit = 1; ; edit++) {
    await store.keep(draftId, draftOf(changed.review.replace('after', `edit ${edit} of`)));
    say(String(edit));
  }
} else if (what === 'failing') {
  for (const failure of failures) for (const failed of await failedAtEach(failure)) say(JSON.stringify(failed));
} else {
  await works[what]();
}
say('done');

/** What `faults.mjs` watches by. */
interface Watching {
  within: string;
  calls: number;
  list: string[];
  at: number | undefined;
  act: string;
  only: string | undefined;
  times: number;
}

/** Does a work again and again, each time with another of its calls failing. */
async function failedAtEach({ work, code, only, times = 1 }: FailedWork): Promise<Failed[]> {
  const { faults } = globalThis as unknown as { faults: Watching };
  const all: Failed[] = [];
  for (let n = 1; ; n++) {
    rmSync(folder, { recursive: true, force: true });
    mkdirSync(folder);
    const { file, old } = targets[work];
    if (old !== null) writeFileSync(at(file), old);
    Object.assign(faults, { within: folder, calls: 0, list: [], at: n, act: code, only, times });
    const said = await works[work]().then(
      () => null,
      (error: unknown) => (error instanceof Error ? error.message : String(error)),
    );
    const call = faults.list[n - 1];
    faults.at = undefined;
    if (call === undefined) return all;
    all.push({
      work,
      code,
      call: call.replace(/\.ascan-\S+/, 'part'),
      said,
      stands: standing(work),
      stray: strayFrom(file),
    });
    // A call that is tried again counts again.
    if (only !== undefined) return all;
  }
}

function standing(work: Work): Failed['stands'] {
  const { file, old, new: next } = targets[work];
  const isThere = readdirSync(folder, { recursive: true, encoding: 'utf8' }).includes(file);
  const found = isThere ? readFileSync(at(file)) : null;
  const is = (wanted: string | Uint8Array | null) =>
    wanted === null ? found === null : found?.equals(Buffer.from(wanted as Uint8Array)) === true;
  return is(next) ? 'new' : is(old) ? 'old' : 'neither';
}

function strayFrom(file: string): string[] {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  return names.filter((name) => name !== file && !file.startsWith(`${name}/`));
}
