// Inputs made to take time or memory out of proportion, each as long as is told, one after the other in this one process. It is watched by the one that
// started it: a line comes out before each input, so that the one at which it stands still is known, and the peak of its memory at the end.
import { existsSync, readFileSync } from 'node:fs';
import { readDescriptor } from '../../core/evidence/descriptor.ts';
import { readZipDirectory, readZipEntry } from '../../core/evidence/read-zip.ts';
import { parseGate } from '../../core/gate/parse-gate.ts';
import { importBytes, startImport } from '../../core/import/import-file.ts';
import { inferEverything } from '../../core/import/import-recipe.ts';
import { readManifest } from '../../core/import/manifest.ts';
import { readRecipe } from '../../core/import/recipe-file.ts';
import type { Outcome } from '../../core/outcome.ts';
import { openReview } from '../../core/review/open-review.ts';
import { readStatedProbes, readStatedRule } from '../../core/review/stated-probes.ts';
import { parseQuantity, parseSpan } from '../../core/units/parse-quantity.ts';
import { sourceOf, zipBytes } from '../build/zip.ts';

const size = Number(process.argv[2]);
/** Only the inputs whose names hold this. */
const only = process.argv[3] ?? '';
const text = (words: string) => new Uint8Array(Buffer.from(words, 'latin1'));
/** So many bytes of something said again and again. */
const full = (words: string) => words.repeat(Math.ceil(size / words.length)).slice(0, size);
const rows = (from = 0, count = 40) =>
  Array.from({ length: count }, (_, i) => `${((from + i) / 100).toFixed(2)},${((i * 37) % 100) - 50}\n`).join('');
const plain = `time_us,a_pct\n${rows()}`;

const waveforms: readonly (readonly [string, () => string])[] = [
  ['blanks in a name', () => `time_us,a${' '.repeat(size)}b\n${rows()}`],
  ['brackets in a name', () => `time_us,${full('(')}\n${rows()}`],
  ['brackets and blanks in a name', () => `time_us,a${full(' ( ')}b\n${rows()}`],
  ['a name of one small word', () => `time_us,${full('in ')}%%\n${rows()}`],
  ['blanks in a preamble', () => `# a${' '.repeat(size)}b\n${plain}`],
  ['blanks in a key', () => `# a${' '.repeat(size)}b: 5\n${plain}`],
  ['equals signs in a key', () => `a${'='.repeat(size)}b\n${plain}`],
  ['quotation marks and commas in a preamble', () => `note ${full(',";')}x\n${plain}`],
  ['a gain of points', () => `# gain_db: 1${full('1.')}x\n${plain}`],
  ['a gain of digits and no unit', () => `# gain_db: ${full('1')} \u0085\n${plain}`],
  ['a time of blanks', () => `# taken_at: 2026-01-01T${' '.repeat(size)}x\n${plain}`],
  ['carriage returns, and a line feed at the end', () => `${'\r'.repeat(size)}\n`],
  ['short lines that end with CR, and a line feed at the end', () => `${full('a\r')}\n${plain}`],
  ['carriage returns in a row', () => `${plain}0.40${'\r'.repeat(size)}x\n${rows(41)}`],
  ['carriage returns at the end of a row', () => `${plain}0.40,5${'\r'.repeat(size)}\n${rows(41)}`],
  ['blanks in a row', () => `time_us a_pct\n${rows().replaceAll(',', ' ')}0.40${' '.repeat(size)}x\n`],
  ['wide blanks in a row', () => `time_us a_pct\n${rows().replaceAll(',', ' ')}0.40${full('\u00a0')}(x\n`],
  ['quotation marks', () => `${plain}0.40,${full('"')}\n${rows(41)}`],
  ['quoted blanks', () => `${plain}0.40,${full('"" ')}\n${rows(41)}`],
  ['open quotation marks, line by line', () => `${plain}${full('"\n')}`],
  ['groups of thousands', () => `${plain}0.40,1${full(',234')}.5\n`],
  ['digits', () => `${plain}0.40,${full('7')}\n`],
  ['decimals', () => `${plain}0.40,0.${full('7')}\n`],
  ['digits of an exponent', () => `${plain}0.40,1e${full('7')}\n`],
  ['minus signs', () => `${plain}0.40,${full('-')}\n`],
  ['lines with nothing', () => `${plain}${full('\n')}`],
  ['comments', () => `${plain}${full('#\n')}`],
  ['comments that say something', () => `${plain}${full('# a: b\n')}`],
  ['rows of delimiters', () => `${plain}${full(',\n')}`],
  ['odd rows', () => `time_us,a_pct\n${oddRows()}`],
  ['rows that are odd in turn', () => `time_us,a_pct\n${rowsInTurn()}`],
  ['a capture for every row', () => `capture,time_us,a_pct\n${captures((i) => i)}`],
  ['two captures in turn', () => `capture,time_us,a_pct\n${captures((i) => i % 2, true)}`],
  ['captures with names of their own', () => `capture,time_us,a_pct\n${captures((i) => `c${i}`)}`],
  ['captures with long numbers', () => `capture,time_us,a_pct\n${captures((i) => 2 ** 60 + i * 256)}`],
  ['columns', () => `time_us,${full('a,')}\n${full('1,')}\n${full('2,')}\n`],
  ['columns, as many as are read', () => wide()],
  ['bytes that are no UTF-8', () => `time_us,a_pct\n${rows()}${full('\xff\n')}`],
  ['zero bytes', () => `${plain}${'\u0000'.repeat(size)}`],
];

