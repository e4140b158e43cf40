import { log10, power } from '../elementary/exponential.ts';
import type { PulseCurves } from '../probe/pulse.ts';
import { type Alignment, alignByCorrelation, alignByPeak, valuesAt } from './align.ts';

/** Two echoes, one over the other, in time. */
export interface TimeDifference {
  readonly alignment: Alignment;
  readonly startUs: number;
  readonly stepUs: number;
  /** The reference as it stands, the other shifted onto it, and the other less the reference; in % FSH, or of each one's own peak where normalised. */
  readonly reference: Float64Array;
  readonly other: Float64Array;
  readonly difference: Float64Array;
  /** Root mean square of the difference over that of the reference. */
  readonly relativeRms: number;
}

/**
 * The difference of two gated echoes once the shift between them is taken out. `null` where they cannot be aligned.
 * @param normalised each divided by its own highest envelope; else both as they stand in % FSH, the other’s gain brought to the reference’s
 * @param gainDb gain of the other above that of the reference
 */
export function differenceInTime(
  reference: PulseCurves,
  other: PulseCurves,
  by: Alignment['by'],
  normalised: boolean,
  gainDb: number,
): TimeDifference | null {
  const waveformOf = ({ startUs, stepUs, rf }: PulseCurves) => ({ startUs, stepUs, samples: rf });
  const alignment =
    by === 'envelope-peak'
      ? alignByPeak(reference.peakUs, other.peakUs)
      : alignByCorrelation(waveformOf(reference), waveformOf(other));
  if (alignment === null) return null;
  const { startUs, stepUs, rf } = reference;
  const shifted = valuesAt(waveformOf(other), { startUs: startUs + alignment.shiftUs, stepUs, count: rf.length });
  const scaleOf = (curves: PulseCurves) => (normalised ? 1 / highestOf(curves.envelope) : 1);
  const a = rf.map((value) => value * scaleOf(reference));
  const scale = normalised ? scaleOf(other) : power(10, -gainDb / 20);
  const b = shifted.map((value) => value * scale);
  const difference = b.map((value, i) => value - a[i]);
  return { alignment, startUs, stepUs, reference: a, other: b, difference, relativeRms: rmsOf(difference) / rmsOf(a) };
}

/** Two spectra on one axis of frequency. */
export interface SpectrumDifference {
  readonly stepMHz: number;
  /** Level of the other to the reference in dB; NaN outside the band. */
  readonly differenceDb: Float64Array;
  /** Where both stand clear of their noise and within 20 dB of their own peaks; `null` where they never do. */
  readonly band: { readonly fromMHz: number; readonly toMHz: number } | null;
}

/** A spectrum counts while it stands so far above that of its noise … */
const clearOfNoiseDb = 12;
/** … and no farther below its own peak than this. */
const withinPeakDb = 20;

/**
 * Level of one amplitude spectrum to another, line by line of the reference, in the band where both are more than noise.
 * @param normalised each to its own highest line; else as they stand, gain taken out
 * @param gainDb gain of the other above that of the reference
 */
export function differenceInFrequency(
  reference: PulseCurves,
  other: PulseCurves,
  normalised: boolean,
  gainDb: number,
): SpectrumDifference {
  const stepMHz = reference.spectrumStepMHz;
  const levelDb = normalised ? 0 : 20 * log10(other.spectrumPeak / reference.spectrumPeak) - gainDb;
  const a = reference.spectrumDb;
  const differenceDb = new Float64Array(a.length).fill(Number.NaN);
  const [first, last] = bandOf(a, reference, other);
  for (let k = first; k <= last; k++)
    differenceDb[k] = lineAt(other.spectrumDb, (k * stepMHz) / other.spectrumStepMHz) - a[k] + levelDb;
  const band = first > last ? null : { fromMHz: first * stepMHz, toMHz: last * stepMHz };
  return { stepMHz, differenceDb, band };
}

/** The unbroken run of lines about the reference’s peak in which both spectra count. */
function bandOf(a: Float64Array, reference: PulseCurves, other: PulseCurves): readonly [number, number] {
  const step = reference.spectrumStepMHz / other.spectrumStepMHz;
  const counts = (k: number): boolean =>
    isClear(a[k], reference.noiseDb?.[k]) &&
    k * step <= other.spectrumDb.length - 1 &&
    isClear(lineAt(other.spectrumDb, k * step), other.noiseDb === null ? undefined : lineAt(other.noiseDb, k * step));
  let peak = 0;
  for (let k = 1; k < a.length; k++) if (a[k] > a[peak]) peak = k;
  if (!counts(peak)) return [0, -1];
  let first = peak;
  while (first > 0 && counts(first - 1)) first -= 1;
  let last = peak;
  while (last + 1 < a.length && counts(last + 1)) last += 1;
  return [first, last];
}

function isClear(levelDb: number, noiseDb: number | undefined): boolean {
  return levelDb >= -withinPeakDb && (noiseDb === undefined || levelDb >= noiseDb + clearOfNoiseDb);
}

function lineAt(values: Float64Array, at: number): number {
  const below = Math.min(values.length - 1, Math.floor(at));
  const share = at - below;
  return share === 0 || below + 1 >= values.length
    ? values[below]
    : values[below] * (1 - share) + values[below + 1] * share;
}

function highestOf(values: Float64Array): number {
  let highest = 0;
  for (const value of values) highest = Math.max(highest, value);
  return highest;
}

function rmsOf(values: Float64Array): number {
  let squares = 0;
  for (const value of values) squares += value * value;
  return Math.sqrt(squares / values.length);
}
