import { spawn, spawnSync } from 'node:child_process';
import {
  copyFileSync,
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Review } from '../../core/review/review.ts';
import { uniform } from '../build/random.ts';
import { mayMount, smallDisk } from './mounted.ts';
import { callsOf, type Ended, fewAtOnce, runNode } from './run-program.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'command-ends-'));
const at = (...names: string[]) => join(folder, ...names);
/** A copy of what was built: nobody builds it anew in the midst of this. */
const cli = at('cli', 'main.js');
const capture = 'probe-21-capture-1.csv';
const review = at('small.json');

beforeAll(() => {
  // Where a source is younger than the build, the first to run builds.
  spawnSync(process.execPath, ['electron/cli/run.mjs', 'blocks'], { cwd: root });
  cpSync(join(root, 'build/cli'), at('cli'), { recursive: true });
  const sample = JSON.parse(readFileSync(join(root, 'sample-data/probes/review.json'), 'utf8')) as Review;
  const sources = sample.sources.filter(({ file }) => file === capture);
  const probes = { ...sample.probes!, captures: [capture], probes: [], reference: null };
  writeFileSync(review, JSON.stringify({ ...sample, sources, probes, material: null }));
  copyFileSync(join(root, 'sample-data/probes', capture), at(capture));
}, 180_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Every command that writes, what it writes into a folder, and whether it can write over it. */
const commands: readonly { readonly name: string; readonly file: string; readonly words: (out: string) => string[] }[] =
  [
    { name: 'package --out', file: 'evidence.zip', words: (out) => ['package', review, '--out', out] },
    { name: 'report --out', file: 'report.html', words: (out) => ['report', review, '--out', join(out, '..')] },
    {
      name: 'probe --csv',
      file: 'probes.csv',
      words: (out) => ['probe', at(capture), '--gate', '8us..10.5us', '--csv', out],
    },
    {
      name: 'material --csv',
      file: 'attenuation.csv',
      words: (out) => [
        ...[
          'material',
          at(capture),
          '--thickness',
          '25mm',
          '--tolerance',
          '0.01mm',
          '--csv',
          out,
          '--spreading',
          'far-field',
        ],
        ...['--echo', '1@8us..10.5us', '--echo', '2@16.5us..19us', '--echo', '3@24.9us..27.4us'],
      ],
    },
    {
      name: 'describe --save-recipe',
      file: 'recipe.json',
      words: (out) => ['describe', at(capture), '--save-recipe', out],
    },
  ];
const mayReplace = ({ name }: { readonly name: string }) => name !== 'describe --save-recipe';
const isLong = process.env.ENDINGS_KILLS !== undefined;
/** For a machine that does much else, too. */
const longestMs = 1_800_000;

function emptyFolder(name: string): string {
  mkdirSync(at(name), { recursive: true });
  return at(name);
}

describe.each(commands)('$name, killed while it writes', (command) => {
  const { name, file, words } = command;
  const key = name.replace(/\W+/g, '-');

  it(
    'leaves what stood there or all that was asked for; given again it writes the same, and nothing else is left',
    async () => {
      const whole = emptyFolder(`${key}-whole`);
      const { calls } = await callsOf(cli, words(join(whole, file)), whole, at(`${key}-calls.json`));
      const wanted = readFileSync(join(whole, file));
      const steps = calls.flatMap((call, i) =>
        ['die-before', ...(call.startsWith('write ') ? ['die-within'] : [])].map((act) => ({ at: i + 1, act })),
      );
      const first = calls.findIndex((call) => call.startsWith('open .ascan-'));
      const deaths = isLong
        ? steps
        : picked(
            steps.filter((step) => step.at > first),
            name === 'package --out' ? 3 : 1,
          );

      const seen = await fewAtOnce(deaths, async ({ at: n, act }) => {
        const there = emptyFolder(`${key}-${n}-${act}`);
        const { signal } = await runNode(cli, words(join(there, file)), { within: there, at: n, act });
        const left = readdirSync(there);
        const isWhole = !left.includes(file) || readFileSync(join(there, file)).equals(wanted);
        const manner = left.includes(file) && mayReplace(command) ? ['--replace'] : [];
        const again = await runNode(cli, [...words(join(there, file)), ...manner], null);
        // What a command may not write over is named, and no more is wanted of it.
        const isDone = left.includes(file) && !mayReplace(command) ? again.status === 2 : again.status !== 2;
        const stands = readFileSync(join(there, file)).equals(wanted);
        return { signal, ok: isWhole && isDone && stands, left: readdirSync(there), step: `${act} ${calls[n - 1]}` };
      });
      expect(seen.filter(({ ok }) => !ok).map(({ step }) => step)).toEqual([]);
      expect(new Set(seen.map(({ signal }) => signal))).toEqual(new Set(['SIGKILL']));
      const mayStay = mayReplace(command) ? [file] : undefined;
      if (mayStay !== undefined) expect(seen.flatMap(({ left }) => left.filter((one) => one !== file))).toEqual([]);
    },
    longestMs,
  );

  /** So many of the steps, by the seed. */
  function picked<T>(all: readonly T[], count: number): T[] {
    const random = uniform(20260511);
    return [...all]
      .map((one) => ({ one, by: random() }))
      .sort((a, b) => a.by - b.by)
      .slice(0, count)
      .map(({ one }) => one);
  }
});

/** Refused: status 2, nothing printed, one line that begins with the place. */
function isRefusedAt({ status, out, err }: Ended, path: string, says: RegExp): void {
  expect({ status, out, err: err.replace(/\n$/, '') }).toEqual({
    status: 2,
    out: '',
    err: expect.stringMatching(new RegExp(`^${escaped(path)}: .*${says.source}`)),
  });
  expect(err.trimEnd().split('\n')).toHaveLength(1);
}

const escaped = (text: string) => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

describe('what a command cannot write is one line with its place and what to do, status 2, and nothing is written', () => {
  const rows: readonly [what: string, path: () => string, says: RegExp][] = [
    ['a folder', () => emptyFolder('in-the-way.json'), /this is a folder.*give the name of a file/],
    ['below a file', () => join(review, 'it.json'), /a file stands where a folder is named; choose another folder/],
    ['too long a name', () => at('n'.repeat(300)), /its name or path is too long; choose a shorter one/],
    ['a link to nothing', () => linkTo(at('gone.json')), /a link to a file that is not there; connect the drive/],
  ];

  it.each(rows)('%s', async (_what, path, says) => {
    const there = path();
    const before = readdirSync(folder);
    isRefusedAt(await runNode(cli, ['describe', at(capture), '--save-recipe', there], null), there, says);
    expect(readdirSync(folder)).toEqual(before);
  });

  function linkTo(target: string): string {
    symlinkSync(target, at('to-nothing.json'));
    return at('to-nothing.json');
  }

  it('a disk that can only be read', async () => {
    const there = emptyFolder('refusing');
    const faults = { within: there, only: 'open', at: 1, times: 100, act: 'EROFS' };
    const ended = await runNode(cli, ['package', review, '--out', join(there, 'p.zip')], faults);
    isRefusedAt(ended, join(there, 'p.zip'), /the disk can only be read; choose another place/);
    expect(readdirSync(there)).toEqual([]);
  });

  it.skipIf(!mayMount)(
    'a disk that is full in the midst of it (skipped where this person may mount none)',
    async () => {
      const disk = smallDisk('16k')!;
      try {
        const path = join(disk.path, 'p.zip');
        writeFileSync(path, 'the package of last week');
        isRefusedAt(
          await runNode(cli, ['package', review, '--out', path, '--replace'], null),
          path,
          /the disk is full; make room on it/,
        );
        expect(readdirSync(disk.path)).toEqual(['p.zip']);
        expect(readFileSync(path, 'utf8')).toBe('the package of last week');
      } finally {
        disk.remove();
      }
    },
  );
});

describe('what a command reads is not written over, whatever it is told', () => {
  const rows: readonly [what: string, words: (there: string) => string[]][] = [
    ['a capture of its folder', (there) => ['probe', join(there, '..'), '--gate', '8us..10.5us', '--csv', there]],
    ['a capture that its review names', (there) => ['package', join(there, '..', 'small.json'), '--out', there]],
    ['a capture', (there) => ['probe', there, '--gate', '8us..10.5us', '--csv', there]],
    ['a capture under another name', (there) => ['probe', linked(there), '--gate', '8us..10.5us', '--csv', there]],
    ['its review', (there) => ['package', there, '--out', there]],
  ];
  const linked = (path: string): string => {
    symlinkSync(path, `${path}.linked.csv`);
    return `${path}.linked.csv`;
  };

  it.each(isLong ? rows : rows.slice(0, 2))('%s', async (what, words) => {
    const there = emptyFolder(`input-${what.replace(/ /g, '-')}`);
    copyFileSync(review, join(there, 'small.json'));
    copyFileSync(at(capture), join(there, capture));
    const path = join(there, what === 'its review' ? 'small.json' : capture);
    const before = readFileSync(path);
    const ended = await runNode(cli, [...words(path), '--replace'], null);
    isRefusedAt(ended, path, /the command reads this very file, and nothing is written over it; give another name/);
    expect(readFileSync(path).equals(before)).toBe(true);
  });
});

describe('two commands that write the same new file', () => {
  it('one writes it, the other says that it is there', async () => {
    const path = at('same.zip');
    const both = await Promise.all([1, 2].map(() => runNode(cli, ['package', review, '--out', path], null)));
    const refused = both.filter(({ status }) => status === 2);
    expect(refused).toHaveLength(1);
    isRefusedAt(refused[0]!, path, /there is such a file already; give another name, or --replace/);
    expect((await runNode(cli, ['verify', path], null)).status).toBe(0);
  });
});

describe('a file that changes while a package is made of it', () => {
  const changes: readonly [what: string, change: string][] = [
    ['is gone', 'fs.rmSync(path)'],
    ['has another figure', "fs.writeFileSync(path, fs.readFileSync(path, 'utf8').replace(/7/, '8'))"],
    ['has grown', "fs.appendFileSync(path, '0.01,1\\n')"],
    ['is shorter', 'fs.truncateSync(path, 2000)'],
  ];

  it.each(isLong ? changes : changes.slice(0, 2))(
    '%s, after so many of its readings: never a package in which hash and content do not belong together',
    async (what, change) => {
      const there = emptyFolder(`changing-${what.replace(/ /g, '-')}`);
      const change_ = at(`change-${what.replace(/ /g, '-')}.mjs`);
      // Changes the capture just before it is opened for the n-th time.
      writeFileSync(
        change_,
        `import fs from 'node:fs'; import { syncBuiltinESMExports } from 'node:module';
       const path = process.env.CHANGED; let n = Number(process.env.BEFORE_OPENING); const { openSync } = fs;
       fs.openSync = (...given) => { if (given[0] === path && --n === 0) { fs.openSync = openSync; ${change}; } return openSync(...given); };
       syncBuiltinESMExports();`,
      );
      const ends: (number | null)[] = [];
      for (let n = 1; n <= 4; n++) {
        copyFileSync(review, join(there, 'small.json'));
        copyFileSync(join(root, 'sample-data/probes', capture), join(there, capture));
        const out = join(there, `${n}.zip`);
        const { status, stderr } = spawnSync(
          process.execPath,
          ['--import', change_, cli, 'package', join(there, 'small.json'), '--out', out],
          {
            cwd: root,
            encoding: 'utf8',
            env: { ...process.env, CHANGED: join(there, capture), BEFORE_OPENING: String(n) },
          },
        );
        ends.push(status);
        const isThere = readdirSync(there).includes(`${n}.zip`);
        if (status === 2)
          expect([isThere, stderr]).toEqual([false, expect.stringMatching(new RegExp(`^\\S*${capture}.*: .+\n$`))]);
        else expect((await runNode(cli, ['verify', out], null)).status).toBe(0);
      }
      // Changed early it is refused; changed after the last reading it is a package of what was read.
      expect(ends[0]).toBe(2);
      expect(ends.at(-1)).not.toBe(2);
    },
    longestMs,
  );
});

describe('a drive that stalls', () => {
  it('a capture that does not come can be waited for or broken off, and nothing is written by then', async () => {
    const pipe = at('stalled.csv');
    spawnSync('mkfifo', [pipe]);
    const out = at('never.csv');
    const child = spawn(process.execPath, [cli, 'probe', pipe, '--gate', '8us..10.5us', '--csv', out], { cwd: root });
    const ended = new Promise((resolve) => child.on('close', (_status, signal) => resolve(signal)));
    // It has come to the pipe when it can be opened to write without waiting.
    const writer = spawn('sh', ['-c', `exec 3> '${pipe}'; echo open; exec sleep 60`]);
    await new Promise((resolve) => writer.stdout.once('data', resolve));
    child.kill('SIGINT');
    expect(await ended).toBe('SIGINT');
    writer.kill();
    expect(readdirSync(folder).filter((name) => /never|\.part$/.test(name))).toEqual([]);
  });
});