function oddRows(): string {
  return Array.from({ length: Math.ceil(size / 14) }, (_, i) => `"${(i / 100).toFixed(2)}","${(i % 7) - 3}"\n`).join(
    '',
  );
}

function rowsInTurn(): string {
  return Array.from({ length: Math.ceil(size / 10) }, (_, i) =>
    i % 2 === 0 ? `${(i / 100).toFixed(2)},${(i % 7) - 3}\n` : `"${(i / 100).toFixed(2)}",${(i % 7) - 3}\n`,
  ).join('');
}

function captures(id: (i: number) => number | string, isPaired = false): string {
  return Array.from(
    { length: Math.ceil(size / 12) },
    (_, i) => `${id(i)},${isPaired ? i >> 1 : i},${(i % 3) - 1}\n`,
  ).join('');
}

function wide(): string {
  const columns = Math.min(16_383, Math.floor(size / 60));
  const line = (value: (i: number) => string) => Array.from({ length: columns }, (_, i) => value(i)).join(',');
  const head = `time_us,${line((i) => `a${i}_pct`)}\n`;
  const body = Array.from(
    { length: Math.max(3, Math.floor((size - head.length) / (columns * 2))) },
    (_, i) => `${i / 100},${line((j) => `${(i + j) % 10}`)}\n`,
  );
  return head + body.join('');
}

