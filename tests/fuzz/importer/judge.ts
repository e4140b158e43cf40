import { type ImportedFile, importBytes, startImport } from '../../../core/import/import-file.ts';
import { type ImportRecipe, inferEverything } from '../../../core/import/import-recipe.ts';
import type { Outcome, Problem } from '../../../core/outcome.ts';
import { Chance, seedOf } from '../chance.ts';
import type { Verdict } from '../subject.ts';
import { slowNumber } from './slow-number.ts';
import { type SlowLine, type SlowRow, slowLines, slowRows } from './slow-reader.ts';

/** What the maker of a file wrote into it. */
export interface WrittenFile {
  readonly traces: readonly { readonly name: string; readonly samples: readonly number[] }[];
  readonly startUs: number;
  readonly stepUs: number;
}

export const fileName = 'a.csv';

/** Judges what the importer makes of these bytes; recipe and cuts follow from the bytes. */
export function judgeImport(bytes: Uint8Array, truth: WrittenFile | null): Verdict {
  const chance = new Chance(seedOf(bytes));
  const recipe = truth === null && chance.oneIn(3) ? anyRecipe(chance) : inferEverything;
  const before = bytes.slice();
  const outcome = importBytes(fileName, bytes, recipe, null);
  const faults = faultsIn(outcome, recipe, before, truth);
  if (!before.every((byte, i) => byte === bytes[i])) faults.push('the source’s bytes were changed');
  faults.push(...differences(outcome, inPieces(before, recipe, chance)).map((what) => `in pieces: ${what}`));
  return { outcome: kindOf(outcome), faults };
}

/** What is wrong with what the importer made of these bytes. */
export function faultsIn(
  outcome: Outcome<ImportedFile>,
  recipe: ImportRecipe,
  bytes: Uint8Array,
  truth: WrittenFile | null,
): string[] {
  return [
    ...wrongPlaces(outcome, bytes),
    ...(outcome.ok ? againstSlowReader(outcome.value, recipe, bytes) : []),
    ...(truth === null ? [] : againstTruth(outcome, truth)),
  ];
}

/** What tells results apart: layout, and the codes with whether they have a line and a column. */
function kindOf(outcome: Outcome<ImportedFile>): string {
  const codes = (problems: readonly Problem[]) =>
    [
      ...new Set(
        problems.map(
          ({ code, place }) => `${code}${place.line === null ? '' : ':l'}${place.column === null ? '' : ':c'}`,
        ),
      ),
    ]
      .sort()
      .join('+');
  if (!outcome.ok) return `refused ${codes(outcome.problems)}`;
  const { delimiter, decimalMark, encoding, traces, asks, warnings, recipe } = outcome.value;
  const shape = [
    encoding,
    delimiter,
    decimalMark,
    recipe.headerLine === 0 ? 'bare' : 'header',
    traces.length > 2 ? 'many' : traces.length,
    recipe.columns.captureId === null ? '' : 'long',
    recipe.columns.axis === null ? 'no axis' : recipe.axis,
  ];
  return `${asks.length > 0 ? 'asked' : 'read'} ${JSON.stringify(shape)} ${codes(asks)} ${codes(warnings)}`;
}

function inPieces(bytes: Uint8Array, recipe: ImportRecipe, chance: Chance): Outcome<ImportedFile> {
  const running = startImport(
    fileName,
    recipe,
    chance.oneIn(2) ? bytes.length : chance.oneIn(2) ? chance.below(1000) : null,
  );
  const most = chance.pick([1, 2, 7, 100, 5000, 70_000]);
  for (let from = 0; from < bytes.length; ) {
    const to = Math.min(bytes.length, from + 1 + chance.below(most));
    const piece = bytes.slice(from, to);
    running.push(piece);
    // The caller may use its buffer again at once.
    piece.fill(0x37);
    from = to;
  }
  return running.finish(null);
}

/** In what two outcomes differ; samples are held against each other bit by bit. */
export function differences(one: Outcome<ImportedFile>, other: Outcome<ImportedFile>): string[] {
  if (!one.ok || !other.ok) {
    return JSON.stringify(one.ok || one.problems) === JSON.stringify(other.ok || other.problems)
      ? []
      : [`${problemsOf(one)} against ${problemsOf(other)}`];
  }
  const plain = (file: ImportedFile) =>
    JSON.stringify(file, (key, value) => (key === 'samples' && typeof value === 'object' ? value.length : value));
  if (plain(one.value) !== plain(other.value)) return ['what was understood differs'];
  return one.value.captures.flatMap(({ trace, waveform }, i) =>
    sameSamples(waveform.samples, other.value.captures[i].waveform.samples) ? [] : [`samples of ${trace} differ`],
  );
}

