import type { Rectification } from '../capture/waveform.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import type { FieldRole } from './body.ts';
import type { Facts } from './facts.ts';
import type { Head } from './head.ts';
import type { ColumnReference, DistanceUnit, ImportRecipe, StatedAmplitudeUnit, TimeUnit } from './import-recipe.ts';
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
  readonly warnings: readonly Problem[];
}

const timeWords = /^(?:time|t|tof|time of flight|timestamp|time stamp|zeit|temps|tiempo|tempo)$/;
const distanceWords = /^(?:distance|path|sound path|path length|range|depth|metal path)$/;
const sampleWords = /^(?:sample|samples|sample no|sample number|sample index|index|n|i|point|no|number)$/;
const idWords =
  /^(?:capture|capture id|capture no|id|shot|shot id|shot no|trace|trace id|trace no|a scan|scan|scan id|scan no|waveform id|record|record id)$/;
/** Columns that are no signal, whatever numbers they hold. */
const otherWords =
  /^(?:gain|position|probe position|temperature|temp|x position|y position|comment|note|remarks|flag|status)$/;

interface Column {
  readonly field: number;
  /** The header's cell, or `column 2` where it has none. */
  readonly name: string;
  readonly label: Label;
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
  const isOfHeader = plan.ok && plan.value.warnings.length === 0 && plan.value.isAxisStated;
  last = isOfHeader ? { head, facts, recipe, plan } : null;
  return plan;
}

function makePlan(file: string, head: Head, facts: Facts, recipe: ImportRecipe): Outcome<ColumnPlan> {
  const columns = columnsOf(head);
  const place = { file, line: head.headerLine || head.firstLine };
  const unknown = unknownReference(columns, recipe);
  if (unknown !== null) return failure(problem('unknown-column', place, unknown));
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
    startAndIncrement: startAndIncrement(head),
    names: columns.map(({ name }) => name),
    roles: columns.map(({ field }) => used.get(field) ?? 'ignored'),
    warnings,
  });
}

/** Header cell and units cell of each field as one label; the units row wins where both speak. */
function columnsOf(head: Head): readonly Column[] {
  return Array.from({ length: head.fields }, (_, field) => {
    const cell = head.header?.[field] ?? '';
    const label = readLabel(cell);
    const unitText = head.units?.[field] ?? '';
    const unit = unitText === '' ? null : readLabel(unitText).unit;
    return {
      field,
      name: cell === '' ? `column ${field + 1}` : cell,
      label: unit === null ? label : { ...label, unit, unitText },
    };
  });
}

function refersTo(column: Column, reference: ColumnReference): boolean {
  return typeof reference === 'number' ? column.field === reference - 1 : column.name === reference;
}

function unknownReference(columns: readonly Column[], recipe: ImportRecipe): string | null {
  const { axis, amplitudes, captureId } = recipe.columns;
  for (const reference of [axis, captureId, ...(amplitudes ?? [])]) {
    if (reference === null || columns.some((column) => refersTo(column, reference))) continue;
    const names = columns
      .slice(0, 8)
      .map(({ name }) => `‘${name}’`)
      .join(', ');
    const more = columns.length > 8 ? ` and ${columns.length - 8} more` : '';
    return `There is no column ${typeof reference === 'number' ? reference : `‘${reference}’`} here. The file has ${names}${more}; name one of these, or its position counted from 1.`;
  }
  return null;
}

function findId(columns: readonly Column[], recipe: ImportRecipe): Column | null {
  const { captureId } = recipe.columns;
  if (captureId !== null) return columns.find((column) => refersTo(column, captureId)) ?? null;
  const found = columns.filter(({ label }) => label.unit === null && idWords.test(label.words));
  const others = columns.filter(
    (column) => !found.includes(column) && !isAxisLabel(column.label) && !otherWords.test(column.label.words),
  );
  return found.length === 1 && others.length > 0 ? found[0] : null;
}

function isAxisLabel({ words, unit }: Label): boolean {
  if (unit?.kind === 'time' || unit?.kind === 'sample') return true;
  if (unit?.kind === 'distance') return !otherWords.test(words);
  return unit === null && (timeWords.test(words) || distanceWords.test(words) || sampleWords.test(words));
}

