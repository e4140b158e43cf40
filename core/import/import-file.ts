import type { Capture, MetadataEntry } from '../capture/capture.ts';
import { type AxisVerdict, resampleLinear } from '../capture/uniform-axis.ts';
import type { AmplitudeUnit, Rectification } from '../capture/waveform.ts';
import { invariant } from '../invariant.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import { type Amplitudes, amplitudesOf } from './amplitudes.ts';
import { BodyReader } from './body.ts';
import { type ColumnPlan, planColumns } from './columns.ts';
import { type ReadFacts, readFacts } from './facts.ts';
import { type Head, readHead } from './head.ts';
import type { DecimalMark, Delimiter, Encoding, ImportRecipe } from './import-recipe.ts';
import { readPreambleLine } from './preamble.ts';
import { type RowGroup, RowGroups } from './row-groups.ts';
import { detectEncoding, Utf16ToUtf8 } from './text.ts';
import { axisProblem, type TimeAxis, timeAxisOf } from './time-axis.ts';

/** What was understood of one trace; `null` where the file does not say and it could not be told. */
export interface TraceDescription {
  readonly name: string;
  readonly samples: number;
  readonly startUs: number | null;
  readonly stepUs: number | null;
  readonly amplitudeUnit: AmplitudeUnit | null;
  readonly rectification: Rectification;
}

/** A file that was read whole. `captures` is empty as long as `asks` is not: what a person must say before it can be measured with. */
export interface ImportedFile {
  readonly file: string;
  /** As the caller gave it to `finish`. */
  readonly sha256: string | null;
  readonly bytes: number;
  readonly encoding: Encoding;
  /** `null` where there is one column only. */
  readonly delimiter: Delimiter | null;
  readonly decimalMark: DecimalMark;
  readonly traces: readonly TraceDescription[];
  readonly metadata: readonly MetadataEntry[];
  readonly captures: readonly Capture[];
  /** Completed by what was inferred: import of the next file of this shape needs no inference. */
  readonly recipe: ImportRecipe;
  readonly asks: readonly Problem[];
  readonly warnings: readonly Problem[];
}

export interface RunningImport {
  /** Takes the next bytes and keeps none of them. Returns the problems so far; there is no use in going on where there are any. */
  push(chunk: Uint8Array): readonly Problem[];
  finish(sha256: string | null): Outcome<ImportedFile>;
}

/** The head is judged on this many bytes, doubled while they do not suffice. Pieces and whole are judged alike. */
const headBytes = 64 * 1024;
const mostHeadBytes = 2 * 1024 * 1024;

/**
 * Reads one exported waveform file from bytes to captures.
 *
 *     bytes -> encoding -> head (preamble, header, delimiter, decimal mark) -> columns' meaning -> rows -> axis and amplitudes -> captures
 *
 * `file` is the name under which problems are reported. Nothing half-read is given out: a file with a problem has no captures.
 */
export function startImport(file: string, recipe: ImportRecipe): RunningImport {
  return new FileImport(file, recipe);
}

/** The same for bytes that are all at hand. `sha256` is that of the bytes, where the caller knows it. */
export function importBytes(
  file: string,
  bytes: Uint8Array,
  recipe: ImportRecipe,
  sha256: string | null,
): Outcome<ImportedFile> {
  const running = new FileImport(file, recipe);
  running.pushWhole(bytes);
  return running.finish(sha256);
}

/** A view without a host's own methods: a `slice` of Node's buffers, for one, would not copy. */
function plainView(bytes: Uint8Array): Uint8Array {
  return new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.length);
}

/** What is known once the head is read. */
interface Opened {
  readonly head: Head;
  readonly read: ReadFacts;
  readonly plan: ColumnPlan;
  readonly groups: RowGroups;
  readonly body: BodyReader;
}

class FileImport implements RunningImport {
  private readonly file: string;
  private readonly recipe: ImportRecipe;
  private bytes = 0;
  private waiting: Uint8Array[] = [];
  private waitingLength = 0;
  private window = headBytes;
  private encoding: Encoding | null = null;
  private transcoder: Utf16ToUtf8 | null = null;
  private opened: Opened | null = null;
  private problems: readonly Problem[] = [];