function sameSamples(one: ArrayLike<number>, other: ArrayLike<number>): boolean {
  if (one.length !== other.length) return false;
  for (let i = 0; i < one.length; i++) if (!Object.is(one[i], other[i])) return false;
  return true;
}

function problemsOf(outcome: Outcome<ImportedFile>): string {
  return outcome.ok
    ? 'read'
    : outcome.problems.map(({ code, place }) => `${code} ${place.line}:${place.column}`).join(', ');
}

/** Problems that are the whole file's: there is no line to go to. */
const ofWholeFile = new Set(['empty-file', 'no-amplitude-column']);

function wrongPlaces(outcome: Outcome<ImportedFile>, bytes: Uint8Array): string[] {
  const problems = outcome.ok ? [...outcome.value.asks, ...outcome.value.warnings] : outcome.problems;
  const faults: string[] = [];
  if (!outcome.ok && problems.length === 0) faults.push('refused without a problem');
  if (!outcome.ok && problems.length > 20) faults.push(`${problems.length} problems at once`);
  const readings = outcome.ok ? [outcome.value.encoding] : encodings;
  faults.push(
    ...readings
      .map((encoding) => placesOutside(problems, slowLines(bytes, encoding)))
      .reduce((fewest, outside) => (outside.length < fewest.length ? outside : fewest)),
  );
  for (const { code, place, sentence } of problems) {
    if (place.file !== fileName) faults.push(`${code} is of another file: ${place.file}`);
    if (sentence.length < 12) faults.push(`${code} has no sentence`);
    if (!outcome.ok && place.line === null && !ofWholeFile.has(code)) faults.push(`${code} has no line`);
  }
  return faults;
}

const encodings = ['utf-8', 'latin-1', 'utf-16le', 'utf-16be'] as const;

/** Of a refused file the encoding is not told: its places must be right in one of them. */
function placesOutside(problems: readonly Problem[], lines: readonly SlowLine[]): string[] {
  return problems.flatMap(({ code, place }) => {
    if (place.line === null) return [];
    const line = lines[place.line - 1];
    if (line === undefined && place.line > Math.max(1, lines.length))
      return [`${code} stands in line ${place.line} of ${lines.length}`];
    return place.column === null || (place.column >= 1 && place.column <= longestReading(line?.text ?? '') + 1)
      ? []
      : [`${code} stands in column ${place.column} of line ${place.line}, which has ${line?.text.length}`];
  });
}

/** A line that turns out to be Latin-1 has a character for each byte. */
function longestReading(text: string): number {
  return Math.max(text.length, Buffer.byteLength(text));
}

function againstSlowReader(file: ImportedFile, recipe: ImportRecipe, bytes: Uint8Array): string[] {
  const lines = slowLines(bytes, file.encoding);
  const { axis, amplitudes, captureId } = file.recipe.columns;
  const fieldOf = (column: string | number | null) => (typeof column === 'number' ? column - 1 : -1);
  const fields = (amplitudes ?? []).map(fieldOf);
  const wanted = [
    ...(axis === null ? [] : [{ field: fieldOf(axis), isLabel: false }]),
    ...fields.map((field) => ({ field, isLabel: false })),
    ...(captureId === null ? [] : [{ field: fieldOf(captureId), isLabel: true }]),
  ];
  const faults: string[] = [];
  const { rows, odd } = bodyOf(lines, file, recipe, wanted);
  if (odd.length > 0) return [`read although line ${odd[0].line} ${odd[0].sentence}`];
  const groups = grouped(rows, captureId === null ? null : fieldOf(captureId), file);
  const traces = groups.flatMap(({ rows: own }) =>
    fields.map((field) => own.map(({ cells }) => numberIn(cells[field], file, recipe))),
  );
  if (traces.length !== file.traces.length)
    return [`${file.traces.length} traces, where the slow reader finds ${traces.length}`];
  if (file.asks.length > 0 && file.captures.length > 0) faults.push('there are captures although something is asked');
  if (file.asks.length === 0 && file.captures.length !== file.traces.length)
    faults.push('there are fewer captures than traces');
  const header =
    file.recipe.headerLine === null || file.recipe.headerLine === 0
      ? ''
      : (lines[file.recipe.headerLine - 1]?.text ?? '');
  const preamble = lines.map(({ text }) => text).join('\n');
  traces.forEach((values, i) => {
    const described = file.traces[i];
    if (described.samples !== values.length) {
      faults.push(
        `‘${described.name}’ has ${described.samples} samples, where the slow reader finds ${values.length} rows`,
      );
      return;
    }
    const capture = file.captures[i];
    if (capture === undefined) return;
    const { samples, stepUs, startUs } = capture.waveform;
    if (!(stepUs > 0) || !Number.isFinite(stepUs) || !Number.isFinite(startUs))
      faults.push(`the axis has start ${startUs} and step ${stepUs}`);
    if (!samples.every(Number.isFinite)) faults.push(`‘${described.name}’ has a sample that is no finite number`);
    if (file.warnings.some(({ code }) => code === 'resampled')) return;
    const wrong = firstWrong(samples, values, allowedScales(`${header}\n${preamble}`, recipe));
    if (wrong !== null) faults.push(`‘${described.name}’: ${wrong}`);
  });
  if (axis !== null && file.captures.length > 0) {
    groups.forEach(({ rows: own }, g) => {
      const capture = file.captures[g * fields.length];
      if (capture === undefined || file.warnings.some(({ code }) => overruled.has(code))) return;
      const stamps = own.map(({ cells }) => numberIn(cells[fieldOf(axis)], file, recipe));
      const wrong = wrongAxis(stamps, capture.waveform, file);
      if (wrong !== null) faults.push(wrong);
    });
  }
  return faults;
}

