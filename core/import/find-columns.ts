import type { AxisColumn } from './columns.ts';
import type { Head } from './head.ts';
import type { ColumnReference, ImportRecipe } from './import-recipe.ts';
import { type Label, microseconds, millimetres, readLabel } from './unit-words.ts';

const timeWords = /^(?:time|t|tof|time of flight|timestamp|time stamp|zeit|temps|tiempo|tempo)$/;

const distanceWords = /^(?:distance|path|sound path|path length|range|depth|metal path)$/;

const sampleWords = /^(?:sample|samples|sample no|sample number|sample index|index|n|i|point|no|number)$/;

const idWords =
  /^(?:capture|capture id|capture no|id|shot|shot id|shot no|trace|trace id|trace no|a scan|scan|scan id|scan no|waveform id|record|record id)$/;

/** Columns that are no signal, whatever numbers they hold; one whose own unit is that of an amplitude is one all the same. */
const otherWords =
  /\b(?:gain|tcg|tvg|attenuat(?:ion|or)|position|encoder|temperature|temp|humidity|pressure|angle|velocity|date|clock|comment|note|remarks|flag|status)\b/;

export interface Column {
  readonly field: number;
  /** The header's cell, or `column 2` where it has none. */
  readonly name: string;
  readonly label: Label;
  /** The units of header and units row, where they are not the same. */
  readonly contradiction: readonly [string, string] | null;
}

/** Header cell and units cell of each field as one label; where both speak, and not alike, a person must say. */
export function columnsOf(head: Head): readonly Column[] {
  return Array.from({ length: head.fields }, (_, field) => {
    const cell = head.header?.[field] ?? '';
    const label = readLabel(cell);
    const unitText = head.units?.[field] ?? '';
    const unit = unitText === '' ? null : readLabel(unitText).unit;
    const isAlike = unit === null || label.unit === null || JSON.stringify(unit) === JSON.stringify(label.unit);
    return {
      field,
      name: cell === '' ? `column ${field + 1}` : cell,
      label: unit === null ? label : { ...label, unit, unitText },
      contradiction: isAlike ? null : [label.unitText ?? '', unitText],
    };
  });
}

function refersTo(column: Column, reference: ColumnReference): boolean {
  return typeof reference === 'number' ? column.field === reference - 1 : column.name === reference;
}