  constructor(file: string, recipe: ImportRecipe) {
    this.file = file;
    this.recipe = recipe;
  }

  push(chunk: Uint8Array): readonly Problem[] {
    const bytes = plainView(chunk);
    this.bytes += bytes.length;
    if (this.problems.length > 0) return this.problems;
    if (this.opened !== null) this.opened.body.push(this.transcoder === null ? bytes : this.transcoder.push(bytes));
    else if (this.waitingLength === 0 && bytes.length > this.window) this.open(bytes, false);
    else this.wait(bytes);
    return this.fatal();
  }

  /** All of a file at once: what fits the head's window is not copied. */
  pushWhole(chunk: Uint8Array): void {
    const bytes = plainView(chunk);
    if (bytes.length > this.window) {
      this.push(bytes);
    } else {
      this.bytes = bytes.length;
      this.open(bytes, true);
    }
  }

  finish(sha256: string | null): Outcome<ImportedFile> {
    if (this.problems.length === 0 && this.opened === null) this.open(this.takeWaiting(), true);
    this.opened?.body.finish();
    const problems = this.fatal();
    if (problems.length > 0) return failure(...problems);
    invariant(this.opened !== null && this.encoding !== null, 'a file without problems was opened');
    return assemble({
      ...this.opened,
      file: this.file,
      recipe: this.recipe,
      bytes: this.bytes,
      encoding: this.encoding,
      sha256,
    });
  }

  private fatal(): readonly Problem[] {
    return this.problems.length > 0 ? this.problems : (this.opened?.body.problems ?? []);
  }

  private wait(bytes: Uint8Array): void {
    this.waiting.push(bytes.slice());
    this.waitingLength += bytes.length;
    if (this.waitingLength > this.window) this.open(this.takeWaiting(), false);
  }

  private takeWaiting(): Uint8Array {
    const whole = this.waiting.length === 1 ? this.waiting[0] : new Uint8Array(this.waitingLength);
    if (this.waiting.length !== 1) {
      let at = 0;
      for (const piece of this.waiting) {
        whole.set(piece, at);
        at += piece.length;
      }
    }
    this.waiting = [];
    this.waitingLength = 0;
    return whole;
  }

  private open(bytes: Uint8Array, isWhole: boolean): void {
    const detected = detectEncoding(this.file, bytes.subarray(0, headBytes), this.recipe.encoding);
    if (!detected.ok) {
      this.problems = detected.problems;
      return;
    }
    const { encoding, skip } = detected.value;
    for (;;) {
      const isAll = bytes.length <= this.window;
      if (isAll && !isWhole) {
        this.wait(bytes);
        return;
      }
      const transcoder = encoding === 'utf-16le' || encoding === 'utf-16be' ? new Utf16ToUtf8(encoding) : null;
      const raw = bytes.subarray(skip, isAll ? bytes.length : this.window);
      const start = transcoder === null ? raw : transcoder.push(raw);
      const head = readHead(
        this.file,
        { bytes: start, isWhole: isAll, isMost: this.window >= mostHeadBytes },
        encoding === 'latin-1',
        this.recipe,
      );
      if (head !== null) {
        this.transcoder = transcoder;
        this.encoding = encoding;
        this.begin(head, start, bytes.subarray(raw.length + skip));
        return;
      }
      this.window *= 2;
    }
  }

  private begin(head: Outcome<Head>, start: Uint8Array, rest: Uint8Array): void {
    if (!head.ok) {
      this.problems = head.problems;
      return;
    }
    if (head.value.latin1 && this.encoding === 'utf-8') this.encoding = 'latin-1';
    const read = readFacts(this.file, head.value.preamble, this.recipe);
    const plan = planColumns(this.file, head.value, read.facts, this.recipe);
    if (!plan.ok) {
      this.problems = plan.problems;
      return;
    }
    const groups = new RowGroups(plan.value, head.value.fields, this.recipe.uneven === 'resample');
    const body = new BodyReader(
      this.file,
      { ...head.value, roles: plan.value.roles, names: plan.value.names },
      head.value.firstLine,
      groups,
    );
    this.opened = { head: head.value, read, plan: plan.value, groups, body };
    body.push(start.subarray(head.value.offset));
    if (rest.length > 0) body.push(this.transcoder === null ? rest : this.transcoder.push(rest));
  }
}

