// npm run bench: how the project stands against its peer on this machine, as ratios. What the rows mean: README.md.
//
//     npm run bench [-- --runs 5] [--only NAME]… [--peers-only]
//
// Rows in Chromium are in browser.mjs. The others are whole processes, in turn: project, peer, project, peer … A timed run follows at once on an untimed one of the same
// program, since a machine that has handed back its free memory lets the next large program wait for it.
// Exit status 1: a target was missed, or the two do not find the same. 2: something is not installed or not built.

import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { parseArgs } from 'node:util';
import { buildOrExit } from '../../electron/build.mjs';
import { findChromium } from '../browser/chromium.mjs';
import { browserRows, measureInBrowser } from './browser.mjs';
import { compare } from './compare.mjs';
import { median } from './median.mjs';
import {
  generator,
  measure,
  peer,
  python,
  root,
  scanner,
  scannerSource,
  workbench,
  workbenchImport,
  workbenchRead,
} from './programs.mjs';

const data = `${root}build/bench-data`;
const scan = `${data}/scan`;
const input = {
  captures: `${data}/captures`,
  'many-captures': `${data}/many-captures`,
  long: `${data}/long.csv`,
  wide: `${data}/wide.csv`,
};

/** `faster`: the peer's time over ours, at least. `slower`: ours over the peer's, at most. Peaks of memory in MB, or as a share of the peer's. */
const rows = [
  {
    name: 'files',
    title: '1,000 files × 2,000 samples, one process each',
    data: 'captures',
    ours: workbenchRead(input.captures),
    theirs: peer(input.captures),
    target: { faster: 6 },
  },
  {
    name: 'files-tuned',
    title: '1,000 files, peer tuned, in two processes',
    data: 'captures',
    ours: workbenchRead(input.captures),
    theirs: peer(input.captures, '--tuned', '--jobs', '2'),
    target: { faster: 2.5 },
  },
  {
    name: 'many-files',
    title: '5,000 files, peer in two processes',
    data: 'many-captures',
    ours: workbenchRead(input['many-captures']),
    theirs: peer(input['many-captures'], '--jobs', '2'),
    target: { faster: 6, peakMb: 300 },
  },
  {
    name: 'long-import',
    title: '10,000,000 rows, import alone, against the C scan',
    data: 'long',
    ours: workbenchImport(input.long),
    theirs: scanner(scan, input.long),
    target: { slower: 3 },
  },
  {
    name: 'long',
    title: '10,000,000 rows, import to readings',
    data: 'long',
    ours: workbenchRead(input.long),
    theirs: peer(input.long),
    target: { faster: 2.4, shareOfMemory: 1 / 3 },
  },
  {
    name: 'wide',
    title: '500 traces × 4,000 samples in one file, one process each',
    data: 'wide',
    ours: workbenchRead(input.wide),
    theirs: peer(input.wide, '--wide'),
    target: { faster: 3 },
  },
];

/** Same figures from both, with the transform's length, and what lies beyond a long record's ends, as the project takes them. */
const comparisons = [
  { data: 'captures', ours: workbenchRead(input.captures), theirs: peer(input.captures, '--power-of-two') },
  { data: 'wide', ours: workbenchRead(input.wide), theirs: peer(input.wide, '--wide', '--power-of-two') },
  { data: 'long', ours: workbenchRead(input.long), theirs: peer(input.long, '--reflect') },
];

function refuse(sentence) {
  console.error(sentence);
  process.exit(2);
}

function requireWhatIsNeeded(peersOnly) {
  const modules = spawnSync(python, ['-c', 'import numpy, scipy, pandas']);
  if (modules.status !== 0) {
    refuse(`The peer needs ${python} with numpy, scipy and pandas: apt-get install python3-scipy python3-pandas`);
  }
  if (spawnSync('gcc', ['--version']).status !== 0)
    refuse('The scan needs a C compiler: apt-get install gcc libc6-dev');
  if (!peersOnly && !existsSync(workbench)) refuse('The project is not built: npm run build');
}

/** Input made once and kept; the scan compiled for this machine. */
function prepare(chosen) {
  mkdirSync(data, { recursive: true });
  // The larger set of captures links to the smaller one's files where it is there: keep this order.
  const missing = Object.keys(input).filter((name) => chosen.has(name) && !existsSync(input[name]));
  if (missing.length > 0) {
    console.log(`Making ${missing.join(', ')} in build/bench-data (once) …`);
    execFileSync(python, [generator, data, ...missing], { stdio: 'inherit' });
  }
  execFileSync('gcc', ['-O3', '-march=native', scannerSource, '-o', scan], { stdio: 'inherit' });
}

/** One run of a whole process. Status 1 is an answer too: a reading carries a flag. */
function run(command, output) {
  const outcome = spawnSync(python, [measure, output, ...command], { encoding: 'utf8' });
  const taken = outcome.status === 0 ? JSON.parse(outcome.stdout) : null;
  if (taken === null || taken.status < 0 || taken.status > 1) {
    throw new Error(`${command.join(' ')}\nended with ${taken?.status ?? 'nothing'}: ${outcome.stderr}`);
  }
  return taken;
}

function medians(runs) {
  const of = (key) => median(runs.map((one) => one[key]));
  const walls = runs.map((one) => one.wall_s);
  return {
    wall: of('wall_s'),
    cpu: of('cpu_s'),
    peakMb: of('peak_mb'),
    least: Math.min(...walls),
    most: Math.max(...walls),
  };
}

