import type { Capture, MetadataEntry } from '../capture/capture.ts';
import { resampleLinear } from '../capture/resample.ts';
import type { AxisVerdict } from '../capture/uniform-axis.ts';
import { invariant } from '../invariant.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import { type Amplitudes, amplitudesOf } from './amplitudes.ts';
import { axisProblem, short } from './axis-problem.ts';
import type { BodyReader } from './body.ts';
import type { ColumnPlan } from './columns.ts';
import type { ReadFacts } from './facts.ts';
import type { Head } from './head.ts';
import type { ImportedFile, TraceDescription } from './import-file.ts';
import type { Encoding, ImportRecipe } from './import-recipe.ts';
import { readPreambleLine } from './preamble.ts';
import type { RowGroup, RowGroups } from './row-groups.ts';
import { type TimeAxis, timeAxisOf } from './time-axis.ts';

/** What is known once the head is read. */
export interface Opened {
  readonly head: Head;
  readonly read: ReadFacts;
  readonly plan: ColumnPlan;
  readonly groups: RowGroups;
  readonly body: BodyReader;
}

/** All that was read of a file. */
export interface Whole extends Opened {
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

/** Axis and amplitudes of every capture, what must be asked and what is doubtful, or the problems of an axis. */
export function assemble(whole: Whole): Outcome<ImportedFile> {
  const { file, recipe, plan, groups, body, read, head } = whole;
  const doubts = new DoubtList();
  const { doubtfulMark } = body;
  if (doubtfulMark !== null) doubts.add([doubtfulMark], []);
  doubts.add([...read.asks, ...plan.asks], [...head.warnings, ...plan.warnings, ...body.warnings, ...read.warnings]);
  const records: Record[] = [];
  const problems: Problem[] = [];
  const along = samplesAlongRows(whole);
  if (along !== null) return failure(along);
  for (const group of groups.groups) {
    const made = recordsOf(whole, group, doubts);
    if (made.ok) records.push(...made.value);
    else problems.push(...made.problems);
    if (problems.length >= mostAxisProblems) break;
  }
  // An axis that is only wrong because of the mark is mended by the answer about the mark.
  if (problems.length > 0)
    return failure(...(doubtfulMark === null ? problems : [doubtfulMark, ...problems]).slice(0, mostAxisProblems));
  // Numbers that may be a thousand times as large tell nothing yet: what they would ask is asked when the mark is known.
  for (const { axis, amplitudes } of doubtfulMark === null ? records : [])
    doubts.add([...axis.asks, ...amplitudes.asks], [...axis.warnings, ...amplitudes.warnings]);
  if (doubtfulMark === null) doubts.add([], mixedSampling(file, records));
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
    traces: records.map((record) => descriptionOf(record, doubtfulMark === null)),
    metadata,
    captures: doubts.asks.length > 0 ? [] : records.map((record) => captureOf(whole, record, metadata)),
    recipe: completed(recipe, whole, records),
    asks: doubts.asks,
    warnings: doubts.warnings,
  });
}

const mostAxisProblems = 20;

/** So few rows under so many columns are captures in rows: a waveform has more samples than a file has traces like it. */
const mostRowsAcross = 32;
const fewestColumnsAcross = 16;

/** A file on its side, unless a person has named its columns. */
function samplesAlongRows({ file, recipe, head, plan, body, groups }: Whole): Problem | null {
  const traces = plan.traces.length;
  const rows = Math.max(...groups.groups.map((group) => group.rows));
  const isAcross = rows <= mostRowsAcross && traces >= fewestColumnsAcross && traces >= 4 * rows;
  if (!isAcross || recipe.columns.amplitudes !== null) return null;
  return problem(
    'samples-along-rows',
    { file, line: head.firstLine, column: 1 },
    `There are ${traces} columns of amplitudes with ${rows === 1 ? '1 sample' : `${rows} samples`} each, in ${body.rows} rows: the samples seem to stand along the rows. Export with one row for each sample, or name the columns to read (--amplitude-columns).`,
  );
}

/** Captures of one file whose steps differ by more than rounding. */
function mixedSampling(file: string, records: readonly Record[]): readonly Problem[] {
  const steps = records.map(({ axis }) => axis.stepUs).filter((step) => step !== null);
  const least = Math.min(...steps);
  const most = Math.max(...steps);
  if (steps.length < 2 || most - least <= least * 1e-3) return [];
  const sentence = `The captures of this file are sampled differently, from ${short(1 / most)} to ${short(1 / least)} MHz; each was read with its own step.`;
  return [problem('mixed-sampling', { file }, sentence)];
}

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

function descriptionOf({ name, axis, amplitudes }: Record, isMarkKnown: boolean): TraceDescription {
  return {
    name,
    samples: amplitudes.samples.length,
    startUs: isMarkKnown ? axis.startUs : null,
    stepUs: isMarkKnown ? axis.stepUs : null,
    amplitudeUnit: amplitudes.amplitudeUnit,
    rectification: amplitudes.rectification,
    zeroLevel: amplitudes.zeroLevel,
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
    acrossMm: facts.acrossMm,
    probe: facts.probe,
    instrument: facts.instrument,
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
    decimalMark: body.doubtfulMark === null ? body.decimalMark : recipe.decimalMark,
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
