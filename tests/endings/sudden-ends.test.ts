import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drafts } from '../../electron/drafts.ts';
import { uniform } from '../build/random.ts';
import { builtProgram, callsOf, fewAtOnce, runNode } from './run-program.ts';
import { before, draftId, draftOf, targets, type Work } from './work.ts';

let program: Awaited<ReturnType<typeof builtProgram>>;
const folder = mkdtempSync(join(tmpdir(), 'endings-'));
beforeAll(async () => {
  program = await builtProgram();
});
afterAll(() => {
  program.remove();
  rmSync(folder, { recursive: true, force: true });
});

/** A folder with a file of the work's as it was before, and a profile beside it. */
function scene(name: string, work: Work): { readonly place: string; readonly profile: string } {
  const place = join(folder, name, 'place');
  const profile = join(folder, name, 'profile');
  for (const path of [place, profile]) mkdirSync(path, { recursive: true });
  const { file, old } = targets[work];
  if (old !== null) writeFileSync(join(place, file), old);
  return { place, profile };
}

/** Names below a folder, folders left out. */
function filesBelow(place: string): string[] {
  const names = readdirSync(place, { recursive: true, encoding: 'utf8' });
  return names.filter((name) => !lstatSync(join(place, name)).isDirectory()).sort();
}

function standing(path: string): Buffer | null {
  try {
    return readFileSync(path);
  } catch {
    return null;
  }
}

const isSame = (found: Buffer | null, wanted: string | Uint8Array | null) =>
  found === null || wanted === null ? found === wanted : found.equals(Buffer.from(wanted as Uint8Array));

/** A longer run kills in the midst of every work; the same writer serves them all. */
const isLong = process.env.ENDINGS_KILLS !== undefined;
/** For a machine that does much else, too. */
const longestMs = 1_800_000;
const works: readonly Work[] = isLong ? (Object.keys(targets) as Work[]) : ['review', 'package', 'in-new-folders'];

describe.each(works)('a program that is killed while it writes: %s', (work) => {
  const { file, old, new: next } = targets[work];

  it(
    'leaves the old bytes or the new ones whole, at whatever call it ends, and the next start leaves nothing else',
    async () => {
      const { place, profile } = scene(`${work}-through`, work);
      const { ended, calls } = await callsOf(program.path, [work, place, profile], place, join(profile, 'calls.json'));
      expect([ended.err, ended.out]).toEqual(['', 'done\n']);
      // What comes before only looks; it has its turn in the longer run.
      const first = isLong ? 0 : calls.findIndex((call) => call.startsWith('open .ascan-'));
      const deaths = calls.slice(first).flatMap((call, i) => {
        // Between two calls nothing changes: an end after one is an end before the next.
        const isLast = first + i + 1 === calls.length;
        const acts = [
          'die-before',
          ...(call.startsWith('write ') ? ['die-within'] : []),
          ...(isLast ? ['die-after'] : []),
        ];
        return acts.map((act) => ({ at: first + i + 1, act, call: call.replace(/[0-9a-f]{8}/g, '*') }));
      });
      const seen = await fewAtOnce(deaths, async ({ at, act, call }) => {
        const { place, profile } = scene(`${work}-${at}-${act}`, work);
        const { signal } = await runNode(program.path, [work, place, profile], { within: place, at, act });
        const found = standing(join(place, file));
        const isNew = isSame(found, next);
        const wrong = isNew || isSame(found, old) ? [] : [`${act} ${call}: ${file} is neither`];
        return { place, profile, death: `${act} ${call}`, signal, isNew, wrong };
      });
      expect(seen.flatMap(({ wrong }) => wrong)).toEqual([]);
      // Each of them did die; some left something behind; some ended before and some after the file was another.
      expect(new Set(seen.map(({ signal }) => signal))).toEqual(new Set(['SIGKILL']));
      expect(seen.some(({ place }) => filesBelow(place).some((name) => name.endsWith('.part')))).toBe(true);
      expect(new Set(seen.map(({ isNew }) => isNew))).toEqual(new Set([false, true]));

      // A command has no start of its own: the same one, given again, writes into the same folder.
      const again = work === 'in-new-folders' ? work : 'start';
      await fewAtOnce(seen, ({ place, profile }) => runNode(program.path, [again, place, profile], null));
      const stray = seen.flatMap(({ place, death }) =>
        filesBelow(place)
          .filter((name) => name !== file)
          .map((name) => `${death}: ${name}`),
      );
      expect(stray).toEqual([]);
    },
    longestMs,
  );

  it('writes beside, through to the disk, then into its place, and takes the folder through to the disk', async () => {
    const { place, profile } = scene(`${work}-order`, work);
    const { calls } = await callsOf(program.path, [work, place, profile], place, join(profile, 'calls.json'));
    const kinds = calls.map((call) => call.replace(/\.ascan-\S+/, 'part'));
    const into = kinds.findIndex((call) => call === `rename ${basename(file)}` || call === `link ${basename(file)}`);
    const order = [
      kinds.indexOf('open part'),
      kinds.lastIndexOf('write part'),
      kinds.indexOf('sync part'),
      kinds.indexOf('close part'),
      into,
      kinds.indexOf(`sync ${basename(dirname(join(place, file)))}`),
    ];
    expect(order).not.toContain(-1);
    expect(order).toEqual([...order].sort((a, b) => a - b));
  });
});