interface Whole extends Opened {
  readonly file: string;
  readonly recipe: ImportRecipe;
  readonly bytes: number;
  readonly encoding: Encoding;
  readonly sha256: string | null;
}

/** One capture to be: its trace's name, its axis and its samples. */
interface Record {
  readonly name: string;
  readonly axis: TimeAxis;
  readonly amplitudes: Amplitudes;
}

function assemble(whole: Whole): Outcome<ImportedFile> {
  const { file, recipe, plan, groups, body, read, head } = whole;
  const doubts = new DoubtList();
  doubts.add(read.asks, [...head.warnings, ...plan.warnings, ...body.warnings, ...read.warnings]);
  const records: Record[] = [];
  const problems: Problem[] = [];
  for (const group of groups.groups) {
    const made = recordsOf(whole, group, doubts);
    if (made.ok) records.push(...made.value);
    else problems.push(...made.problems);
  }
  if (problems.length > 0) return failure(...problems.slice(0, mostAxisProblems));
  for (const { axis, amplitudes } of records)
    doubts.add([...axis.asks, ...amplitudes.asks], [...axis.warnings, ...amplitudes.warnings]);
  const metadata = [
    ...head.preamble,
    ...body.notes.map((line) => readPreambleLine(line, head.delimiter)).filter((entry) => entry !== null),
  ];
  return success({
    file,
    sha256: whole.sha256,
    bytes: whole.bytes,
    encoding: whole.encoding,
    delimiter: head.delimiter,
    decimalMark: body.decimalMark ?? '.',
    traces: records.map(describe),
    metadata,
    captures: doubts.asks.length > 0 ? [] : records.map((record) => captureOf(whole, record, metadata)),
    recipe: completed(recipe, whole, records),
    asks: doubts.asks,
    warnings: doubts.warnings,
  });
}

const mostAxisProblems = 20;

/** Asks and warnings of all traces, each sentence once. */
class DoubtList {
  readonly asks: Problem[] = [];
  readonly warnings: Problem[] = [];
  private readonly seen = new Map<string, number>();

  add(asks: readonly Problem[], warnings: readonly Problem[]): void {
    for (const ask of asks) if (this.isNew(ask)) this.asks.push(ask);
    for (const warning of warnings) if (this.isNew(warning)) this.warnings.push(warning);
  }

  /** Of one kind at most three are told: they differ by the trace's name alone. */
  private isNew({ code, sentence }: Problem): boolean {
    if (this.seen.has(sentence)) return false;
    const count = this.seen.get(code) ?? 0;
    this.seen.set(sentence, 1);
    this.seen.set(code, count + 1);
    return count < 3;
  }
}

function recordsOf(whole: Whole, group: RowGroup, doubts: DoubtList): Outcome<readonly Record[]> {
  const { file, plan, read, recipe } = whole;
  if (group.rows < 2) {
    return failure(
      problem(
        'one-sample',
        { file, line: lineOf(whole, group, 0), column: 1 },
        `There is only one sample${group.id === null ? '' : ` of capture ‘${group.id}’`}: a waveform needs at least two. Export the waveform again.`,
      ),
    );
  }
  const verdict = group.axis?.verdict() ?? null;
  const stamps = verdict?.kind === 'uneven' ? (group.stamps?.whole() ?? null) : null;
  const even = stamps !== null && verdict?.kind === 'uneven' ? evened(whole, group, verdict, stamps, doubts) : verdict;
  if (even !== null && even.kind !== 'uniform') {
    return failure(
      ...[
        axisProblem(
          file,
          even,
          plan.axis?.name ?? '',
          'index' in even ? lineOf(whole, group, even.index) : null,
          plan.axis === null ? null : plan.axis.field === 0 ? 1 : null,
        ),
      ].filter((p) => p !== null),
    );
  }
  const axis = timeAxisOf({ file, facts: read.facts, recipe, plan }, even);
  return success(
    plan.traces.map((column, i) => {
      const trace = group.traces[i];
      const written = trace.whole();
      const samples = stamps === null ? written : resampleLinear(stamps, written);
      return {
        name: nameOf(group, column.name, plan),
        axis,
        amplitudes: amplitudesOf(file, column, samples, trace.shape, read.facts, recipe),
      };
    }),
  );
}