function numberIn(cell: string, file: ImportedFile, recipe: ImportRecipe): number {
  return slowNumber(cell, file.decimalMark, recipe.decimalMark !== null)?.value ?? Number.NaN;
}

/** The rows below the header; without a header, those from the first line on from which all are rows. */
function bodyOf(
  lines: readonly SlowLine[],
  file: ImportedFile,
  recipe: ImportRecipe,
  wanted: readonly { readonly field: number; readonly isLabel: boolean }[],
) {
  const from = file.recipe.headerLine ?? 0;
  // Below a header at most a row of units is no row of samples; where a person named the header's line, what follows it until the rows begin.
  const mostSkipped = from > 0 && recipe.headerLine === null ? 1 : lines.length;
  const all = slowRows(lines, from, file, wanted, recipe);
  if (all.odd.length === 0 || all.odd.length > mostSkipped) return all;
  return slowRows(lines, Math.max(...all.odd.map(({ line }) => line)), file, wanted, recipe);
}

interface Group {
  readonly id: string | null;
  readonly rows: SlowRow[];
}

/** One group for each capture id, in the order in which they come. Ids are one if they are the same number to the last digit, or the same text. */
function grouped(rows: readonly SlowRow[], idField: number | null, file: ImportedFile): readonly Group[] {
  if (idField === null) return [{ id: null, rows: [...rows] }];
  const groups = new Map<string, Group>();
  for (const row of rows) {
    const cell = row.cells[idField].trim();
    const id = slowNumber(cell, file.decimalMark)?.exactly ?? `text ${cell}`;
    const group = groups.get(id.replace(/^-0$/, '0')) ?? { id, rows: [] };
    groups.set(id.replace(/^-0$/, '0'), group);
    group.rows.push(row);
  }
  return [...groups.values()];
}

type Scale = (value: number) => number;

/** What a number in the file may be multiplied by: only what a unit in it, or the person, gives cause for. */
function allowedScales(words: string, recipe: ImportRecipe): Scale[] {
  const scales: Scale[] = [(value) => value];
  if (recipe.amplitudeUnit === 'fraction' || /fs|frac|of ?full/i.test(words)) scales.push((value) => value * 100);
  if (/mv|milliv/i.test(words)) scales.push((value) => value / 1000);
  if (/[uµμ]v|microv/i.test(words)) scales.push((value) => value / 1e6);
  return scales;
}

function firstWrong(samples: Float64Array, values: readonly number[], scales: readonly Scale[]): string | null {
  let best = 0;
  let wrongAt = -1;
  for (const scale of scales) {
    const at = values.findIndex((value, i) => !Object.is(scale(value), samples[i]));
    if (at < 0) return null;
    if (at >= best) {
      best = at;
      wrongAt = at;
    }
  }
  return `sample ${wrongAt} is ${samples[wrongAt]}, where the slow reader finds ${values[wrongAt]}`;
}

/** Where a person's word goes before the column's. */
const overruled = new Set(['resampled', 'sampling-rate-overridden']);

const inMicroseconds = { s: 1e6, ms: 1e3, us: 1, ns: 1e-3 } as const;
const inMillimetres = { mm: 1, cm: 10, m: 1000, in: 25.4 } as const;