/** By the recipe, else by time before distance before sample number, else a first column that rises. */
function findAxis(columns: readonly Column[], id: Column | null, head: Head, recipe: ImportRecipe): Column | null {
  const { axis, amplitudes } = recipe.columns;
  if (axis !== null) return columns.find((column) => refersTo(column, axis)) ?? null;
  const free = columns.filter(
    (column) => column !== id && !(amplitudes ?? []).some((reference) => refersTo(column, reference)),
  );
  const ofKind = (kind: AxisColumn['kind']) =>
    free.find((column) => isAxisLabel(column.label) && kindOf(column.label) === kind) ?? null;
  const [first, second, third] =
    recipe.axis === 'distance' ? (['distance', 'time', 'sample'] as const) : (['time', 'distance', 'sample'] as const);
  const named = ofKind(first) ?? ofKind(second) ?? ofKind(third);
  if (named !== null) return named;
  const candidate = free[0];
  if (candidate === undefined || free.length < 2 || candidate.label.unit?.kind === 'amplitude') return null;
  return rises(head.firstRows.map((row) => row[candidate.field])) ? candidate : null;
}

function kindOf({ words, unit }: Label): AxisColumn['kind'] {
  if (unit?.kind === 'time') return 'time';
  if (unit?.kind === 'distance') return 'distance';
  if (unit?.kind === 'sample' || sampleWords.test(words)) return 'sample';
  return distanceWords.test(words) ? 'distance' : 'time';
}

function rises(values: readonly number[]): boolean {
  const known = values.filter((value) => !Number.isNaN(value));
  return known.length > 1 && known.every((value, i) => i === 0 || value > known[i - 1]);
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

function findTraces(
  columns: readonly Column[],
  axis: Column | null,
  id: Column | null,
  recipe: ImportRecipe,
): readonly Column[] {
  const { amplitudes } = recipe.columns;
  if (amplitudes !== null) {
    return amplitudes
      .map((reference) => columns.find((column) => refersTo(column, reference)))
      .filter((column) => column !== undefined);
  }
  return columns.filter(
    (column) => column !== axis && column !== id && !isAxisLabel(column.label) && !otherWords.test(column.label.words),
  );
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

function duplicateName(traces: readonly Column[], axis: Column | null, id: Column | null): Column | null {
  const seen = new Set<string>();
  for (const column of [axis, id, ...traces]) {
    if (column === null) continue;
    if (seen.has(column.name)) return column;
    seen.add(column.name);
  }
  return null;
}

function ignoredColumns(
  file: string,
  columns: readonly Column[],
  axis: Column | null,
  id: Column | null,
  traces: readonly Column[],
  recipe: ImportRecipe,
): readonly Problem[] {
  if (recipe.columns.amplitudes !== null) return [];
  const used = new Set([axis?.field, id?.field, ...traces.map(({ field }) => field)]);
  const ignored = columns.filter(({ field }) => !used.has(field)).map(({ name }) => `‘${name}’`);
  return ignored.length === 0
    ? []
    : [
        problem(
          'column-ignored',
          { file },
          `${ignored.slice(0, 8).join(', ')} was not read: it is neither the axis nor an amplitude.`,
        ),
      ];
}

function overriddenUnits(
  file: string,
  axis: Column | null,
  traces: readonly Column[],
  recipe: ImportRecipe,
): readonly Problem[] {
  const warnings: Problem[] = [];
  const axisUnit = axis?.label.unit;
  if (recipe.timeUnit !== null && axisUnit?.kind === 'time' && axisUnit.unit !== recipe.timeUnit) {
    warnings.push(
      problem(
        'unit-overridden',
        { file },
        `The file states its time in ${axisUnit.unit}; it was read in ${recipe.timeUnit}, as told.`,
      ),
    );
  }
  const trace = traces.find(
    ({ label }) =>
      label.unit?.kind === 'amplitude' && recipe.amplitudeUnit !== null && label.unit.unit !== recipe.amplitudeUnit,
  );
  if (trace !== undefined) {
    warnings.push(
      problem(
        'unit-overridden',
        { file },
        `The file states ‘${trace.name}’ in ${trace.label.unitText}; it was read as ${recipe.amplitudeUnit}, as told.`,
      ),
    );
  }
  return warnings;
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
