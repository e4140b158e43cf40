import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Command, CommanderError, type Option } from 'commander';
import { problemLine } from '../../../core/outcome.ts';
import { emptyReview } from '../../../core/review/review.ts';
import type { Answer } from '../../../electron/cli/answer.ts';
import { addDistanceCommands, addDriftCommand } from '../../../electron/cli/distance-commands.ts';
import { addEvidenceCommands } from '../../../electron/cli/evidence-commands.ts';
import { addLinearityCommands } from '../../../electron/cli/linearity-commands.ts';
import { addLocateCommand, addProbeCheckCommand } from '../../../electron/cli/location-commands.ts';
import { addProbeCommands } from '../../../electron/cli/probe-commands.ts';
import { Refusal } from '../../../electron/cli/refusal.ts';
import { addScanCommands } from '../../../electron/cli/scan-commands.ts';
import { addSensitivityCommands } from '../../../electron/cli/sensitivity-commands.ts';
import type { Answering, Loading } from '../../../electron/cli/shared-options.ts';
import type { StreamedAnswer } from '../../../electron/cli/streamed-answer.ts';
import type { Chance } from '../chance.ts';
import { edgeNumbers, edgeWords } from '../edges.ts';
import type { Subject, Verdict } from '../subject.ts';
import { slowQuantity } from './slow-quantity.ts';

/**
 * Words on the command line, as a list in JSON. Each command is really run, in this process, on small files in a folder of their own;
 * a word `@name` stands for a file there, and no other file can be named by an option that writes.
 */
export const commandLine: Subject = {
  name: 'arguments',
  ending: 'json',
  make: (chance) => ({ bytes: bytesOf(madeWords(chance)), truth: null }),
  change: (bytes, other, chance) => bytesOf(changedWords(wordsIn(bytes), wordsIn(other), chance)),
  judge: ({ bytes }) => judgeWords(wordsIn(bytes)),
};

const bytesOf = (words: readonly string[]) => new TextEncoder().encode(JSON.stringify(words));

function wordsIn(bytes: Uint8Array): string[] {
  try {
    const words: unknown = JSON.parse(new TextDecoder().decode(bytes));
    return Array.isArray(words) ? words.map(String).slice(0, 60) : [];
  } catch {
    return [];
  }
}

let folder: string | null = null;

function burst(distanceMm: number, gainDb: number): string {
  const rows = Array.from({ length: 1200 }, (_, i) => {
    const time = i * 0.05;
    const at = 5 + (2 * distanceMm) / 5.92;
    const again = 5 + (4 * distanceMm) / 5.92;
    const pulse = (centre: number, height: number) =>
      height * Math.exp(-(((time - centre) / 0.4) ** 2)) * Math.cos(2 * Math.PI * 4 * (time - centre));
    return `${time.toFixed(2)},${(pulse(at, 70) + pulse(again, 30) + 0.3 * Math.sin(i * 12.9898)).toFixed(3)}`;
  });
  return `# gain_db: ${gainDb}\n# position_mm: ${distanceMm}\n# taken_at: 2026-03-02T06:0${Math.round(distanceMm) % 10}:00Z\ntime_us,amplitude_pct\n${rows.join('\n')}\n`;
}

const calibration = {
  velocity_m_per_s: 5920,
  u_velocity_m_per_s: 2,
  zero_offset_us: 5,
  u_zero_offset_us: 0.01,
  covariance_us_us_per_mm: 0,
  degrees_of_freedom: 3,
  points: [],
  settings: {},
};

const contents: Readonly<Record<string, string>> = {
  'a.csv': burst(30, 40),
  'b.csv': burst(31, 42),
  'broken.csv': 'time_us,amplitude_pct\n0,1\n1,x\n',
  'empty.csv': '',
  'calibration.json': JSON.stringify(calibration),
  'review.json': JSON.stringify(emptyReview),
  'recipe.json': '{}',
  'steps.csv': 'gain_db,amplitude_percent\n0,80\n6,40\n',
};

function put(): string {
  if (folder !== null) return folder;
  folder = mkdtempSync(join(tmpdir(), 'workbench-arguments-'));
  const made = folder;
  process.once('exit', () => rmSync(made, { recursive: true, force: true }));
  for (const [name, text] of Object.entries(contents)) writeFileSync(join(folder, name), text);
  return folder;
}

interface Run {
  readonly options: Record<string, unknown>;
  readonly documents: readonly object[];
  readonly words: string;
}

/** All that an answer says, to a program and to a person, whether it comes at once or bit by bit. */
async function saidBy(answer: Answer | StreamedAnswer): Promise<Omit<Run, 'options'>> {
  if (!('additions' in answer)) return { documents: [answer.document], words: answer.words() };
  const documents: object[] = [];
  let words = '';
  for await (const { elements, rows, isUsable } of answer.additions) {
    if (!isUsable) continue;
    documents.push(...elements);
    words += rows().join('\n');
  }
  const end = answer.end();
  return { documents: [...documents, end.document], words: words + end.words };
}

