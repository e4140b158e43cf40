import type { Rectification } from '../capture/waveform.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import type { FieldRole } from './body-format.ts';
import { contradictoryUnits, duplicateName, ignoredColumns, overriddenUnits, severalAxes } from './column-doubts.ts';
import type { Facts } from './facts.ts';
import {
  type Column,
  columnsOf,
  findAxis,
  findId,
  findTraces,
  isAxisLabel,
  kindOf,
  rivalOf,
  unknownReference,
} from './find-columns.ts';
import type { Head } from './head.ts';
import type { DistanceUnit, ImportRecipe, StatedAmplitudeUnit, TimeUnit } from './import-recipe.ts';
import { readCell } from './number.ts';
import { columnOfField } from './table.ts';
import { type Label, readLabel, rectificationIn } from './unit-words.ts';

export interface AxisColumn {
  readonly field: number;
  readonly name: string;
  readonly kind: 'time' | 'distance' | 'sample';
  /** `null` where the file does not say. */
  readonly timeUnit: TimeUnit | null;
  readonly distanceUnit: DistanceUnit | null;
}

export interface TraceColumn {
  readonly field: number;
  readonly name: string;
  readonly unit: StatedAmplitudeUnit | null;
  /** What a number in the file is in `unit`: 0.001 for millivolts. */
  readonly scale: number;
  readonly rectification: Rectification | null;
  /** Does the column's own header say that it is an amplitude? Else it is taken for one, since it is nothing else. */
  readonly isStated: boolean;
}

/** What the columns mean: the axis, the traces, and in the long form the column that tells captures apart. */
export interface ColumnPlan {
  readonly axis: AxisColumn | null;
  /** Is the axis known from the header, or the recipe, alone? */
  readonly isAxisStated: boolean;
  readonly traces: readonly TraceColumn[];
  readonly idField: number | null;
  /** Start and step that stand in the header rows, in seconds. */
  readonly startAndIncrement: { readonly startS: number; readonly incrementS: number } | null;
  readonly names: readonly string[];
  readonly roles: readonly FieldRole[];
  readonly asks: readonly Problem[];
  readonly warnings: readonly Problem[];
}

/** The plan of the last file, and what it follows from: the next of its shape has the same header, the very same value. */
interface LastPlan {
  readonly head: Head;
  readonly facts: Facts;
  readonly recipe: ImportRecipe;
  readonly plan: Outcome<ColumnPlan>;
}

let last: LastPlan | null = null;

/** Do these facts of the preamble say the same of what columns mean? */
function sayTheSame(a: Facts, b: Facts): boolean {
  return (
    a.timeUnit === b.timeUnit &&
    a.rectification === b.rectification &&
    a.amplitudeUnit === b.amplitudeUnit &&
    a.channelNames === b.channelNames
  );
}

export function planColumns(file: string, head: Head, facts: Facts, recipe: ImportRecipe): Outcome<ColumnPlan> {
  const isLikeLast =
    last !== null &&
    head.header !== null &&
    last.head.header === head.header &&
    last.recipe === recipe &&
    sayTheSame(last.facts, facts);
  if (last !== null && isLikeLast) return last.plan;
  const plan = makePlan(file, head, facts, recipe);
  // A plan with a warning names its file, and one with an axis that only its values gave away holds for those values.
  const isOfHeader =
    plan.ok && plan.value.warnings.length === 0 && plan.value.asks.length === 0 && plan.value.isAxisStated;
  last = isOfHeader ? { head, facts, recipe, plan } : null;
  return plan;
}

