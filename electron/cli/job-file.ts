import { createHash } from 'node:crypto';
import { closeSync, openSync, readdirSync, readFileSync, readSync, writeSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Manifest } from '../../core/import/manifest.ts';
import { type Problem, problem } from '../../core/outcome.ts';
import { codeOf, diskWords } from '../disk/disk-words.ts';
import { report } from './answer.ts';
import type { InputDone, WorkSettings } from './input-work.ts';
import type { Input } from './inputs.ts';
import { Refusal } from './refusal.ts';

/**
 * What is done of a large job, so that an end in the middle costs little:
 *
 *     {"format":"ascan-job","version":1,"settings":{…}}                      by what it is done
 *     CHECK ["capture-1.csv",null,"HASH OF ITS BYTES","HASH OF FACTS"]⇥{…}   one line for each input whose results are whole
 *
 * Lines are only added. Each carries a check over the rest of it: one that was cut off, or changed, counts as not there. An input that had a problem has no line,
 * and is tried again. Where an input has several, the last one holds.
 */
export interface Job {
  readonly file: string;
  /** The hash of an input's bytes when its results were kept; `null` where there are none, or where the manifests say something else of it now. */
  keptHash(input: Input, manifests: readonly Manifest[]): string | null;
  /** The results kept of an input of which there is a hash. */
  kept(input: Input): InputDone;
  /** Adds what came of an input. A disk that takes no more stops the keeping and not the work. */
  keep(input: Input, manifests: readonly Manifest[], done: InputDone): void;
  close(): void;
}

const version = 1;

/** Where a line stands, and what it is of. */
interface Place {
  readonly at: number;
  readonly length: number;
  readonly sha256: string;
  readonly facts: string;
}

/** Opens the job in a file, or begins it there once there is something to keep. Refuses a file that is something else, and a job that was begun in another manner. */
export function openJob(file: string, settings: WorkSettings): Job {
  const head = `${JSON.stringify({ format: 'ascan-job', version, settings: { ...settings, program: programHash() } })}\n`;
  return new JobFile(file, head, existing(file, head));
}

class JobFile implements Job {
  private used = 0;
  private readonly changed: string[] = [];
  private readonly named = new Set<string>();
  private writing: number | null = null;
  private failed = false;
  private readonly places: Existing['places'];

  constructor(
    readonly file: string,
    private readonly head: string,
    private readonly existing: Existing,
  ) {
    this.places = existing.places;
  }

  keptHash(input: Input, manifests: readonly Manifest[]): string | null {
    const key = keyOf(input);
    if (this.places.size > 0) this.named.add(key);
    const place = this.places.get(key);
    if (place === undefined) return null;
    return place.facts === factsHash(manifests) ? place.sha256 : null;
  }

  kept(input: Input): InputDone {
    this.used++;
    const place = this.places.get(keyOf(input))!;
    const line = lineAt(this.existing.descriptor!, place.at, place.length);
    return JSON.parse(line.subarray(line.indexOf(tab) + 1).toString('utf8'), withOddNumbers) as InputDone;
  }

  keep(input: Input, manifests: readonly Manifest[], done: InputDone): void {
    if (this.places.has(keyOf(input))) this.changed.push(input.file);
    if (this.failed || done.sha256 === null || done.problems.length > 0) return;
    const key = JSON.stringify([input.file, input.trace, done.sha256, factsHash(manifests)]);
    const rest = `${key}\t${JSON.stringify(done, oddNumbers)}`;
    try {
      this.writing ??= this.begin();
      writeAll(this.writing, Buffer.from(`${checkOf(rest)} ${rest}\n`, 'utf8'));
    } catch (error) {
      this.failed = true;
      const { reason, advice } = diskWords(error);
      report([
        problem(
          'unwritable',
          { file: this.file },
          `no more results can be kept: ${reason}; ${advice}. The work goes on without`,
        ),
      ]);
    }
  }

  close(): void {
    for (const descriptor of [this.existing.descriptor, this.writing]) if (descriptor !== null) closeSync(descriptor);
    report(this.remarks());
  }

  private begin(): number {
    const { begun, endsWhole } = this.existing;
    const writing = openSync(this.file, begun ? 'a' : 'w');
    if (!begun) writeAll(writing, Buffer.from(this.head, 'utf8'));
    // What a sudden end left of a line ends here.
    else if (!endsWhole) writeAll(writing, Buffer.from('\n', 'utf8'));
    return writing;
  }

  private remarks(): Problem[] {
    if (this.places.size === 0) return [];
    const gone = [...this.places.keys()]
      .filter((key) => !this.named.has(key))
      .map((key) => JSON.parse(key)[0] as string);
    const words = [
      `${counted(this.used)} done already`,
      ...(this.changed.length === 0
        ? []
        : [`${counted(this.changed)} read anew, changed since: ${listed(this.changed)}`]),
      ...(gone.length === 0 ? [] : [`${counted(gone)} left out, no longer named: ${listed(gone)}`]),
    ];
    return [problem('resumed', { file: this.file }, words.join('; '))];
  }
}

function counted(files: number | readonly string[]): string {
  const count = typeof files === 'number' ? files : files.length;
  return count === 1 ? '1 file was' : `${count} files were`;
}

function listed(files: readonly string[]): string {
  const most = 5;
  return files.length <= most ? files.join(', ') : `${files.slice(0, most).join(', ')} and ${files.length - most} more`;
}

const tab = 9;
const lineEnd = 10;
const checkLength = 16;

/** What a job's file holds already. */
interface Existing {
  /** `null` where there is no file. */
  readonly descriptor: number | null;
  /** Whether its first line is there, whole. */
  readonly begun: boolean;
  readonly endsWhole: boolean;
  /** Where the whole lines stand. */
  readonly places: ReadonlyMap<string, Place>;
}