function programFor(run: (answering: Run) => void): Command {
  const answering: Answering = <A extends unknown[]>(load: Loading<A>) => {
    return async (...args: A) => {
      const command = await load();
      const options = args.find(
        (arg): arg is A[number] & Record<string, unknown> => typeof arg === 'object' && !Array.isArray(arg),
      );
      run({ options: options ?? {}, ...(await saidBy(await command(...args))) });
    };
  };
  const program = new Command('cli').exitOverride().configureOutput({ writeErr: () => {}, writeOut: () => {} });
  for (const add of [
    addDistanceCommands,
    addLocateCommand,
    addDriftCommand,
    addSensitivityCommands,
    addScanCommands,
    addProbeCommands,
    addProbeCheckCommand,
    addLinearityCommands,
    addEvidenceCommands,
  ])
    add(program, answering);
  for (const command of program.commands)
    command.exitOverride().configureOutput({ writeErr: () => {}, writeOut: () => {} });
  return program;
}

const plan = programFor(() => {});
const isPath = (option: Option) =>
  /<(?:file|folder|document|recipe|report|list)/.test(option.flags) || /file|folder/.test(option.flags);

/** Values that options are meant to have, one of which may be right. */
const goodValues = [
  '20us',
  '31.5us',
  '60us',
  '100MHz',
  '5920',
  '5920m/s',
  '30mm',
  '0.5mm',
  '12mm',
  '60',
  '45',
  '16mm',
  '20',
  '80',
  '0.5',
  '1',
  '4',
  '2dB',
  '0dB',
  '6,4MHz',
  '6mm,5MHz',
  '10mm,4MHz',
  'percent',
  'volt',
  'time',
  'distance',
  'us',
  'rf',
  'point',
  'comma',
  'peak',
  'crossing',
  'steel',
  'longitudinal',
  'transverse',
  'left',
  'side-drilled-hole',
  'weld=20mm..40mm@20',
  'near=10us..20us@10',
  '30mm@14us..17us',
  '60mm@24us..27us',
  '1.5MHz..9MHz',
  '10us..20us',
  'asme-v-t-466',
  'iso-17640',
  'iso-22232-2',
  '80@46dB',
  'recording=-14dB',
];
const unitsAfter = ['mm', 'us', 'MHz', 'm/s', 'dB', 'deg', '"', 'µs', 'in', ' mm', 'MM', 'furlong', '%'];

function madeWords(chance: Chance): string[] {
  const command = chance.pick(plan.commands);
  const files = Array.from({ length: chance.pick([1, 1, 2]) }, () =>
    chance.pick([
      '@a.csv',
      '@a.csv',
      '@b.csv',
      '@broken.csv',
      '@empty.csv',
      '@a.csv#amplitude_pct',
      '@review.json',
      '@a.csv#9',
      '@none.csv',
      '@',
    ]),
  );
  const words = [command.name(), ...files];
  for (const option of command.options) {
    if (!option.mandatory && !chance.oneIn(option.required ? 5 : 8)) continue;
    words.push(option.long ?? '');
    if (option.required || option.optional)
      words.push(
        isPath(option)
          ? chance.pick(['@calibration.json', '@recipe.json', '@out', '@a.csv', '@none', '@steps.csv', '@review.json'])
          : madeValue(chance),
      );
  }
  // What most commands need, so that they come to run.
  if (chance.oneIn(2) && command.options.some(({ long }) => long === '--calibration'))
    words.push('--calibration', '@calibration.json');
  if (chance.oneIn(2) && command.options.some(({ long }) => long === '--gate'))
    words.push('--gate', 'weld=20mm..40mm@20');
  if (chance.oneIn(2) && command.options.some(({ long }) => long === '--reflector'))
    words.push('--reflector', '30mm@14us..17us', '--reflector', '60mm@24us..27us');
  return words;
}

function madeValue(chance: Chance): string {
  const act = chance.below(10);
  if (act < 6) return chance.pick(goodValues);
  if (act === 6) return chance.pick(edgeNumbers);
  if (act === 7) return chance.pick(edgeNumbers) + chance.pick(unitsAfter);
  if (act === 8) return chance.pick(edgeWords);
  return `${chance.pick(['1', 'weld=', '30mm', '-5us', '1e308mm', '1e-320us'])}${chance.pick(['..', '@', ',', '=', '#'])}${chance.pick([...goodValues, ...edgeNumbers])}`;
}

