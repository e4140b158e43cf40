import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import {
  appendFileSync,
  copyFileSync,
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeCaptures, makeWide } from './generate.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'workbench-large-'));
/** A build of its own: what is kept of a job is kept for one build. */
const program = join(folder, 'program/main.js');
const captures = join(folder, 'captures');
/** So many that other threads work on them, and few enough that one thread alone does. */
const count = 240;
const few = join(folder, 'few');
const fewCount = 24;
/** So many gates that what all captures say does not fit into the pipes between two programs. */
const gates = Array.from({ length: 16 }, (_, i) => ['--gate', `wall ${i + 1}=3us..4us@10`]).flat();
const read = (where: string) => ['read', where, ...gates, '--separate', '--lines'];

interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

function cli(words: readonly string[], input = ''): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...words], {
    cwd: root,
    encoding: 'utf8',
    input,
    maxBuffer: 1 << 28,
  });
  return { status, out: stdout, err: stderr };
}

/** Runs a program whose output nobody reads until it says no more and stands. Gives how many inputs it had kept by then. */
async function runUnread(words: readonly string[], job: string): Promise<{ child: ChildProcess; kept: number }> {
  const child = spawn(process.execPath, [program, ...words, '--resume', job], { cwd: root });
  for (let before = -1; ; ) {
    const kept = keptIn(job);
    if (kept > 0 && kept === before) return { child, kept };
    before = kept;
    await wait(250);
  }
}

/** The whole lines of a job file behind its first. */
function keptIn(job: string): number {
  return existsSync(job) ? Math.max(0, readFileSync(job, 'utf8').split('\n').length - 2) : 0;
}

// biome-ignore lint/suspicious/noExplicitAny: documents are checked key by key below
const linesOf = (out: string): any[] =>
  out
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line));

let unbroken: Ran;
let fewUnbroken: Ran;
const wholeJob = join(folder, 'whole.job');