function timeInTurn(row, times, peersOnly) {
  const sides = peersOnly ? ['theirs'] : ['ours', 'theirs'];
  const runs = { ours: [], theirs: [] };
  for (let i = 0; i < times; i++) {
    for (const side of sides) {
      const output = `${data}/${row.name}.${side}.out`;
      run(row[side], output);
      runs[side].push(run(row[side], output));
    }
  }
  return { ours: peersOnly ? null : medians(runs.ours), theirs: medians(runs.theirs) };
}

/** Each target as words and whether it is met. */
function verdicts({ target }, { ours, theirs }) {
  const list = [];
  const add = (words, met) => list.push({ words, met });
  const times = (n) => `${n.toFixed(2)}×`;
  if (target.faster) {
    const ratio = theirs.wall / ours.wall;
    add(`${times(ratio)} as fast (at least ${target.faster}×)`, ratio >= target.faster);
  }
  if (target.slower) {
    const ratio = ours.wall / theirs.wall;
    add(`${times(ratio)} its time (at most ${target.slower}×)`, ratio <= target.slower);
  }
  if (target.peakMb) {
    add(`${ours.peakMb.toFixed(0)} MB (under ${target.peakMb} MB)`, ours.peakMb < target.peakMb);
  }
  if (target.shareOfMemory) {
    const share = ours.peakMb / theirs.peakMb;
    add(
      `${share.toFixed(2)} of its memory (at most ${target.shareOfMemory.toFixed(2)})`,
      share <= target.shareOfMemory,
    );
  }
  return list;
}

const headings = ['', 'wall s', 'least–most', 'cpu s', 'peak MB'];
const widths = [14, 8, 14, 8, 8];
const line = (cells) => cells.map((cell, i) => (i === 0 ? cell.padEnd(widths[i]) : cell.padStart(widths[i]))).join('');
const figures = (name, m) =>
  line([
    `  ${name}`,
    m.wall.toFixed(3),
    `${m.least.toFixed(3)}–${m.most.toFixed(3)}`,
    m.cpu.toFixed(3),
    m.peakMb.toFixed(0),
  ]);

function reportTimes(row, taken) {
  console.log(`\n${row.title}  [${row.name}]`);
  console.log(line(headings));
  if (taken.ours) console.log(figures('project', taken.ours));
  console.log(figures(row.target.slower ? 'C scan' : 'peer', taken.theirs));
  if (!taken.ours) return true;
  const list = verdicts(row, taken);
  for (const { words, met } of list) console.log(`  ${met ? 'met   ' : 'MISSED'}  ${words}`);
  return list.every(({ met }) => met);
}

function reportComparison(comparison) {
  const answers = ['ours', 'theirs'].map((side) => {
    const output = `${data}/comparison.${side}.json`;
    run(comparison[side], output);
    return JSON.parse(readFileSync(output, 'utf8'));
  });
  const found = compare(...answers);
  const same = found.faults.length === 0;
  console.log(
    `  ${same ? 'same   ' : 'DIFFERS'}  ${comparison.data}: ${found.captures} captures, ${found.figures} figures, ` +
      `greatest difference ${found.greatest.toExponential(1)}` +
      `${found.atEdge > 0 ? `; ${found.atEdge} readings at a gate's edge left out` : ''}`,
  );
  for (const fault of found.faults.slice(0, 5)) console.log(`           ${fault}`);
  if (found.faults.length > 5) console.log(`           and ${found.faults.length - 5} more`);
  return same;
}

async function main() {
  const { values } = parseArgs({
    options: {
      runs: { type: 'string', default: '5' },
      only: { type: 'string', multiple: true },
      'peers-only': { type: 'boolean', default: false },
    },
  });
  const times = Number(values.runs);
  if (!Number.isInteger(times) || times < 1) refuse('--runs takes a whole number of 1 or more');
  const all = [...rows, ...browserRows];
  const unknown = values.only?.find((name) => !all.some((row) => row.name === name));
  if (unknown) refuse(`--only ${unknown}: choose from ${all.map((row) => row.name).join(', ')}`);
  const peersOnly = values['peers-only'];
  const isChosen = ({ name }) => !values.only || values.only.includes(name);
  const chosen = rows.filter(isChosen);
  const inBrowser = peersOnly ? [] : browserRows.filter(isChosen);
  const sets = new Set(chosen.map((row) => row.data));

  if (chosen.length > 0) {
    requireWhatIsNeeded(peersOnly);
    prepare(sets);
  }
  console.log(`${cpus()[0].model}, ${cpus().length} cores, Node ${process.versions.node}; medians of ${times}`);

  let good = true;
  if (!peersOnly && chosen.length > 0) {
    console.log('\nSame echoes and gate readings as the peer, to 1e-9 µs and 1e-9 % FSH');
    for (const comparison of comparisons) {
      if (sets.has(comparison.data)) good = reportComparison(comparison) && good;
    }
  }
  for (const row of chosen) good = reportTimes(row, timeInTurn(row, times, peersOnly)) && good;
  if (inBrowser.length > 0) {
    if (findChromium() === null) refuse('The rows in the browser need Chromium: apt-get install chromium');
    await buildOrExit(['desktop', 'gallery']);
  }
  for (const row of inBrowser) good = (await measureInBrowser(row, times)) && good;
  process.exitCode = good ? 0 : 1;
}

await main();