function evened(
  whole: Whole,
  group: RowGroup,
  verdict: Extract<AxisVerdict, { kind: 'uneven' }>,
  stamps: Float64Array,
  doubts: DoubtList,
): AxisVerdict {
  const place = { file: whole.file, line: lineOf(whole, group, verdict.index) };
  doubts.add(
    [],
    [
      problem(
        'resampled',
        place,
        `The axis is unevenly spaced (up to ${Number(verdict.worstSteps.toPrecision(3))} steps off, first at this line); the samples were resampled along straight lines, as told.`,
      ),
    ],
  );
  return { kind: 'uniform', first: stamps[0], last: stamps[stamps.length - 1], count: stamps.length, worstSteps: 0 };
}

function lineOf(whole: Whole, group: RowGroup, row: number): number {
  return whole.body.lineOfRow(group.fileRowOf(row));
}

function nameOf(group: RowGroup, column: string, plan: ColumnPlan): string {
  if (group.id === null) return column;
  return plan.traces.length === 1 ? group.id : `${group.id} ${column}`;
}

function describe({ name, axis, amplitudes }: Record): TraceDescription {
  return {
    name,
    samples: amplitudes.samples.length,
    startUs: axis.startUs,
    stepUs: axis.stepUs,
    amplitudeUnit: amplitudes.amplitudeUnit,
    rectification: amplitudes.rectification,
  };
}

function captureOf(whole: Whole, { name, axis, amplitudes }: Record, metadata: readonly MetadataEntry[]): Capture {
  const { file, sha256, read } = whole;
  const { facts } = read;
  const { startUs, stepUs } = axis;
  invariant(startUs !== null && stepUs !== null, 'an axis without asks is known');
  return {
    id: `${file}#${name}`,
    file,
    trace: name,
    sha256,
    waveform: {
      startUs,
      stepUs,
      samples: amplitudes.samples,
      amplitudeUnit: amplitudes.amplitudeUnit,
      fullScreen: amplitudes.fullScreen,
      zeroLevel: amplitudes.zeroLevel,
      rectification: amplitudes.rectification,
    },
    gainDb: facts.gainDb,
    takenAt: facts.takenAt,
    positionMm: facts.positionMm,
    probe: facts.probe,
    block: facts.block,
    temperatureC: facts.temperatureC,
    metadata,
  };
}

/** What one file told is decided for the next of its shape; what belongs to this file alone (its sampling rate, say) is not. */
function completed(recipe: ImportRecipe, whole: Whole, records: readonly Record[]): ImportRecipe {
  const { head, plan, body, encoding } = whole;
  const { axis } = plan;
  const first = records[0];
  const isSettled = first !== undefined && first.axis.asks.length === 0;
  return {
    ...recipe,
    encoding,
    delimiter: head.delimiter,
    decimalMark: body.decimalMark,
    headerLine: head.headerLine,
    axis: axis === null || axis.kind === 'sample' ? recipe.axis : axis.kind,
    timeUnit: isSettled ? (first.axis.timeUnit ?? recipe.timeUnit) : recipe.timeUnit,
    distanceUnit: axis?.distanceUnit ?? recipe.distanceUnit,
    axisVelocityMPerS: first?.axis.axisVelocityMPerS ?? recipe.axisVelocityMPerS,
    amplitudeUnit: sameForAll(plan.traces.map(({ unit }) => unit)) ?? recipe.amplitudeUnit,
    fullScreen: sameForAll(records.map(({ amplitudes }) => amplitudes.fullScreen)) ?? recipe.fullScreen,
    zeroLevel: recipe.zeroLevel,
    rectification: recipe.rectification,
    columns: {
      axis: axis === null ? null : axis.field + 1,
      amplitudes: plan.traces.map(({ field }) => field + 1),
      captureId: plan.idField === null ? null : plan.idField + 1,
    },
  };
}

function sameForAll<T>(values: readonly T[]): T | null {
  return values.length > 0 && values.every((value) => value === values[0]) ? values[0] : null;
}