/** Every stamp must lie where start and step put it: within 0.02 of a step, or within one where rounding was said to be seen. */
function wrongAxis(
  stamps: readonly number[],
  { startUs, stepUs }: { startUs: number; stepUs: number },
  file: ImportedFile,
): string | null {
  const { timeUnit, distanceUnit, axisVelocityMPerS, axis } = file.recipe;
  const isNumbered = file.recipe.axis === null || (timeUnit === null && distanceUnit === null);
  const factor = isNumbered
    ? null
    : axis === 'distance' && distanceUnit !== null && axisVelocityMPerS !== null
      ? (2 * inMillimetres[distanceUnit] * 1000) / axisVelocityMPerS
      : timeUnit !== null
        ? inMicroseconds[timeUnit]
        : null;
  if (stamps.some((stamp, i) => i > 0 && !(stamp > stamps[i - 1])))
    return 'the axis does not rise all along, and was read';
  if (factor === null) {
    // Sample numbers: evenly spaced is all that can be said.
    const usual = (stamps[stamps.length - 1] - stamps[0]) / (stamps.length - 1);
    const off = stamps.findIndex((stamp, i) => Math.abs(stamp - stamps[0] - i * usual) > 0.95 * usual);
    return off < 0 ? null : `sample number ${stamps[off]} is out of step, and was read`;
  }
  const coarse = file.warnings.some(({ code }) => code === 'coarse-axis');
  const allowed = (coarse ? 0.95 : 0.0201) * stepUs;
  const noise = (value: number) => Math.abs(value) * 1e-12;
  const off = stamps.findIndex(
    (stamp, i) => Math.abs(stamp * factor - (startUs + i * stepUs)) > allowed + noise(stamp * factor),
  );
  return off < 0 ? null : `stamp ${off} is ${stamps[off] * factor} µs, and was put at ${startUs + off * stepUs} µs`;
}

/** What the conventions leave to a person even in a file that is well written. */
const mayBeAsked = new Set([
  'ambiguous-thousands',
  'implausible-amplitude',
  'rectification-doubtful',
  'flat-column',
  'one-way-column',
]);
const mayBeRefused = new Set(['samples-along-rows']);

function againstTruth(outcome: Outcome<ImportedFile>, truth: WrittenFile): string[] {
  if (!outcome.ok) {
    return outcome.problems.every(({ code }) => mayBeRefused.has(code) || mayBeAsked.has(code))
      ? []
      : [`refused although written by the conventions: ${problemsOf(outcome)}`];
  }
  const { captures, asks } = outcome.value;
  if (asks.length > 0) {
    const surprising = asks.filter(({ code }) => !mayBeAsked.has(code));
    return surprising.length > 0
      ? [`asked although all is stated: ${surprising.map(({ code }) => code).join(', ')}`]
      : [];
  }
  if (captures.length !== truth.traces.length)
    return [`${captures.length} captures of ${truth.traces.length} that were written`];
  return truth.traces.flatMap(({ name, samples }, i) => {
    const { trace, waveform } = captures[i];
    const faults: string[] = [];
    if (trace !== name) faults.push(`trace ‘${name}’ is called ‘${trace}’`);
    const wrong = firstWrong(waveform.samples, samples, [(value) => value]);
    if (wrong !== null || waveform.samples.length !== samples.length)
      faults.push(`as written, ‘${name}’: ${wrong ?? 'another length'}`);
    const near = (found: number, written: number) =>
      Math.abs(found - written) <= 1e-9 * Math.max(truth.stepUs, Math.abs(written));
    if (!near(waveform.startUs, truth.startUs))
      faults.push(`start ${truth.startUs} µs was read as ${waveform.startUs}`);
    if (!near(waveform.stepUs, truth.stepUs)) faults.push(`step ${truth.stepUs} µs was read as ${waveform.stepUs}`);
    return faults;
  });
}

/** Any decisions that a person may have kept from another file. */
export function anyRecipe(chance: Chance): ImportRecipe {
  const maybe = <T>(choices: readonly T[]): T | null => (chance.oneIn(4) ? chance.pick(choices) : null);
  return {
    encoding: maybe(['utf-8', 'utf-16le', 'utf-16be', 'latin-1'] as const),
    delimiter: maybe([',', ';', '\t', ' '] as const),
    decimalMark: maybe(['.', ','] as const),
    headerLine: maybe([0, 1, 2, 3, 7]),
    axis: maybe(['time', 'distance'] as const),
    timeUnit: maybe(['s', 'ms', 'us', 'ns'] as const),
    distanceUnit: maybe(['mm', 'cm', 'm', 'in'] as const),
    startUs: maybe([0, -3, 12.5]),
    sampleRateMHz: maybe([100, 0.5]),
    axisVelocityMPerS: maybe([5920]),
    amplitudeUnit: chance.oneIn(2) ? 'percent' : maybe(['volt', 'count', 'fraction'] as const),
    fullScreen: maybe([1, 2048]),
    zeroLevel: maybe([0, 2048]),
    rectification: maybe(['rf', 'full', 'positive', 'negative', 'envelope'] as const),
    columns: {
      axis: maybe([1, 2, 'time_us', 99]),
      amplitudes: maybe([[2], [2, 3], [1], [], ['a_pct']]),
      captureId: chance.oneIn(3) ? maybe([1, 'capture']) : null,
    },
    uneven: chance.oneIn(6) ? 'resample' : 'refuse',
    dateOrder: maybe(['day-first', 'month-first'] as const),
  };
}