const documents: readonly (readonly [string, () => string])[] = [
  ['lists in lists', () => full('[')],
  ['lists in lists, closed', () => `${'['.repeat(size / 2)}${']'.repeat(size / 2)}`],
  ['objects in objects', () => full('{"a":')],
  ['one name again and again', () => `{${full('"a":1,')}"b":1}`],
  [
    'names twice in many objects',
    () => `[${full('{"a":1,"a":1},')}1]`.replace(/\{"?a?"?:?1?,?"?a?"?:?\d?,?1\]$/, '1]'),
  ],
  [
    'wrong items',
    () =>
      `{"format":"ascan-review","version":2,"sources":[${'7,'.repeat(size / 2)}7],"probes":[${'7,'.repeat(size / 2)}7]}`,
  ],
  [
    'wrong names',
    () =>
      `{"format":"ascan-review","version":2,${Array.from({ length: Math.ceil(size / 12) }, (_, i) => `"x${i}":1,`).join('')}"y":1}`,
  ],
  ['commas', () => full(',')],
  ['one long text', () => `{"title":"${full('a')}"}`],
  ['backslashes', () => `{"title":"${full('\\\\')}"}`.replace(/\\"\}$/, '"}')],
  ['lines, and a fault at their end', () => `${full('\n')}]`],
  ['digits', () => `[${full('7')}]`],
];

const argumentsOfAll: readonly string[] = [
  '1'.repeat(size),
  `${'1'.repeat(size)}mm`,
  ' '.repeat(size),
  `1${' '.repeat(size)}x`,
  full('1.'),
  full('..'),
  full('='),
  full('@'),
  `a=${full('1mm..')}@5`,
];

const archives: readonly (readonly [string, () => Uint8Array])[] = [
  [
    'names of files',
    () =>
      zipBytes(
        Array.from({ length: Math.min(19_999, Math.ceil(size / 200)) }, (_, i) => ({
          name: `${'a/'.repeat(50)}${i}.csv`,
          data: text('1'),
        })),
      ),
  ],
  ['one name of all', () => zipBytes([{ name: 'a'.repeat(60_000), data: text('1') }])],
  [
    'ends of a ZIP file in its comment',
    () => zipBytes([{ name: 'a', data: text('1') }], { comment: 'PK\u0005\u0006'.repeat(16_000) }),
  ],
];

/** Of this program alone: what the system counts for a process begins, on Linux, with the one that started it. */
function mostResidentBytes(): number {
  const status = '/proc/self/status';
  const own = existsSync(status) ? /^VmHWM:\s+(\d+) kB$/m.exec(readFileSync(status, 'utf8')) : null;
  return 1024 * (own === null ? process.resourceUsage().maxRSS : Number(own[1]));
}

let worst = 0;
const told: { name: string; result: string }[] = [];

function run(name: string, read: () => Outcome<unknown> | { readonly ok: boolean }): void {
  if (!name.includes(only)) return;
  process.stdout.write(`${name}\n`);
  const outcome = read();
  told.push({ name, result: outcome.ok ? 'read' : 'refused' });
  if (outcome.ok === false && 'problems' in outcome && outcome.problems.length > 20) {
    process.stdout.write(`! ${outcome.problems.length} problems at once\n`);
    process.exitCode = 1;
  }
  globalThis.gc?.();
}

const baseBytes = mostResidentBytes();

for (const [name, make] of waveforms) {
  if (!['waveform', 'waveform in pieces', 'manifest'].some((kind) => `${kind}: ${name}`.includes(only))) continue;
  const bytes = text(make());
  worst = Math.max(worst, bytes.length);
  run(`waveform: ${name}`, () => importBytes('a.csv', bytes, inferEverything, null));
  run(`waveform in pieces: ${name}`, () => {
    const running = startImport('a.csv', inferEverything);
    for (let at = 0; at < bytes.length; at += 65_536) running.push(bytes.subarray(at, at + 65_536));
    return running.finish(null);
  });
  const table = text(make().replace('time_us', 'file').replace('a_pct', 'gain_db'));
  run(`manifest: ${name}`, () => readManifest('m.csv', table));
}
for (const [name, make] of documents) {
  const words = make();
  worst = Math.max(worst, words.length);
  run(`review: ${name}`, () => openReview('r.json', words));
  run(`recipe: ${name}`, () => readRecipe('r.json', words));
  run(`stated probes: ${name}`, () => readStatedProbes('r.json', words));
  run(`rule: ${name}`, () => readStatedRule('r.json', words));
  run(`descriptor: ${name}`, () => readDescriptor(words));
}
for (const [i, words] of argumentsOfAll.entries()) {
  run(`argument: ${i}`, () => parseQuantity(words, 'length'));
  run(`argument, span: ${i}`, () => parseSpan(words, 'time'));
  run(`argument, gate: ${i}`, () => parseGate(words));
}
for (const [name, make] of archives) {
  run(`archive: ${name}`, () => {
    const source = sourceOf(make());
    const entries = readZipDirectory('a.zip', source);
    if (entries.ok) for (const entry of entries.value) readZipEntry('a.zip', source, entry, () => {});
    return entries;
  });
}

const peakBytes = mostResidentBytes();
process.stdout.write(
  `${JSON.stringify({ inputs: told.length, largestBytes: worst, baseBytes, peakBytes, results: told })}\n`,
);