beforeAll(() => {
  makeCaptures(captures, count);
  makeCaptures(few, fewCount);
  spawnSync(process.execPath, ['electron/cli/run.mjs', 'blocks'], { cwd: root });
  cpSync(join(root, 'build/cli'), join(folder, 'program'), { recursive: true });
  unbroken = cli(read(captures));
  fewUnbroken = cli(read(few));
  expect(cli([...read(few), '--resume', wholeJob])).toEqual(fewUnbroken);
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('many captures', () => {
  it('are told one by one in the order of their files, and the last line says that all is there', () => {
    const lines = linesOf(unbroken.out);
    expect(unbroken.status).toBe(0);
    expect(unbroken.err).toBe('');
    expect(lines.flatMap(({ reading }) => (reading?.gate === 'wall 1' ? [reading.file] : []))).toEqual(
      Array.from({ length: count }, (_, i) => join(captures, `capture-${String(i).padStart(6, '0')}.csv`)),
    );
    expect(lines.at(-1)).toEqual({ end: { readings: 16 * count, problems: 0 } });
  });

  it.each(['1', '3'])('are told the same on %s thread(s)', (jobs) => {
    expect(cli([...read(captures), '--jobs', jobs])).toEqual(unbroken);
  });

  it('are the same in one document as in lines', () => {
    const { readings } = JSON.parse(cli([...read(few).filter((word) => word !== '--lines'), '--json']).out);
    expect(linesOf(fewUnbroken.out).flatMap(({ reading }) => reading ?? [])).toEqual(readings);
  });

  it('may be named in a list, from a file or from standard input', () => {
    const list = join(folder, 'list.txt');
    const names = readdirSync(few)
      .map((name) => `${join(few, name)}\n`)
      .join('');
    writeFileSync(list, names);
    expect(cli(['read', '--list', list, ...read(few).slice(2)])).toEqual(fewUnbroken);
    expect(cli(['read', '--list', '-', ...read(few).slice(2)], names)).toEqual(fewUnbroken);
  });

  it('are read apart as they come as they are all together', () => {
    const gate = ['read', few, '--gate', 'wall=3us..4us@10', '--separate'];
    const together = cli([...gate, '--json', '--echoes-above', '5']);
    const { captures: _, settings: __, ...whole } = JSON.parse(together.out);
    const apart = cli([...gate, '--json']);
    expect(apart.status).toBe(together.status);
    expect(JSON.parse(apart.out)).toMatchObject(whole);
    expect(linesOf(cli([...gate, '--lines']).out).flatMap(({ reading }) => reading ?? [])).toEqual(whole.readings);
  });
});

describe('an end in the middle', () => {
  it('by kill −9 costs what was not kept, and the next run gives the same bytes', async () => {
    const job = join(folder, 'killed.job');
    for (const moment of ['the first', 'the second'] as const) {
      const { child, kept } = await runUnread(read(captures), job);
      expect(kept, moment).toBeLessThan(count);
      child.kill('SIGKILL');
      await once(child, 'close');
      // The second run is killed where the first was: nothing is kept twice.
      expect(kept).toBe(keptIn(job));
    }
    const kept = keptIn(job);
    const ran = cli([...read(captures), '--resume', job]);
    expect({ status: ran.status, out: ran.out }).toEqual({ status: 0, out: unbroken.out });
    expect(ran.err).toBe(`${job}: ${kept} files were done already\n`);
    expect(keptIn(job)).toBe(count);
  });

  const share = (part: number) => (bytes: number) => Math.floor(bytes * part);
  const firstLine = (job: Buffer) => job.indexOf('\n');
  const moments: [string, (bytes: number, job: Buffer) => number][] = [
    ['before a byte was kept', () => 0],
    ['within the first line', () => 40],
    ['between the first line and its end', (_, job) => firstLine(job)],
    ['behind the first line', (_, job) => firstLine(job) + 1],
    ['within a result', share(0.5)],
    ['one byte before the end', (bytes) => bytes - 1],
  ];
  it.each(moments)('%s: the next run gives the same bytes', (_, at) => {
    const job = join(folder, 'cut-off.job');
    copyFileSync(wholeJob, job);
    const whole = readFileSync(job);
    truncateSync(job, at(whole.length, whole));
    const ran = cli([...read(few), '--resume', job]);
    expect({ status: ran.status, out: ran.out }).toEqual({ status: 0, out: fewUnbroken.out });
    expect(cli([...read(few), '--resume', job]).err).toBe(`${job}: ${fewCount} files were done already\n`);
  });

  it('a result that was changed in the job file is not believed', () => {
    const job = join(folder, 'changed.job');
    const text = readFileSync(wholeJob, 'utf8');
    const at = text.indexOf('"amplitudePercent":', text.length / 2) + '"amplitudePercent":'.length;
    writeFileSync(job, `${text.slice(0, at)}${text[at] === '1' ? 2 : 1}${text.slice(at + 1)}`);
    const ran = cli([...read(few), '--resume', job]);
    expect(ran.out).toBe(fewUnbroken.out);
    expect(ran.err).toBe(`${job}: ${fewCount - 1} files were done already\n`);
  });

  it('by Ctrl+C says how far it came and how to go on; whole lines were written, and the next run gives the same bytes', async () => {
    const job = join(folder, 'interrupted.job');
    const { child } = await runUnread(read(captures), job);
    let [out, err] = ['', ''];
    child.kill('SIGINT');
    child.stdout?.setEncoding('utf8').on('data', (text) => {
      out += text;
    });
    child.stderr?.on('data', (text) => {
      err += text;
    });
    const [status] = await once(child, 'close');
    expect(status).toBe(130);
    expect(err).toMatch(
      /^interrupted: \d+ of 240 files are done; they are kept in .*interrupted\.job: give the same command again to go on\n$/,
    );
    expect(unbroken.out.startsWith(out)).toBe(true);
    expect(out.endsWith('\n')).toBe(true);
    expect(cli([...read(captures), '--resume', job]).out).toBe(unbroken.out);
  });
});

describe('what has changed since a job was begun', () => {
  const copy = join(folder, 'copy');
  const job = join(folder, 'copy.job');
  const command = ['echoes', copy, '--lines'];
  const named = (i: number) => join(copy, `capture-00000${i}.csv`);

  beforeAll(() => {
    makeCaptures(copy, 6);
    cli([...command, '--resume', job]);
  }, 120_000);

  it('is said and read anew: a file with other bytes, one that is gone, one that is new', () => {
    writeFileSync(named(2), readFileSync(named(2), 'utf8').replaceAll(',0.', ',1.'));
    cpSync(named(1), join(copy, 'capture-000001-again.csv'));
    rmSync(named(4));
    const ran = cli([...command, '--resume', job]);
    expect(ran).toEqual({
      ...cli(command),
      err: `${job}: 4 files were done already; 1 file was read anew, changed since: ${named(2)}; 1 file was left out, no longer named: ${named(4)}\n`,
    });
  });

  it('is read anew where a manifest says something else of one file', () => {
    const manifest = join(copy, 'manifest.csv');
    const ran = (gain: number) => {
      writeFileSync(manifest, `file,gain_db\ncapture-000003.csv,${gain}\n`);
      return cli([...command, '--resume', job]).err;
    };
    expect(ran(31)).toContain(`1 file was read anew, changed since: ${named(3)}`);
    expect(ran(31)).not.toContain('anew');
    expect(ran(32)).toContain(`1 file was read anew, changed since: ${named(3)}`);
    rmSync(manifest);
  });

  it.each([
    ['how echoes are found', ['--above', '9'], /abovePercent/],
    ['how the records are conditioned', ['--baseline', 'mean'], /baseline/],
    ['what the files do not say', ['--rectification', 'full'], /rectification/],
  ])('is refused where it is %s, by name', (_, options, name) => {
    const before = readFileSync(job);
    const ran = cli([...command, ...options, '--resume', job]);
    expect({ status: ran.status, out: ran.out }).toEqual({ status: 2, out: '' });
    expect(ran.err).toMatch(/^.*copy\.job: this job was begun with other options \(.*\); give the same as then/);
    expect(ran.err).toMatch(name);
    expect(readFileSync(job)).toEqual(before);
  });

  it('a file that is no job is refused and left as it is', () => {
    const ran = cli([...command, '--resume', named(1)]);
    expect(ran.status).toBe(2);
    expect(ran.err).toMatch(/this is no job file/);
    expect(readFileSync(named(1), 'utf8')).toMatch(/^# capture: 1\n/);
  });
});

describe('what cannot be used', () => {
  const mixed = join(folder, 'mixed');
  const broken = join(mixed, 'capture-000100.csv');
  const binary = join(mixed, 'capture-000200.csv');

  beforeAll(() => {
    makeCaptures(mixed, count);
    appendFileSync(broken, '8.00,not a figure\n');
    writeFileSync(binary, Buffer.from([0, 1, 2, 3, 0, 0, 255, 254]));
  }, 120_000);

  it.each(['1', '3'])('never stops the rest, and stands at the end with its reason (on %s threads)', (jobs) => {
    const ran = cli([...read(mixed), '--jobs', jobs]);
    expect(ran.status).toBe(1);
    const problems = ran.err.trimEnd().split('\n');
    expect(problems).toHaveLength(2);
    expect(problems[0]).toMatch(/capture-000100\.csv:405:\d+: /);
    expect(problems[1]).toMatch(/capture-000200\.csv/);
    const lines = linesOf(ran.out);
    expect(lines.filter(({ reading }) => reading)).toHaveLength(16 * (count - 2));
    expect(lines.flatMap(({ problem }) => problem ?? [])).toEqual(problems);
    expect(lines.at(-1)).toEqual({ end: { readings: 16 * (count - 2), problems: 2 } });
  });

  it('is written as CSV and as JSON, and never over a file', () => {
    const [csv, json] = [join(folder, 'failures.csv'), join(folder, 'failures.json')];
    expect(cli(['describe', mixed, '--failures', csv]).status).toBe(1);
    cli(['describe', mixed, '--failures', json]);
    const { failures } = JSON.parse(readFileSync(json, 'utf8'));
    expect(failures).toMatchObject([
      { file: broken, line: 405 },
      { file: binary, line: 1 },
    ]);
    const [head, first] = readFileSync(csv, 'utf8').split('\r\n');
    expect(head).toBe('file,line,column,code,reason');
    expect(first).toContain(`${broken},405,`);
    expect(first).toContain(failures[0].code);
    const again = cli(['describe', mixed, '--failures', csv]);
    expect({ status: again.status, out: again.out }).toEqual({ status: 2, out: '' });
  });

  it('is tried again when a job goes on, and taken where it has been mended', () => {
    const job = join(folder, 'mixed.job');
    cli([...read(mixed), '--resume', job]);
    makeCaptures(mixed, count);
    const ran = cli([...read(mixed), '--resume', job]);
    expect(ran.err).toBe(`${job}: ${count - 2} files were done already\n`);
    expect(ran.out).toBe(cli(read(mixed)).out);
  });

  it('where it is all there is, nothing is written anywhere', () => {
    const only = join(folder, 'only');
    cpSync(join(root, 'sample-data/broken/empty.csv'), join(only, 'empty.csv'));
    const [job, list] = [join(folder, 'none.job'), join(folder, 'none.csv')];
    const ran = cli(['echoes', only, '--json', '--resume', job, '--failures', list]);
    expect({ status: ran.status, out: ran.out }).toEqual({ status: 2, out: '' });
    expect(existsSync(job) || existsSync(list)).toBe(false);
  });
});

describe('a reader', () => {
  it('that has read enough ends the work quietly, as the shell counts it', async () => {
    const child = spawn(process.execPath, [program, ...read(captures)], { cwd: root });
    let err = '';
    child.stderr.on('data', (text) => {
      err += text;
    });
    child.stdout.once('data', () => child.stdout.destroy());
    const [status] = await once(child, 'close');
    expect({ status, err }).toEqual({ status: 141, err: '' });
  });

  it('that is slow slows the work, and misses nothing', async () => {
    const job = join(folder, 'slow.job');
    const { child, kept } = await runUnread(read(captures), job);
    expect(kept).toBeLessThan(count);
    let out = '';
    child.stdout?.setEncoding('utf8').on('data', (text) => {
      out += text;
    });
    const [status] = await once(child, 'close');
    expect({ status, out }).toEqual({ status: 0, out: unbroken.out });
  });
});

describe('a wide file', () => {
  it('is read trace by trace in order, as its traces are read alone', () => {
    const wide = join(folder, 'wide.csv');
    makeWide(wide, 600, 400);
    const lines = linesOf(cli(['echoes', wide, '--lines']).out).flatMap(({ capture }) => capture ?? []);
    expect(lines.map(({ trace }) => trace)).toEqual(Array.from({ length: 600 }, (_, i) => `capture_${i + 1}_pct`));
    for (const n of [34, 600])
      expect(linesOf(cli(['echoes', `${wide}#${n}`, '--lines']).out)[0].capture).toEqual(lines[n - 1]);
  });

  it('is told to a person in pages, each with its own head', () => {
    const pages = cli(['echoes', join(folder, 'wide.csv'), '--above', '1']).out.split('\n\n');
    expect(pages).toHaveLength(2);
    for (const page of pages) expect(page.split('\n')[0]).toMatch(/^file +trace +echo/);
    expect(pages[0].split('\n')).toHaveLength(2 + 1000);
  });

  it('may say one thing very many times over in its preamble: each is told, and none costs more than the one before', () => {
    const chatty = join(folder, 'chatty.csv');
    const said = Array.from({ length: 50_000 }, (_, i) => `# note: ${i}\n`).join('');
    writeFileSync(chatty, `${said}${readFileSync(join(few, 'capture-000000.csv'), 'utf8')}`);
    const [{ file }] = linesOf(cli(['describe', chatty, '--lines']).out);
    expect(file.traces[0].metadata).toMatchObject({ note: 0, 'note (2)': 1, 'note (50000)': 49_999 });
  });
});