describe('a draft that is kept again and again', () => {
  it(
    'is, after a death at any moment, one that was kept and none older than the last that was said to be',
    async () => {
      const random = uniform(Number(process.env.ENDINGS_SEED ?? 20260511));
      const kills = Array.from({ length: Number(process.env.ENDINGS_KILLS ?? 16) }, (_, i) => ({
        i,
        afterKept: 1 + Math.floor(random() * 12),
        waits: random() * 4,
      }));
      const wrong = await fewAtOnce(kills, async ({ i, afterKept, waits }) => {
        const { place, profile } = scene(`draft-killed-${i}`, 'draft');
        const said = await killedAfter(['draft-on-and-on', place, profile], afterKept, waits);
        const left = await drafts(place).read(draftId);
        const edit = Number(/edit (\d+) of/.exec(left?.text ?? '')?.[1] ?? Number.NaN);
        const isWhole = left !== null && left.text === draftOf(before.review).text.replace('before', `edit ${edit} of`);
        // One more may have been written than was said.
        return isWhole && edit >= said && edit <= said + 1 ? [] : [`kill ${i}: edit ${edit} after ${said} was said`];
      });
      expect(wrong.flat()).toEqual([]);
    },
    longestMs,
  );

  /** Kills a program some way behind its n-th word, and gives the last number that it said. */
  function killedAfter(given: readonly string[], words: number, waitsMs: number): Promise<number> {
    const child = spawn(process.execPath, [program.path, ...given], { stdio: ['ignore', 'pipe', 'inherit'] });
    let out = '';
    return new Promise((resolve) => {
      child.stdout.setEncoding('utf8').on('data', (text: string) => {
        out += text;
        if (out.split('\n').length - 1 >= words) setTimeout(() => child.kill('SIGKILL'), waitsMs);
      });
      child.on('close', () => resolve(Number(out.trimEnd().split('\n').at(-1))));
    });
  }
});

describe('the next start', () => {
  const machine = (name: string) => createHash('sha256').update(name).digest('hex').slice(0, 8);
  const here = machine(hostname());

  it('removes what this machine’s ended processes left, and nothing that is not ours', async () => {
    const { place, profile } = scene('not-ours', 'review');
    const ended = spawn(process.execPath, ['-e', '']);
    await new Promise((resolve) => ended.on('close', resolve));
    const gone = ended.pid;
    const keeps: [why: string, name: string][] = [
      ['a process that still runs', `.ascan-${here}-${process.pid}-0badcafe.part`],
      ['another machine', `.ascan-${machine('elsewhere')}-${gone}-0badcafe.part`],
      ['a download', 'review.json.part'],
      ['a name that only begins so', `.ascan-${here}-${gone}-0badcafe.part.csv`],
      ['a name that only ends so', `x.ascan-${here}-${gone}-0badcafe.part`],
      ['no process', `.ascan-${here}-0-0badcafe.part`],
      ['a short name', `.ascan-${here}-${gone}-0bad.part`],
      ['in capitals', `.ASCAN-${here}-${gone}-0badcafe.part`],
    ];
    for (const [why, name] of keeps) writeFileSync(join(place, name), why);
    mkdirSync(join(place, `.ascan-${here}-${gone}-00000001.part`));
    symlinkSync(join(place, 'review.json'), join(place, `.ascan-${here}-${gone}-00000002.part`));
    writeFileSync(join(place, `.ascan-${here}-${gone}-00000003.part`), 'half of a review');
    const names = readdirSync(place);

    const { err } = await runNode(program.path, ['start', place, profile], null);
    expect(err).toBe('');
    expect(names.filter((name) => !readdirSync(place).includes(name))).toEqual([
      `.ascan-${here}-${gone}-00000003.part`,
    ]);
    expect(readFileSync(join(place, 'review.json'), 'utf8')).toBe(before.review);
  });

  it('looks where a review was being saved, though the person never comes to that folder again', async () => {
    const { place, profile } = scene('far-away', 'review');
    await runNode(program.path, ['review', place, profile], { within: place, only: 'sync', at: 1, act: 'die-before' });
    expect(readdirSync(place).filter((name) => name.endsWith('.part'))).toHaveLength(1);
    await runNode(program.path, ['start', profile, profile], null);
    expect(readdirSync(place)).toEqual(['review.json']);
  });
});
