import { log10, power } from '../elementary/exponential.ts';
import { type Outcome, problem, success } from '../outcome.ts';
import { hindranceTexts } from '../probe/hindrance.ts';
import type { Trace } from '../signal/conditioning.ts';
import { scalogram } from './scalogram.ts';
import { spectrogram, type TimeFrequency } from './spectrogram.ts';

export type TimeFrequencyMethod = 'spectrogram' | 'scalogram';

/** How the spectrum of one echo goes along its time, as an image. */
export interface TimeFrequencyPicture {
  /** Method, window, lengths: in words. */
  readonly method: string;
  /** Of the middle of the first column, and from one column to the next. */
  readonly startUs: number;
  readonly stepUs: number;
  readonly columns: number;
  readonly startMHz: number;
  readonly stepMHz: number;
  readonly rows: number;
  /** Level to the highest cell in dB, not below `floorDb`: column after column, lowest frequency first. */
  readonly levelsDb: Float32Array<ArrayBuffer>;
  readonly floorDb: number;
}

/** Levels below this are one shade: they tell nothing of a probe (common practice). */
const floorDb = -40;
/** More columns and rows than a printed picture shows. */
const mostColumns = 320;
const scalogramRows = 96;
const fewestSamples = 16;

/**
 * Spectrogram or scalogram of the gated echo with half the gate's length on either side of it, as far as there is a record.
 * Frequencies end where no cell stands within 40 dB of the highest.
 * Problems: `rectified`, `outside-record`, `too-few-samples`.
 */
export function timeFrequencyPicture(
  file: string,
  trace: Trace,
  gate: { readonly fromUs: number; readonly toUs: number },
  method: TimeFrequencyMethod,
): Outcome<TimeFrequencyPicture> {
  const refused = (code: 'rectified' | 'outside-record' | 'too-few-samples') => ({
    ok: false as const,
    problems: [problem(code, { file }, hindranceTexts[code])],
  });
  if (trace.rectification !== 'rf') return refused('rectified');
  const half = (gate.toUs - gate.fromUs) / 2;
  const indexOf = (timeUs: number) => (timeUs - trace.startUs) / trace.stepUs;
  if (indexOf(gate.toUs) < 0 || indexOf(gate.fromUs) > trace.samples.length - 1) return refused('outside-record');
  const first = Math.max(0, Math.ceil(indexOf(gate.fromUs - half) - 1e-9));
  const last = Math.min(trace.samples.length - 1, Math.floor(indexOf(gate.toUs + half) + 1e-9));
  const count = last - first + 1;
  if (count < 2 * fewestSamples) return refused('too-few-samples');
  const record = {
    samples: trace.samples.slice(first, last + 1),
    startUs: trace.startUs + first * trace.stepUs,
    stepUs: trace.stepUs,
  };
  const hop = Math.max(1, Math.ceil(count / mostColumns));
  return success(method === 'spectrogram' ? ofPieces(record, count, hop) : ofWavelets(record, hop));
}

interface Part {
  readonly samples: Float64Array;
  readonly startUs: number;
  readonly stepUs: number;
}

/** Pieces of an eighth of what is shown: a quarter of the gate. */
function ofPieces(record: Part, count: number, hop: number): TimeFrequencyPicture {
  const length = Math.max(fewestSamples, Math.round(count / 8));
  const made = spectrogram(record, { window: { kind: 'hann' }, length, hop, padding: 4 });
  const us = Number((length * record.stepUs).toPrecision(3));
  return pictureOf(made, `Spectrogram: short-time Fourier transform, Hann window of ${us} µs (${length} samples)`);
}

/** The frequencies of the pieces, as far as they tell something, from the first on that a wavelet can have. */
function ofWavelets(record: Part, hop: number): TimeFrequencyPicture {
  const toMHz = highestFrequency(record);
  const frequencies = Float64Array.from({ length: scalogramRows }, (_, k) => (toMHz * (k + 1)) / scalogramRows);
  const made = scalogram(record, frequencies, hop);
  return pictureOf(made, `Scalogram: ${made.method}`);
}

function highestFrequency(record: Part): number {
  const length = record.samples.length;
  const whole = spectrogram(record, { window: { kind: 'hann' }, length, hop: length, padding: 4 });
  return whole.frequenciesMHz[lastRow(whole)];
}

/** The highest row in which a cell stands within 40 dB of the highest of all. */
function lastRow({ values, frequenciesMHz }: TimeFrequency): number {
  const rows = frequenciesMHz.length;
  const level = highestOf(values) * power(10, floorDb / 20);
  for (let row = rows - 1; row > 1; row--)
    for (let cell = row; cell < values.length; cell += rows) if (values[cell] >= level) return row;
  return Math.min(1, rows - 1);
}

function pictureOf(made: TimeFrequency, method: string): TimeFrequencyPicture {
  const { timesUs, frequenciesMHz, values } = made;
  const all = frequenciesMHz.length;
  const rows = lastRow(made) + 1;
  const highest = highestOf(values);
  const levelsDb = new Float32Array(timesUs.length * rows).fill(floorDb);
  for (let column = 0; column < timesUs.length; column++)
    for (let row = 0; row < rows; row++) {
      const value = values[column * all + row];
      if (value > 0) levelsDb[column * rows + row] = Math.max(floorDb, 20 * log10(value / highest));
    }
  return {
    method,
    startUs: timesUs[0],
    stepUs: timesUs.length > 1 ? timesUs[1] - timesUs[0] : 0,
    columns: timesUs.length,
    startMHz: frequenciesMHz[0],
    stepMHz: frequenciesMHz[1] - frequenciesMHz[0],
    rows,
    levelsDb,
    floorDb,
  };
}

function highestOf(values: Float64Array): number {
  let highest = 0;
  for (const value of values) highest = Math.max(highest, value);
  return highest;
}
