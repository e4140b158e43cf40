import type { TextCell, TextTable } from '../report/table-text.ts';

/** A value of a document of results, as JSON has it. */
export type ResultValue =
  | string
  | number
  | boolean
  | null
  | readonly ResultValue[]
  | { readonly [key: string]: ResultValue };

export interface ResultTable {
  /** `drift-checks-reflectors`: where in the document its rows stand. A few have a shorter name, and so have the lists within them. */
  readonly name: string;
  readonly fields: readonly { readonly name: string; readonly type: 'number' | 'boolean' | 'string' }[];
  readonly text: TextTable;
}

/** Lists that who opens a package looks for by these names. */
const calledBy: Readonly<Record<string, string>> = {
  'location-readings': 'location',
  'scan-indications': 'indications',
};

type Row = ReadonlyMap<string, string | number | boolean | null>;

/** Texts that explain the results; they are no results. */
const explanations: ReadonlySet<string> = new Set(['formulas', 'flag_texts']);

/**
 * The results as tables, derived from their one document: a table for each list in it, named by its place, and one for all figures that stand in no list.
 * Figures have the digits of the document; keys bear the units. A row of a list within a list names the row of the outer one, counted from 1.
 */
export function resultTables(document: { readonly [key: string]: ResultValue }): ResultTable[] {
  const lists = new Map<string, Row[]>();
  const single: Row[] = [];
  for (const [key, value] of Object.entries(document))
    if (!explanations.has(key)) visit(value, [key], lists, single, new Map());
  return [
    tableOf('figures', single),
    ...[...lists].map(([name, rows]) => tableOf(name, rows)).sort((a, b) => (a.name < b.name ? -1 : 1)),
  ];
}

function visit(
  value: ResultValue,
  path: readonly string[],
  lists: Map<string, Row[]>,
  single: Row[],
  outer: Row,
): void {
  if (isList(value)) {
    const name = nameOf(path);
    const rows = lists.get(name) ?? [];
    lists.set(name, rows);
    for (const item of value) rows.push(rowOf(item, path, lists, outer, rows.length + 1));
    return;
  }
  if (isObject(value)) {
    for (const [key, part] of Object.entries(value))
      if (!explanations.has(key)) visit(part, [...path, key], lists, single, outer);
    return;
  }
  single.push(
    new Map([
      ['figure', path.join('.')],
      ['value', scalarOf(value)],
    ]),
  );
}

function nameOf(path: readonly string[]): string {
  const name = path.join('-').replaceAll('_', '-');
  const own = Object.keys(calledBy).find((place) => name === place || name.startsWith(`${place}-`));
  return own === undefined ? name : `${calledBy[own]}${name.slice(own.length)}`;
}

function rowOf(item: ResultValue, path: readonly string[], lists: Map<string, Row[]>, outer: Row, number: number): Row {
  const row = new Map(outer);
  const inner: Row = new Map([[`${path[path.length - 1]}_row`, number]]);
  const fill = (value: ResultValue, keys: readonly string[]): void => {
    if (isList(value)) visit(value, [...path, ...keys], lists, [], inner);
    else if (isObject(value)) for (const [key, part] of Object.entries(value)) fill(part, [...keys, key]);
    else row.set(keys.join('_') || 'value', scalarOf(value));
  };
  fill(item, []);
  return row;
}

/** A list of objects has rows of its own; a list of words or figures is a cell. */
function isList(value: ResultValue): value is readonly ResultValue[] {
  return Array.isArray(value) && value.some((item) => typeof item === 'object' && item !== null);
}

function isObject(value: ResultValue): value is { readonly [key: string]: ResultValue } {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function scalarOf(value: ResultValue): string | number | boolean | null {
  return Array.isArray(value) ? value.join('; ') : (value as string | number | boolean | null);
}

function tableOf(name: string, rows: readonly Row[]): ResultTable {
  const head = [...new Set(rows.flatMap((row) => [...row.keys()]))];
  const fields = head.map((key) => ({
    name: key,
    type: typeOf(
      key,
      rows.map((row) => row.get(key) ?? null),
    ),
  }));
  return { name, fields, text: { head, rows: rows.map((row) => head.map((key) => cellOf(row.get(key) ?? null))) } };
}

/** Keys with a unit are figures, also where none is known. */
const withUnit = /_(?:us|mm|m_per_s|percent|db|deg|mhz|c|us_us_per_mm|db_per_mm|bytes)$/;

function typeOf(key: string, values: readonly (string | number | boolean | null)[]): 'number' | 'boolean' | 'string' {
  const known = values.filter((value) => value !== null);
  if (known.length === 0) return withUnit.test(key) ? 'number' : 'string';
  if (known.every((value) => typeof value === 'number')) return 'number';
  return known.every((value) => typeof value === 'boolean') ? 'boolean' : 'string';
}

function cellOf(value: string | number | boolean | null): TextCell {
  if (value === null || value === '') return null;
  return typeof value === 'number' ? { figure: String(value) } : { words: String(value) };
}