function makePlan(file: string, head: Head, facts: Facts, recipe: ImportRecipe): Outcome<ColumnPlan> {
  const columns = columnsOf(head);
  const place = { file, line: head.headerLine || head.firstLine };
  const unknown = unknownReference(columns, recipe);
  if (unknown !== null) return failure(problem('unknown-column', place, unknown));
  if (columns[0]?.label.unit?.kind === 'frequency') {
    return failure(
      problem(
        'frequency-axis',
        { ...place, column: 1 },
        `‘${columns[0].name}’ is a frequency: this is a spectrum, and no waveform over time. Export the waveform.`,
      ),
    );
  }
  const warnings: Problem[] = [];
  const idColumn = findId(columns, recipe);
  const axisColumn = findAxis(columns, idColumn, head, recipe);
  const axis = axisColumn === null ? null : axisOf(axisColumn, facts, recipe);
  const traces = findTraces(columns, axisColumn, idColumn, recipe);
  if (traces.length === 0) {
    return failure(
      problem(
        'no-amplitude-column',
        { ...place, column: 1 },
        `There is no column of amplitudes here, only ${columns
          .map(({ name }) => `‘${name}’`)
          .slice(0, 4)
          .join(', ')}. Export the amplitudes too, or say which column holds them.`,
      ),
    );
  }
  const twice = [axisColumn, idColumn, ...traces].find((column, i, all) => column !== null && all.indexOf(column) < i);
  if (twice != null) {
    return failure(
      problem(
        'column-twice',
        { ...place, column: columnOfField(head.headerText, head.delimiter, twice.field) },
        `‘${twice.name}’ is to be read as two things at once. Name each column once: as the axis, as an amplitude or as the capture’s name.`,
      ),
    );
  }
  const inDecibels = traces.find(({ label }) => label.unit?.kind === 'decibel');
  if (inDecibels !== undefined && recipe.amplitudeUnit === null) {
    return failure(
      problem(
        'decibel-amplitude',
        { ...place, column: 1 },
        `‘${inDecibels.name}’ is in dB, a logarithm without sign: a waveform cannot be had from it. Export the amplitude in % of full screen, volts or counts.`,
      ),
    );
  }
  const named = nameTraces(traces, head, facts);
  const duplicate = recipe.columns.amplitudes === null ? duplicateName(named, axisColumn, idColumn) : null;
  if (duplicate !== null) {
    return failure(
      problem(
        'duplicate-column',
        { ...place, column: columnOfField(head.headerText, head.delimiter, duplicate.field) },
        `Two columns are called ‘${duplicate.name}’. Rename one, or say by their positions which columns to read.`,
      ),
    );
  }
  warnings.push(
    ...ignoredColumns(file, columns, axisColumn, idColumn, named, recipe),
    ...overriddenUnits(file, axisColumn, traces, recipe),
  );
  const used = new Map<number, FieldRole>(named.map(({ field }) => [field, 'number']));
  if (axisColumn !== null) used.set(axisColumn.field, 'number');
  if (idColumn !== null) used.set(idColumn.field, 'label');
  return success({
    axis,
    isAxisStated: axisColumn !== null && (recipe.columns.axis !== null || isAxisLabel(axisColumn.label)),
    traces: named.map(({ field, name, label }) => traceOf(field, name, label, facts, recipe)),
    idField: idColumn?.field ?? null,
    asks: [
      ...severalAxes(place, axisColumn, axisColumn === null ? null : rivalOf(axisColumn, columns, head, recipe)),
      ...contradictoryUnits({ file, line: head.unitsLine }, [axisColumn, ...named], recipe),
    ],
    startAndIncrement: startAndIncrement(head),
    names: columns.map(({ name }) => name),
    roles: columns.map(({ field }) => used.get(field) ?? 'ignored'),
    warnings,
  });
}

function axisOf(column: Column, facts: Facts, recipe: ImportRecipe): AxisColumn {
  const { unit } = column.label;
  const stated = kindOf(column.label);
  const kind = recipe.axis ?? (recipe.timeUnit !== null ? 'time' : stated);
  return {
    field: column.field,
    name: column.name,
    kind,
    timeUnit: kind === 'time' ? (recipe.timeUnit ?? (unit?.kind === 'time' ? unit.unit : facts.timeUnit)) : null,
    distanceUnit: kind === 'distance' ? (recipe.distanceUnit ?? (unit?.kind === 'distance' ? unit.unit : null)) : null,
  };
}

/** Channels that the header calls alike are told apart by the preamble's own names for them, where it has as many. */
function nameTraces(traces: readonly Column[], head: Head, facts: Facts): readonly Column[] {
  const names = facts.channelNames;
  const areAlike = new Set(traces.map(({ name }) => name)).size < traces.length;
  if (
    !areAlike ||
    names === null ||
    names.length !== traces.length ||
    new Set(names).size < names.length ||
    head.header === null
  )
    return traces;
  return traces.map((trace, i) => ({ ...trace, name: names[i] }));
}

function traceOf(field: number, name: string, label: Label, facts: Facts, recipe: ImportRecipe): TraceColumn {
  const stated = label.unit?.kind === 'amplitude' ? label.unit : facts.amplitudeUnit;
  const unit = recipe.amplitudeUnit ?? stated?.unit ?? null;
  const scale = stated !== null && stated.unit === unit ? stated.scale : 1;
  return {
    field,
    name,
    unit,
    scale,
    rectification: recipe.rectification ?? rectificationIn(name) ?? facts.rectification,
    isStated: recipe.columns.amplitudes !== null || label.unit?.kind === 'amplitude',
  };
}

/** `Start` and `Increment` columns that have a number in the units row and none in the rows. */
function startAndIncrement(head: Head): ColumnPlan['startAndIncrement'] {
  if (head.header === null || head.units === null) return null;
  const numberUnder = (word: string) => {
    const field = head.header?.findIndex((cell) => readLabel(cell).words === word) ?? -1;
    const reading = field < 0 ? null : readCell(head.units?.[field] ?? '', head.decimalMark);
    return reading?.kind === 'number' ? reading.value : null;
  };
  const startS = numberUnder('start');
  const incrementS = numberUnder('increment');
  return startS === null || incrementS === null || !(incrementS > 0) ? null : { startS, incrementS };
}