function changedWords(words: string[], other: string[], chance: Chance): string[] {
  const changed = [...words];
  for (let times = 1 + chance.small(5); times > 0; times--) {
    const at = chance.below(changed.length + 1);
    const act = chance.below(6);
    if (act === 0) changed.splice(at, 1);
    else if (act === 1) changed.splice(at, 0, madeValue(chance));
    else if (act === 2) changed.splice(at, 1, madeValue(chance));
    else if (act === 3) changed.splice(at, 0, ...other.slice(1, 1 + chance.small(8)));
    else if (act === 4 && changed.length > 1)
      changed.splice(
        1 + chance.below(changed.length - 1),
        0,
        chance.pick(plan.commands.flatMap(({ options }) => options)).long ?? '',
      );
    else if (changed.length > 0)
      changed[at % changed.length] = `${changed[at % changed.length]}${chance.pick([...edgeWords, ...unitsAfter])}`;
  }
  return changed;
}

const allOptions = new Map(
  plan.commands.flatMap(({ options }) => options.map((option) => [option.long ?? '', option] as const)),
);

/** Nothing outside the folder can be named where something is written, one thread does, and nothing is so large that it is another trial. */
function tamed(words: readonly string[], root: string): string[] {
  const plainly = words.filter((word) => !/^--[a-z-]+=/.test(word) && !/^-[a-zA-Z]/.test(word));
  return plainly.map((word, i) => {
    const option = allOptions.get(plainly[i - 1] ?? '');
    if (option?.long === '--jobs' && Number(word) > 1) return '1';
    if (/^@[a-z]*(?:\.(?:csv|json))?(?:#\w*)?$/.test(word))
      return word === '@' ? join(root, 'a.csv') : join(root, word.slice(1));
    if (option !== undefined && isPath(option)) return join(root, 'out');
    return /^(?:[./~]|[a-z]:)|[\\/]/i.test(word) && option === undefined ? join(root, 'none') : word;
  });
}

async function judgeWords(given: readonly string[]): Promise<Verdict> {
  const root = put();
  const words = tamed(given, root);
  const faults: string[] = [];
  let ran: Run | null = null;
  let outcome = 'nothing';
  const quiet = quietly();
  try {
    await programFor((run) => {
      ran = run;
    }).parseAsync(words, { from: 'user' });
    outcome = ran === null ? 'nothing' : `ran ${words[0]}`;
  } catch (error) {
    if (error instanceof Refusal) {
      outcome = `refused ${words[0]} ${[...new Set(error.problems.map(({ code, place }) => `${code}${place.file.startsWith('--') ? place.file : ''}`))].sort().slice(0, 3).join('+')}`;
      faults.push(
        ...error.problems
          .filter(({ sentence }) => sentence.length < 8 || ownMistake.test(sentence))
          .map((p) => `without a sentence for a person: ${problemLine(p)}`),
      );
      if (error.problems.length === 0) faults.push('refused without a problem');
    } else if (error instanceof CommanderError) outcome = `refused ${error.code}`;
    else throw error;
  } finally {
    quiet();
    rmSync(join(root, 'out'), { recursive: true, force: true });
  }
  for (const [name, text] of Object.entries(contents)) {
    const path = join(root, name);
    if (!words.some((word) => word.startsWith(path)) || readFileSync(path, 'utf8') === text) continue;
    if (!writesOver(words, path)) faults.push(`${name} was written over`);
    writeFileSync(path, text);
  }
  if (ran !== null) faults.push(...wrongAnswer(ran, words));
  return { outcome, faults };
}

/** The language's own words for a mistake of the program, which must not stand for one of the person's. */
const ownMistake = /cannot read prop|is not a function|not iterable|call stack|array length/i;

/** May an option that was given write there? */
function writesOver(words: readonly string[], path: string): boolean {
  return words.includes('--replace') && words.some((word, i) => word === path && allOptions.has(words[i - 1] ?? ''));
}

function quietly(): () => void {
  const { write } = process.stderr;
  process.stderr.write = () => true;
  return () => {
    process.stderr.write = write;
  };
}

export function wrongAnswer({ options, documents, words: said }: Run, words: readonly string[]): string[] {
  const faults: string[] = [];
  if (said.includes('NaN') || said.includes('undefined')) faults.push('a person reads NaN or undefined');
  const odd = notFinite(documents, '');
  if (odd !== null) faults.push(`${odd} is no finite number`);
  for (const [name, value] of Object.entries(options)) {
    if (typeof value !== 'number') continue;
    const long = `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
    const given = words.filter((_, i) => words[i - 1] === long).at(-1);
    if (given === undefined) continue;
    const close = slowQuantity(given).some((meant) => Math.abs(meant - value) <= 1e-12 * Math.abs(meant));
    if (!close) faults.push(`${long} ${given} was taken as ${value}`);
  }
  return faults;
}

/** Where a document holds a number that JSON would turn into nothing. */
function notFinite(value: unknown, path: string): string | null {
  if (typeof value === 'number') return Number.isFinite(value) ? null : path;
  if (typeof value !== 'object' || value === null) return null;
  for (const [key, inside] of Object.entries(value)) {
    const found = notFinite(inside, `${path}.${key}`);
    if (found !== null) return found;
  }
  return null;
}
