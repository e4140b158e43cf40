import type { AxisColumn } from './columns.ts';
import type { Head } from './head.ts';
import type { ColumnReference, ImportRecipe } from './import-recipe.ts';
import { type Label, readLabel } from './unit-words.ts';

const timeWords = /^(?:time|t|tof|time of flight|timestamp|time stamp|zeit|temps|tiempo|tempo)$/;

const distanceWords = /^(?:distance|path|sound path|path length|range|depth|metal path)$/;

const sampleWords = /^(?:sample|samples|sample no|sample number|sample index|index|n|i|point|no|number)$/;

const idWords =
  /^(?:capture|capture id|capture no|id|shot|shot id|shot no|trace|trace id|trace no|a scan|scan|scan id|scan no|waveform id|record|record id)$/;

/** Columns that are no signal, whatever numbers they hold. */
const otherWords =
  /^(?:gain|position|probe position|temperature|temp|x position|y position|comment|note|remarks|flag|status)$/;

export interface Column {
  readonly field: number;
  /** The header's cell, or `column 2` where it has none. */
  readonly name: string;
  readonly label: Label;
}

/** Header cell and units cell of each field as one label; the units row wins where both speak. */
export function columnsOf(head: Head): readonly Column[] {
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
  const others = columns.filter(
    (column) => !found.includes(column) && !isAxisLabel(column.label) && !otherWords.test(column.label.words),
  );
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

export function kindOf({ words, unit }: Label): AxisColumn['kind'] {
  if (unit?.kind === 'time') return 'time';
  if (unit?.kind === 'distance') return 'distance';
  if (unit?.kind === 'sample' || sampleWords.test(words)) return 'sample';
  return distanceWords.test(words) ? 'distance' : 'time';
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
  return columns.filter(
    (column) => column !== axis && column !== id && !isAxisLabel(column.label) && !otherWords.test(column.label.words),
  );
}