export function unknownReference(columns: readonly Column[], recipe: ImportRecipe): string | null {
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

export function findId(columns: readonly Column[], recipe: ImportRecipe): Column | null {
  const { captureId, axis, amplitudes } = recipe.columns;
  if (captureId !== null) return columns.find((column) => refersTo(column, captureId)) ?? null;
  const isTold = (column: Column) =>
    [axis, ...(amplitudes ?? [])].some((reference) => reference !== null && refersTo(column, reference));
  const found = columns.filter(
    (column) => column.label.unit === null && idWords.test(column.label.words) && !isTold(column),
  );
  const others = columns.filter((column) => !found.includes(column) && !isAxisLabel(column.label) && !isOther(column));
  return found.length === 1 && others.length > 0 ? found[0] : null;
}

export function isAxisLabel({ words, unit }: Label): boolean {
  if (unit?.kind === 'time' || unit?.kind === 'sample') return true;
  if (unit?.kind === 'distance') return !otherWords.test(words);
  return unit === null && (timeWords.test(words) || distanceWords.test(words) || sampleWords.test(words));
}

/** By the recipe, else by time before distance before sample number, else a first column that rises. */
export function findAxis(
  columns: readonly Column[],
  id: Column | null,
  head: Head,
  recipe: ImportRecipe,
): Column | null {
  const { axis, amplitudes } = recipe.columns;
  if (axis !== null) return columns.find((column) => refersTo(column, axis)) ?? null;
  const free = columns.filter(
    (column) => column !== id && !(amplitudes ?? []).some((reference) => refersTo(column, reference)),
  );
  const ofKind = (kind: AxisColumn['kind']) => {
    const alike = axesOfKind(free, kind);
    return alike.find((column) => moves(column, head)) ?? alike[0] ?? null;
  };
  const [first, second, third] =
    recipe.axis === 'distance' ? (['distance', 'time', 'sample'] as const) : (['time', 'distance', 'sample'] as const);
  const named = ofKind(first) ?? ofKind(second) ?? ofKind(third);
  if (named !== null) return named;
  const candidate = free[0];
  if (candidate === undefined || free.length < 2 || candidate.label.unit?.kind === 'amplitude') return null;
  return rises(head.firstRows.map((row) => row[candidate.field])) ? candidate : null;
}

export function kindOf({ words, unit }: Label): AxisColumn['kind'] {
  if (unit?.kind === 'time') return 'time';
  if (unit?.kind === 'distance') return 'distance';
  if (unit?.kind === 'sample' || sampleWords.test(words)) return 'sample';
  return distanceWords.test(words) ? 'distance' : 'time';
}

function axesOfKind(columns: readonly Column[], kind: AxisColumn['kind']): readonly Column[] {
  const alike = columns.filter((column) => isAxisLabel(column.label) && kindOf(column.label) === kind);
  return [...alike.filter(({ label }) => label.unit !== null), ...alike.filter(({ label }) => label.unit === null)];
}

function moves({ field }: Column, head: Head): boolean {
  return rises(head.firstRows.map((row) => row[field]));
}

/**
 * Another column that could be the axis as well, and tells other times: of two with one unit or with two, each in its own. `null` where
 * there is none, or a person has said which is the axis.
 */
export function rivalOf(axis: Column, columns: readonly Column[], head: Head, recipe: ImportRecipe): Column | null {
  if (recipe.columns.axis !== null || !isAxisLabel(axis.label)) return null;
  const kind = kindOf(axis.label);
  if (kind === 'sample') return null;
  const others = axesOfKind(columns, kind).filter((column) => column !== axis && moves(column, head));
  return others.find((column) => !tellsTheSame(axis, column, head)) ?? null;
}

/** Do two columns tell the same times in the first rows, within a fiftieth of their span? Of one without a unit, in some unit. */
function tellsTheSame(a: Column, b: Column, head: Head): boolean {
  const [as, bs] = [a, b].map(({ field }) => head.firstRows.map((row) => row[field]));
  const span = as[as.length - 1] - as[0];
  const factors = b.label.unit === null ? [1e9, 1e6, 1e3, 1, 1e-3, 1e-6, 1e-9] : [sizeOf(b) / sizeOf(a)];
  return factors.some((factor) => as.every((value, i) => Math.abs(value - bs[i] * factor) <= span / 50));
}

function sizeOf({ label: { unit } }: Column): number {
  if (unit?.kind === 'time') return microseconds[unit.unit];
  return unit?.kind === 'distance' ? millimetres[unit.unit] : 1;
}

/** A setting, a place or a circumstance: by its unit, or by its words where its unit is none of an amplitude. */
function isOther({ label: { words, unit }, name }: Column): boolean {
  if (unit?.kind === 'amplitude') return false;
  if (unit?.kind === 'velocity' || unit?.kind === 'frequency') return true;
  // A bare letter behind a name (`channel C`) is no unit of temperature.
  if (unit?.kind === 'celsius' || unit?.kind === 'fahrenheit') return /[°([{]|deg|celsius|fahrenheit|temp/i.test(name);
  return otherWords.test(words);
}

function rises(values: readonly number[]): boolean {
  const known = values.filter((value) => !Number.isNaN(value));
  return known.length > 1 && known.every((value, i) => i === 0 || value > known[i - 1]);
}

export function findTraces(
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
  const candidates = columns.filter(
    (column) => column !== axis && column !== id && !isAxisLabel(column.label) && !isOther(column),
  );
  // Beside an amplitude a column in dB is a gain, or the same once more.
  const isInDecibels = (column: Column) => column.label.unit?.kind === 'decibel';
  return candidates.every(isInDecibels) ? candidates : candidates.filter((column) => !isInDecibels(column));
}
