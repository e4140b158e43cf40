import { dbFromRatio } from '../units/decibel.ts';
import { type HeightReading, plain, type SteppedReading, unusableHeight } from './height-reading.ts';

/** Two settings are the same when they differ by less. */
export const sameLevelDb = 0.05;

/** A step that is off by more than this is no error of a gain control one would judge: the echo was set anew, if it stands at a height to be set. */
const grossErrorDb = 3;

/** A reading with a known level, and which signal it belongs to. */
export interface OfSignal {
  readonly reading: SteppedReading & { readonly levelDb: number };
  /** Counted from 0: captures of one signal differ in the gain alone. */
  readonly signal: number;
  /** What speaks for a new signal here; `null` where the one before goes on. */
  readonly begins: 'first' | 'same-gain' | 'gross' | null;
  /** By how much the step to here would be off, had the signal not been set anew. */
  readonly wouldBeOffDb: number | null;
}

/** Heights at which an echo may be set anew; `null`: any. */
export interface SetHeights {
  readonly percents: readonly number[] | null;
  readonly tolerancePercent: number;
}

/**
 * Tells where in a run of captures the echo was set anew (the probe moved, another reflector), since only captures of one signal say something about the gain.
 * That is where the gain stays as it was before, and where the height is off by more than 3 dB while the echo stands at a height to be set. The second could also be a
 * step that failed outright: whoever uses it must say so, and never let it pass.
 * @param readings in the order in which they were taken; one with an unknown level belongs to no signal and is left out
 */
export function signalsOf(readings: readonly SteppedReading[], heights: SetHeights): OfSignal[] {
  const found: OfSignal[] = [];
  let last: OfSignal['reading'] | null = null;
  let lastUsable: OfSignal['reading'] | null = null;
  let signal = -1;
  for (const reading of readings) {
    if (!hasLevel(reading)) continue;
    const off = lastUsable === null ? null : stepOff(lastUsable, reading);
    const begins = beginning(reading, last, off, heights);
    if (begins !== null) {
      signal += 1;
      lastUsable = null;
    }
    found.push({ reading, signal, begins, wouldBeOffDb: begins === 'gross' ? off : null });
    last = reading;
    if (unusableHeight(reading) === null) lastUsable = reading;
  }
  return found;
}

function hasLevel(reading: SteppedReading): reading is SteppedReading & { readonly levelDb: number } {
  return reading.levelDb !== null;
}

function beginning(
  reading: OfSignal['reading'],
  last: OfSignal['reading'] | null,
  off: number | null,
  heights: SetHeights,
): OfSignal['begins'] {
  if (last === null) return 'first';
  if (Math.abs(reading.levelDb - last.levelDb) < sameLevelDb) return 'same-gain';
  return off !== null && Math.abs(off) > grossErrorDb && isAtSetHeight(reading, heights) ? 'gross' : null;
}

function stepOff(before: OfSignal['reading'], here: OfSignal['reading']): number | null {
  if (before.percent === null || here.percent === null || unusableHeight(here) !== null) return null;
  return dbFromRatio(here.percent.value / before.percent.value) - (here.levelDb - before.levelDb);
}

function isAtSetHeight(reading: HeightReading, heights: SetHeights): boolean {
  return (
    heights.percents === null || heights.percents.some((percent) => isSetTo(reading, percent, heights.tolerancePercent))
  );
}

/** Whether an echo stands where it was to be set. */
export function isSetTo(reading: HeightReading, percent: number, tolerancePercent: number): boolean {
  return reading.percent !== null && Math.abs(reading.percent.value - percent) <= tolerancePercent + 1e-9;
}

/** The sentence about a signal that was taken for new because the step to it is grossly off. */
export function grossRemark({ reading, wouldBeOffDb }: OfSignal): string {
  const height = reading.percent === null ? '' : ` at ${plain(reading.percent.value)} % FSH`;
  return `from the capture before it the height${height} is off by ${plain(Math.abs(wouldBeOffDb ?? 0))} dB of what the gain says: the echo is taken to have been set anew here; if it was not, this step of the gain has failed`;
}