function existing(file: string, head: string): Existing {
  const places = new Map<string, Place>();
  let descriptor: number;
  try {
    descriptor = openSync(file, 'r');
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return { descriptor: null, begun: false, endsWhole: true, places };
    refuse(file, `the job file cannot be read: ${diskWords(error).reason}; give another name`);
  }
  let begun = false;
  let endsWhole = true;
  for (const { at, length, isWhole } of linesOf(descriptor)) {
    const line = lineAt(descriptor, at, length);
    endsWhole = isWhole;
    if (!begun) {
      const isCutOff = !isWhole && head.startsWith(line.toString('utf8'));
      if (!isCutOff)
        refuseOther(
          file,
          `${line.toString('utf8')}
`,
          head,
        );
      begun = !isCutOff;
      continue;
    }
    const read = isWhole ? placeOf(line, at) : null;
    if (read !== null) places.set(read.key, read.place);
  }
  return { descriptor, begun, endsWhole, places };
}

function placeOf(line: Buffer, at: number): { readonly key: string; readonly place: Place } | null {
  const rest = line.subarray(checkLength + 1);
  const end = rest.indexOf(tab);
  if (end < 0 || checkOf(rest) !== line.subarray(0, checkLength).toString('latin1')) return null;
  const [file, trace, sha256, facts] = JSON.parse(rest.subarray(0, end).toString('utf8')) as [
    string,
    string | null,
    string,
    string,
  ];
  return { key: keyOf({ file, trace }), place: { at, length: line.length, sha256, facts } };
}

function* linesOf(descriptor: number): Generator<{ at: number; length: number; isWhole: boolean }> {
  const buffer = Buffer.allocUnsafe(1 << 20);
  let began = 0;
  let at = 0;
  for (;;) {
    const length = readSync(descriptor, buffer, 0, buffer.length, at);
    if (length === 0) break;
    const part = buffer.subarray(0, length);
    for (let end = part.indexOf(lineEnd); end >= 0; end = part.indexOf(lineEnd, end + 1)) {
      yield { at: began, length: at + end - began, isWhole: true };
      began = at + end + 1;
    }
    at += length;
  }
  if (at > began) yield { at: began, length: at - began, isWhole: false };
}

function lineAt(descriptor: number, at: number, length: number): Buffer {
  const line = Buffer.allocUnsafe(length);
  let read = 0;
  for (let more = 1; read < length && more > 0; read += more)
    more = readSync(descriptor, line, read, length - read, at + read);
  return line.subarray(0, read);
}

function writeAll(descriptor: number, bytes: Buffer): void {
  for (let from = 0; from < bytes.length; ) from += writeSync(descriptor, bytes, from);
}

/** Results are only as good as what they were made by: a job that was begun in another manner is not gone on with. */
function refuseOther(file: string, there: string, head: string): void {
  if (there === head) return;
  const [before, now] = [settingsIn(there), settingsIn(head)];
  if (before === null || now === null)
    refuse(file, 'this is no job file; give the name of one, or of a file that is not there yet');
  if (before.program !== now.program)
    refuse(
      file,
      'this job was begun by another version of the program, whose results may differ; begin another one under a new name',
    );
  const names = differences({ ...before, program: null }, { ...now, program: null });
  refuse(
    file,
    `this job was begun with other options (${names.join(', ')}); give the same as then, or begin another job under a new name`,
  );
}

function settingsIn(head: string): Record<string, unknown> | null {
  try {
    const { format, version: its, settings } = JSON.parse(head);
    return format === 'ascan-job' && its === version && typeof settings === 'object' ? settings : null;
  } catch {
    return null;
  }
}

/** The settings that differ, by the names of the innermost that have any. */
function differences(before: object, now: object): string[] {
  const keys = [...new Set([...Object.keys(before), ...Object.keys(now)])];
  return keys.flatMap((key) => {
    const [a, b] = [(before as Record<string, unknown>)[key], (now as Record<string, unknown>)[key]];
    if (JSON.stringify(a) === JSON.stringify(b)) return [];
    const areObjects = [a, b].every((each) => typeof each === 'object' && each !== null && !Array.isArray(each));
    return areObjects && key !== 'calibration' ? differences(a as object, b as object) : [key];
  });
}

function refuse(file: string, sentence: string): never {
  throw new Refusal([problem('job', { file }, sentence)]);
}

function keyOf({ file, trace }: Input): string {
  return JSON.stringify([file, trace]);
}

function checkOf(rest: string | Buffer): string {
  return createHash('sha256').update(rest).digest('hex').slice(0, checkLength);
}

/** What the manifests say of one input, whatever line it stands in. */
function factsHash(manifests: readonly Manifest[]): string {
  if (manifests.length === 0) return '';
  const said = manifests.map(({ file, rows }) => ({ file, rows: rows.map((row) => ({ ...row, line: 0 })) }));
  return checkOf(JSON.stringify(said));
}

/** JSON knows no −0 and nothing infinite. */
function oddNumbers(_key: string, value: unknown): unknown {
  return typeof value === 'number' && (!Number.isFinite(value) || Object.is(value, -0))
    ? { odd: Object.is(value, -0) ? '-0' : String(value) }
    : value;
}

function withOddNumbers(_key: string, value: unknown): unknown {
  return typeof value === 'object' && value !== null && 'odd' in value ? Number(value.odd) : value;
}

/** Of the program as it is built. */
function programHash(): string {
  const folder = fileURLToPath(new URL('.', import.meta.url));
  const hash = createHash('sha256');
  for (const name of readdirSync(folder).sort())
    if (name.endsWith('.js')) hash.update(`${name}\n`).update(readFileSync(`${folder}${name}`));
  return hash.digest('hex').slice(0, checkLength);
}
