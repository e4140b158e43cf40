import type { Capture, MetadataEntry } from '../capture/capture.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import { type Facts, readFacts } from './facts.ts';
import type { DecimalMark, Delimiter } from './import-recipe.ts';
import { mayBeGrouped, readCell } from './number.ts';
import { columnOfOpenQuote, type Line, splitLines } from './table.ts';
import { decodeLatin1, decodeUtf8, detectEncoding, Utf16ToUtf8 } from './text.ts';
import { readLabel } from './unit-words.ts';

/** One row: the capture it describes, and what it says of it. Plain data, so that it can be sent to a worker. */
export interface ManifestRow {
  readonly file: string;
  /** `null` describes every trace of the file. */
  readonly trace: string | null;
  readonly line: number;
  readonly facts: Pick<
    Facts,
    'gainDb' | 'takenAt' | 'positionMm' | 'acrossMm' | 'probe' | 'instrument' | 'block' | 'temperatureC'
  >;
  readonly entries: readonly MetadataEntry[];
}

export interface Manifest {
  readonly file: string;
  readonly rows: readonly ManifestRow[];
}

const fileWords = /^(?:file|filename|file name|capture file|name)$/;
const traceWords = /^(?:trace|trace name|column|channel)$/;

/**
 * Reads a table with a column `file` and any of `trace`, gain, position, time taken, probe, instrument, block and temperature, with the units in their
 * headers as in a preamble. What its cells say that cannot be understood is a warning at its line; an ambiguous date is a problem.
 */
export function readManifest(file: string, bytes: Uint8Array): Outcome<Manifest> {
  const text = textOf(file, bytes);
  if (!text.ok) return text;
  const lines = linesOf(text.value);
  if (lines.length === 0) return failure(problem('empty-file', { file }, 'The manifest is empty.'));
  const delimiter = delimiterOf(lines[0].text);
  const table = splitLines(lines, delimiter);
  const header = table[0];
  const fileField = header?.findIndex((cell) => fileWords.test(readLabel(cell).words)) ?? -1;
  if (header === null || fileField < 0) {
    return failure(
      problem(
        'manifest-without-file',
        { file, line: lines[0].number, column: 1 },
        'A manifest needs a header with a column ‘file’ that names the capture files.',
      ),
    );
  }
  const names = header.map((cell) => cell.trim());
  const traceField = names.findIndex((cell, field) => field !== fileField && traceWords.test(readLabel(cell).words));
  const mark = markOf(table);
  const rows: ManifestRow[] = [];
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const seen = new Map<string, number>();
  for (let i = 1; i < lines.length; i++) {
    const line = lines[i];
    const cells = table[i];
    const broken = rowProblem(file, line, cells, names, fileField, delimiter);
    if (broken !== null || cells === null) {
      if (broken !== null) problems.push(broken);
      continue;
    }
    const row = rowOf(file, line, cells, names, fileField, traceField, mark);
    problems.push(...row.problems);
    warnings.push(...row.warnings);
    const key = JSON.stringify([row.value.file, row.value.trace]);
    const earlier = seen.get(key);
    if (earlier !== undefined) {
      problems.push(
        problem(
          'manifest-row-twice',
          { file, line: line.number, column: 1 },
          `‘${row.value.file}’ was described in line ${earlier} already. Keep one of the rows.`,
        ),
      );
    }
    seen.set(key, line.number);
    rows.push(row.value);
  }
  if (problems.length > 0) return failure(...problems.slice(0, 20));
  return success({ file, rows }, warnings);
}

function textOf(file: string, bytes: Uint8Array): Outcome<string> {
  const detected = detectEncoding(file, bytes, null);
  if (!detected.ok) return detected;
  const { encoding, skip } = detected.value;
  const isWide = encoding === 'utf-16le' || encoding === 'utf-16be';
  const plain = isWide ? narrowed(bytes.subarray(skip), encoding) : bytes.subarray(skip);
  return success(decodeUtf8(plain, 0, plain.length) ?? decodeLatin1(plain, 0, plain.length));
}

function narrowed(bytes: Uint8Array, encoding: 'utf-16le' | 'utf-16be'): Uint8Array {
  const transcoder = new Utf16ToUtf8(encoding);
  const begun = transcoder.push(bytes);
  const end = transcoder.finish();
  if (end.length === 0) return begun;
  const whole = new Uint8Array(begun.length + end.length);
  whole.set(begun);
  whole.set(end, begun.length);
  return whole;
}

