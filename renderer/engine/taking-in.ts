import type { Capture } from '../../core/capture/capture.ts';
import type { Extrema } from '../../core/capture/extrema-pyramid.ts';
import type { Waveform } from '../../core/capture/waveform.ts';
import { type ImportedFile, importBytes, startImport } from '../../core/import/import-file.ts';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import { type Manifest, readManifest } from '../../core/import/manifest.ts';
import { failure, type Outcome, problem } from '../../core/outcome.ts';
import { reviewFormat } from '../../core/review/review.ts';
import type { ImportedSource, TraceFacts } from './messages.ts';
import type { Control } from './pauses.ts';
import { type Room, tooManySamples } from './room.ts';

/** A file's bytes and what they hash to. */
export interface Content {
  readonly sha256: string;
  readonly blob: Blob;
}

/** Larger files are read in pieces, so that the worker stays answerable. */
const pieceBytes = 2 ** 22;

/** SHA-256 of the bytes, lower-case hexadecimal. */
export async function sha256Of(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

export async function bytesOf(blob: Blob): Promise<Uint8Array<ArrayBuffer>> {
  return new Uint8Array(await blob.arrayBuffer());
}

/** From bytes to captures as far as there is room, with pauses where the file is long. The progress is told in bytes. */
export async function importPaused(
  file: string,
  bytes: Uint8Array,
  recipe: ImportRecipe,
  sha256: string,
  control: Control,
  room: Room,
): Promise<Outcome<ImportedFile>> {
  const left = room.samples - room.taken;
  if (bytes.length <= pieceBytes) {
    const imported = importBytes(file, bytes, recipe, sha256);
    return samplesIn(imported) > left ? tooManySamples(file, room) : imported;
  }
  const running = startImport(file, recipe, bytes.length);
  for (let from = 0; from < bytes.length; from += pieceBytes) {
    const fatal = running.push(bytes.subarray(from, from + pieceBytes));
    if (fatal.length > 0) return failure(...fatal);
    if (running.samples > left) return tooManySamples(file, room);
    control.progress({ done: Math.min(bytes.length, from + pieceBytes), total: bytes.length });
    await control.pause();
  }
  return running.finish(sha256);
}

export function samplesIn(imported: Outcome<ImportedFile>): number {
  if (!imported.ok) return 0;
  return imported.value.captures.reduce((sum, { waveform }) => sum + waveform.samples.length, 0);
}

const manifestName = /(^|\/)manifest\.csv$/i;
const reviewName = /\.(json|ascan-review)$/i;

/** What a file is by its name, and where that does not say it, by what it begins with. */
export function kindOf(file: string, bytes: Uint8Array): ImportedSource['kind'] {
  if (manifestName.test(file)) return 'manifest';
  if (!reviewName.test(file)) return 'captures';
  const start = new TextDecoder().decode(bytes.subarray(0, 400));
  return start.includes(`"${reviewFormat}"`) ? 'review' : 'captures';
}

/**
 * Files are known to a manifest by their folder: each stands in one, that of the review, as it does for a review that is evaluated from a folder.
 * (Without a folder a manifest goes by base names alone, and would describe files of other folders too.)
 */
const reviewFolder = 'review/';

export function manifestOf(file: string, bytes: Uint8Array): Outcome<Manifest> {
  const read = readManifest(file, bytes);
  return read.ok ? { ...read, value: { ...read.value, file: reviewFolder + file } } : read;
}

export function inFolder(capture: Capture): Capture {
  return { ...capture, file: reviewFolder + capture.file };
}

export function outOfFolder(capture: Capture): Capture {
  return { ...capture, file: capture.file.slice(reviewFolder.length) };
}

const mostTracesTold = 50;

/** What became of a file that should hold captures. */
export function capturesTold(file: string, sha256: string, imported: Outcome<ImportedFile>): ImportedSource {
  const common = { file, sha256, kind: 'captures' } as const;
  if (!imported.ok)
    return { ...common, state: 'broken', understood: null, asks: [], warnings: [], problems: imported.problems };
  const { bytes, encoding, delimiter, decimalMark, traces, recipe, asks, captures } = imported.value;
  const empty = asks.length === 0 && captures.length === 0;
  const none = problem('no-trace', { file }, 'there is no trace in this file; check that it is a saved waveform');
  return {
    ...common,
    state: empty ? 'broken' : asks.length > 0 ? 'asking' : 'ready',
    understood: {
      bytes,
      encoding,
      delimiter,
      decimalMark,
      traceCount: traces.length,
      traces: traces.slice(0, mostTracesTold),
      recipe,
    },
    asks,
    warnings: imported.warnings,
    problems: empty ? [none] : [],
  };
}

export function manifestTold(file: string, sha256: string, bytes: Uint8Array): ImportedSource {
  const read = readManifest(file, bytes);
  return {
    file,
    sha256,
    kind: 'manifest',
    state: read.ok ? 'ready' : 'broken',
    understood: null,
    asks: [],
    warnings: read.ok ? read.warnings : [],
    problems: read.ok ? [] : read.problems,
  };
}

export function traceFacts(capture: Capture): TraceFacts {
  const { waveform, metadata: _, ...known } = capture;
  const { startUs, stepUs, samples, rectification, amplitudeUnit } = waveform;
  return {
    ...known,
    startUs,
    stepUs,
    sampleCount: samples.length,
    rectification,
    amplitudeUnit,
    extremaPercent: extremaOf(waveform),
  };
}

const extremaKnown = new WeakMap<Waveform, Extrema>();

function extremaOf(waveform: Waveform): Extrema {
  const known = extremaKnown.get(waveform);
  if (known !== undefined) return known;
  const { samples, zeroLevel, fullScreen } = waveform;
  let minimum = samples[0];
  let maximum = samples[0];
  for (let i = 1; i < samples.length; i++) {
    if (samples[i] < minimum) minimum = samples[i];
    if (samples[i] > maximum) maximum = samples[i];
  }
  const percent = (sample: number) =>
    fullScreen === null || !(fullScreen > 0) ? sample : ((sample - zeroLevel) * 100) / fullScreen;
  const extrema = { minimum: percent(minimum), maximum: percent(maximum) };
  extremaKnown.set(waveform, extrema);
  return extrema;
}
