/** Where a packed result differs from the one worked out anew: the digits of both, as they are written. */
export interface Difference {
  readonly file: string;
  /** Line of the file, the head being 1; `null` where the difference has none. */
  readonly row: number | null;
  /** Column of a table, place in a document; `null` where the whole file is meant. */
  readonly figure: string | null;
  /** `null`: nothing stands there. */
  readonly packed: string | null;
  readonly anew: string | null;
}

/** Differences of one file that are listed at most; the first tells where to look. */
export const mostDifferences = 50;

/** Holds a packed table against the one worked out anew, cell by cell. */
export function compareTables(file: string, packed: string, anew: string): Difference[] {
  if (packed === anew) return [];
  const [there, wanted] = [packed, anew].map(readCsv);
  const head = wanted[0] ?? [];
  const found: Difference[] = [];
  for (let row = 0; row < Math.max(there.length, wanted.length) && found.length < mostDifferences; row++) {
    const [cells, expected] = [there[row], wanted[row]];
    if (cells === undefined || expected === undefined) {
      found.push({
        file,
        row: row + 1,
        figure: null,
        packed: cells?.join(',') ?? null,
        anew: expected?.join(',') ?? null,
      });
      continue;
    }
    for (let column = 0; column < Math.max(cells.length, expected.length); column++)
      if (cells[column] !== expected[column])
        found.push({
          file,
          row: row + 1,
          figure: head[column] ?? `column ${column + 1}`,
          packed: cells[column] ?? null,
          anew: expected[column] ?? null,
        });
  }
  return found.length > 0 ? found.slice(0, mostDifferences) : compareLines(file, packed, anew);
}

/** Holds a packed document against the one worked out anew, value by value. */
export function compareDocuments(file: string, packed: string, anew: string): Difference[] {
  if (packed === anew) return [];
  let there: unknown;
  try {
    there = JSON.parse(packed);
  } catch {
    return compareLines(file, packed, anew);
  }
  const found: Difference[] = [];
  compareValues(there, JSON.parse(anew), '', (figure, packedValue, anewValue) => {
    if (found.length < mostDifferences)
      found.push({ file, row: null, figure, packed: written(packedValue), anew: written(anewValue) });
  });
  return found.length > 0 ? found : compareLines(file, packed, anew);
}

/** The first line in which two texts differ. */
export function compareLines(file: string, packed: string, anew: string): Difference[] {
  if (packed === anew) return [];
  const [there, wanted] = [packed, anew].map((text) => text.split('\n'));
  const row = there.findIndex((line, i) => line !== wanted[i]);
  const at = row < 0 ? there.length : row;
  return [{ file, row: at + 1, figure: null, packed: shortened(there[at]), anew: shortened(wanted[at]) }];
}

function compareValues(
  packed: unknown,
  anew: unknown,
  path: string,
  differs: (figure: string, packed: unknown, anew: unknown) => void,
): void {
  if (isContainer(packed) && isContainer(anew) && Array.isArray(packed) === Array.isArray(anew)) {
    const keys = new Set([...Object.keys(packed), ...Object.keys(anew)]);
    const isList = Array.isArray(packed);
    for (const key of keys)
      compareValues(
        own(packed, key),
        own(anew, key),
        isList ? `${path}[${key}]` : path === '' ? key : `${path}.${key}`,
        differs,
      );
  } else if (isContainer(packed) || isContainer(anew) || !Object.is(packed, anew)) differs(path, packed, anew);
}

function isContainer(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

function own(value: Record<string, unknown>, key: string): unknown {
  return Object.hasOwn(value, key) ? value[key] : undefined;
}

function written(value: unknown): string | null {
  return value === undefined ? null : (shortened(JSON.stringify(value)) ?? null);
}

const mostShown = 200;

function shortened(text: string | undefined): string | null {
  if (text === undefined) return null;
  return text.length <= mostShown ? text : `${text.slice(0, mostShown)} … (${text.length} characters)`;
}

/** Rows and cells of a table as `csvText` writes it (RFC 4180); what does not fit the form is taken as it stands, and differs. */
export function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  const cell = /("(?:[^"]|"")*"|[^,\r\n]*)(,|\r\n|\n|\r|$)/y;
  while (cell.lastIndex < text.length) {
    const at = cell.lastIndex;
    const match = cell.exec(text);
    if (match === null) {
      row.push(text.slice(at));
      break;
    }
    const [, body, end] = match;
    row.push(body.startsWith('"') ? body.slice(1, -1).replaceAll('""', '"') : body);
    if (end === ',') continue;
    rows.push(row);
    row = [];
  }
  if (row.length > 0) rows.push(row);
  return rows;
}