/** Lines that say something; comments are left out. */
function linesOf(text: string): readonly Line[] {
  return text
    .split(/\r\n|\r|\n/)
    .map((line, i) => ({ text: line, number: i + 1 }))
    .filter(({ text: line }) => line.replace(/[\s,;]/g, '') !== '' && !/^\s*#/.test(line));
}

/** The one that the header has most of. */
function delimiterOf(header: string): Delimiter {
  const candidates = [',', ';', '\t'] as const;
  const count = (mark: string) => header.split(mark).length;
  return candidates.reduce<Delimiter>((best, candidate) => (count(candidate) > count(best) ? candidate : best), ',');
}

/** The comma, where a number shows that it is the decimal mark. */
function markOf(table: readonly (readonly string[] | null)[]): DecimalMark | null {
  const isDecimal = (cell: string) => {
    const reading = readCell(cell, null);
    return reading.kind === 'number' && reading.mark === ',' && !mayBeGrouped(cell);
  };
  return table.some((cells) => cells?.some((cell) => cell.includes(',') && isDecimal(cell))) ? ',' : null;
}

function rowProblem(
  file: string,
  line: Line,
  cells: readonly string[] | null,
  names: readonly string[],
  fileField: number,
  delimiter: Delimiter,
): Problem | null {
  if (cells === null) {
    const column = columnOfOpenQuote(line.text, delimiter);
    return problem(
      'unterminated-quote',
      { file, line: line.number, column },
      'A quotation mark opens here and is not closed on this line. Close it, or take it out.',
    );
  }
  if (cells.length !== names.length) {
    return problem(
      'manifest-row-length',
      { file, line: line.number, column: line.text.length + 1 },
      `This row has ${cells.length} fields, the header has ${names.length}. A value with the delimiter in it needs quotation marks.`,
    );
  }
  if (cells[fileField].trim() === '') {
    return problem('manifest-row-without-file', { file, line: line.number, column: 1 }, 'This row names no file.');
  }
  return null;
}

function rowOf(
  file: string,
  line: Line,
  cells: readonly string[],
  names: readonly string[],
  fileField: number,
  traceField: number,
  mark: DecimalMark | null,
) {
  const entries = names
    .map((key, field) => ({ key, value: cells[field].trim() }))
    .filter(({ value }, field) => field !== fileField && field !== traceField && value !== '');
  const { facts, asks, warnings } = readFacts(file, entries, null, mark);
  const { gainDb, takenAt, positionMm, acrossMm, probe, instrument, block, temperatureC } = facts;
  const trace = traceField < 0 ? '' : cells[traceField].trim();
  const here = (p: Problem): Problem => problem(p.code, { file, line: line.number }, p.sentence);
  const value: ManifestRow = {
    file: cells[fileField].trim(),
    trace: trace === '' ? null : trace,
    line: line.number,
    facts: { gainDb, takenAt, positionMm, acrossMm, probe, instrument, block, temperatureC },
    entries,
  };
  return { value, problems: asks.map(here), warnings: warnings.map(here) };
}

/**
 * The capture with what the manifest knows of it; the same capture where it knows nothing. What the manifest says comes before the file's own
 * preamble, and its entries are added to the metadata, so that both can be seen. A manifest called `manifest.csv` describes
 * files of its own folder (and the paths it names from there); one with another name, which a person must have given by hand, goes by base names.
 */
export function describedBy(capture: Capture, manifest: Manifest): Capture {
  let described = capture;
  for (const row of rowsNamed(manifest, baseOf(plainPath(capture.file)))) {
    if (row.trace !== null && row.trace !== capture.trace) continue;
    if (isMeant(capture.file, manifest.file, row.file)) described = withFacts(described, row);
  }
  return described;
}

/** The manifest with those rows alone that can concern a file: all that need be known to read that one. */
export function rowsAbout(file: string, manifest: Manifest): Manifest {
  return { file: manifest.file, rows: rowsNamed(manifest, baseOf(plainPath(file))) };
}

const indexes = new WeakMap<Manifest, ReadonlyMap<string, readonly ManifestRow[]>>();

/** Thousands of captures by thousands of rows: each capture looks at the rows of its own name alone. */
function rowsNamed(manifest: Manifest, base: string): readonly ManifestRow[] {
  let index = indexes.get(manifest);
  if (index === undefined) {
    index = byName(manifest.rows);
    indexes.set(manifest, index);
  }
  return index.get(base) ?? [];
}

function byName(rows: readonly ManifestRow[]): ReadonlyMap<string, readonly ManifestRow[]> {
  const named = new Map<string, ManifestRow[]>();
  for (const row of rows) {
    const base = baseOf(plainPath(row.file));
    const others = named.get(base);
    if (others === undefined) named.set(base, [row]);
    else others.push(row);
  }
  return named;
}

function isMeant(captureFile: string, manifestFile: string, named: string): boolean {
  const capture = plainPath(captureFile);
  const manifest = plainPath(manifestFile);
  const wanted = plainPath(named);
  if (baseOf(capture) !== baseOf(wanted)) return false;
  if (baseOf(manifest).toLowerCase() !== 'manifest.csv' || !capture.includes('/')) return true;
  return capture === plainPath(`${folderOf(manifest)}${wanted}`) || capture === wanted;
}

function plainPath(path: string): string {
  return path
    .replace(/\\/g, '/')
    .replace(/(^|\/)(?:\.\/)+/g, '$1')
    .replace(/\/{2,}/g, '/');
}

function baseOf(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

function folderOf(path: string): string {
  return path.slice(0, path.lastIndexOf('/') + 1);
}

function withFacts(capture: Capture, { facts, entries }: ManifestRow): Capture {
  return {
    ...capture,
    gainDb: facts.gainDb ?? capture.gainDb,
    takenAt: facts.takenAt ?? capture.takenAt,
    positionMm: facts.positionMm ?? capture.positionMm,
    acrossMm: facts.acrossMm ?? capture.acrossMm,
    probe: facts.probe ?? capture.probe,
    instrument: facts.instrument ?? capture.instrument,
    block: facts.block ?? capture.block,
    temperatureC: facts.temperatureC ?? capture.temperatureC,
    metadata: [...capture.metadata, ...entries],
  };
}
