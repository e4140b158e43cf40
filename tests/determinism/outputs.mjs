// What is written of the sample data, and its SHA-256: the same on every Node, in every time zone and locale, on any number of threads.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const listFile = fileURLToPath(new URL('sha256.json', import.meta.url));

/** OUT is a folder made for the run. What is hashed is what a command prints, or the file named. */
const commands = [
  ...['review.json', 'probes/review.json', 'instruments/review.json'].flatMap((review) => [
    { name: `evaluate ${review}`, args: ['evaluate', `sample-data/${review}`, '--json'] },
    { name: `evaluate ${review}, as a table`, args: ['evaluate', `sample-data/${review}`] },
    {
      name: `report ${review}`,
      args: ['report', `sample-data/${review}`, '--out', 'OUT', '--replace'],
      file: 'report.html',
    },
    {
      name: `package ${review}`,
      args: ['package', `sample-data/${review}`, '--out', 'OUT/all.zip', '--replace'],
      file: 'all.zip',
    },
  ]),
  {
    name: 'calibrate',
    args: [
      ...['calibrate', 'sample-data/reference-block.csv', '--json'],
      ...['--block', 'iso-2400/quadrant-return-25', '--material', 'steel', '--mode', 'transverse'],
    ],
    keep: 'calibration.json',
  },
  {
    name: 'read',
    args: [
      ...['read', 'sample-data/plate-weld/first-leg.csv', 'sample-data/plate-weld/second-leg.csv', '--json'],
      ...[
        '--calibration',
        'OUT/calibration.json',
        '--gate',
        'root=24mm..36mm@20',
        '--angle',
        '60',
        '--thickness',
        '16mm',
      ],
    ],
    threads: true,
  },
  {
    name: 'indications, as CSV',
    args: [
      ...['indications', 'sample-data/plate-weld/second-leg.csv', '--calibration', 'OUT/calibration.json'],
      ...[
        '--gate',
        'weld=20mm..60mm@14',
        '--beam-width',
        '7mm',
        '--angle',
        '60',
        '--thickness',
        '16mm',
        '--csv',
        'OUT/found.csv',
      ],
    ],
    file: 'found.csv',
    threads: true,
  },
  {
    name: 'probe, as CSV',
    args: [
      ...['probe', 'sample-data/probes', '--gate', '8us..10.5us', '--element', '6mm', '--velocity', '5918m/s'],
      ...['--csv', 'OUT/probes.csv'],
    ],
    file: 'probes.csv',
    threads: true,
  },
  {
    name: 'echoes under a band-pass',
    args: ['echoes', 'sample-data/hole-series', 'sample-data/shift', '--above', '5', '--json'],
    threads: true,
  },
];

/** The sums of `bits.ts`, in its order. What changes them changes a last digit somewhere. */
export const expectedBits = [885_285_624, 2_816_437_374];

export const names = commands.map(({ name }) => name);

/** Where a person sits: the clock's zone and the language of the system. */
export const places = [
  { TZ: 'Asia/Kathmandu', LC_ALL: 'de_DE.UTF-8' },
  { TZ: 'Pacific/Kiritimati', LC_ALL: 'tr_TR.UTF-8' },
  { TZ: 'America/St_Johns', LC_ALL: 'ar_EG.UTF-8' },
  { TZ: 'UTC', LC_ALL: 'C', LANG: 'C' },
];

/**
 * The command line as it is built now, put aside so that it stays the same while others build it anew.
 * @returns the file to start; it goes when this process does
 */
export function commandLine() {
  const folder = mkdtempSync(join(tmpdir(), 'same-bytes-cli-'));
  cpSync(`${root}build/cli`, folder, { recursive: true });
  process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
  return join(folder, 'main.js');
}

/**
 * Name to SHA-256. A command that cannot be carried out throws, with what it said.
 * @param node the program @param cli the command line's file
 * @param given `env` over the present one; `jobs` for what takes a number of threads; `only` some names
 */
export function hashesOf(node, cli, { env = {}, jobs = null, only = names } = {}) {
  const out = mkdtempSync(join(tmpdir(), 'same-bytes-'));
  const hashes = {};
  try {
    for (const { name, args, file, keep, threads } of commands) {
      if (!only.includes(name) && keep === undefined) continue;
      if (jobs !== null && !threads && keep === undefined) continue;
      const given = args.map((arg) => arg.replace(/^OUT/, out));
      if (threads && jobs !== null) given.push('--jobs', String(jobs));
      const { status, stdout, stderr } = spawnSync(node, [cli, ...given], {
        cwd: root,
        env: { ...process.env, ...env },
        maxBuffer: 256 * 1024 * 1024,
      });
      // 1: done, and something is doubted, as it should be in the samples.
      if (status !== 0 && status !== 1) throw new Error(`${name}: ${stderr}`);
      if (keep !== undefined) writeFileSync(join(out, keep), stdout);
      if (!only.includes(name) || (jobs !== null && !threads)) continue;
      hashes[name] = sha256(file === undefined ? stdout : readFileSync(join(out, file)));
    }
  } finally {
    rmSync(out, { recursive: true });
  }
  return hashes;
}

function sha256(bytes) {
  return createHash('sha256').update(bytes).digest('hex');
}

export function listed() {
  return JSON.parse(readFileSync(listFile, 'utf8'));
}

export function list(hashes) {
  writeFileSync(listFile, `${JSON.stringify(hashes, null, 2)}\n`);
}

/** The names of what differs. */
export function differing(hashes, expected) {
  return Object.keys(hashes).filter((name) => hashes[name] !== expected[name]);
}
