import { dbFromRatio } from '../units/decibel.ts';
import { propagate, type Quantity } from '../units/quantity.ts';
import { scaled, unusableHeight } from './height-reading.ts';
import { type OfSignal, sameLevelDb } from './signals.ts';

/** A total error as the sum of the logarithms of heights, so that what cancels cancels: Σ coefficient · 20 · log10(height) − dB of gain. */
export interface Total {
  readonly levelDb: number;
  readonly valueDb: number;
  readonly shares: ReadonlyMap<OfSignal, number>;
}

/** One capture of the run: its step from the capture before, and the total up to it. */
export interface InCourse {
  readonly of: OfSignal;
  readonly run: number;
  readonly before: OfSignal | null;
  readonly error: Quantity | null;
  readonly total: Total | null;
  /** The capture before it, where the run breaks off here. */
  readonly brokenFrom: OfSignal | null;
}

/** Adds the steps up, capture by capture: within a signal from its first, and on from one signal to the next where both were captured at one setting of the gain. */
export function courseOf(ofSignals: readonly OfSignal[]): InCourse[] {
  const course: InCourse[] = [];
  let run = 0;
  let start: { readonly of: OfSignal; readonly total: Total } | null = null;
  let before: OfSignal | null = null;
  let signal = -1;
  for (const of of ofSignals) {
    const isNew = of.signal !== signal;
    if (isNew) {
      start = null;
      before = null;
    }
    signal = of.signal;
    let brokenFrom: OfSignal | null = null;
    if (unusableHeight(of.reading) !== null) {
      course.push({ of, run, before, error: null, total: null, brokenFrom });
      continue;
    }
    if (start === null) {
      const met = course.findLast(
        (other) =>
          other.run === run &&
          other.total !== null &&
          Math.abs(other.of.reading.levelDb - of.reading.levelDb) < sameLevelDb,
      );
      const previous = course.findLast((other) => other.total !== null)?.of ?? null;
      if (met === undefined && previous !== null) {
        run += 1;
        brokenFrom = previous;
      }
      const total: Total = met?.total ?? { levelDb: of.reading.levelDb, valueDb: 0, shares: new Map() };
      start = { of, total };
      course.push({ of, run, before: null, error: null, total, brokenFrom });
    } else {
      course.push({
        of,
        run,
        before,
        error: before === null ? null : stepError(before, of),
        total: totalAt(start, of),
        brokenFrom,
      });
    }
    before = of;
  }
  return course;
}

const perNeper = dbFromRatio(Math.E);

/** Standard uncertainty of 20 · log10(height). */
function uLevel({ reading: { percent } }: OfSignal): number | null {
  return percent === null ? null : scaled(percent, perNeper / percent.value).standardUncertainty;
}

function stepDb(from: OfSignal, to: OfSignal): number {
  const ratio = (to.reading.percent?.value ?? Number.NaN) / (from.reading.percent?.value ?? Number.NaN);
  return dbFromRatio(ratio) - (to.reading.levelDb - from.reading.levelDb);
}

/** What the step from one capture to another of its signal did, less what it says. */
export function stepError(from: OfSignal, to: OfSignal): Quantity {
  return propagate(
    stepDb(from, to),
    [from, to].map((of) => ({ sensitivity: 1, standardUncertainty: uLevel(of) })),
  );
}

function totalAt(start: { readonly of: OfSignal; readonly total: Total }, here: OfSignal): Total {
  const shares = new Map(start.total.shares);
  shares.set(here, (shares.get(here) ?? 0) + 1);
  shares.set(start.of, (shares.get(start.of) ?? 0) - 1);
  return { levelDb: here.reading.levelDb, valueDb: start.total.valueDb + stepDb(start.of, here), shares };
}

/** One total less another; `null`: less that of the first setting. */
export function totalBetween(from: Total | null, to: Total): Quantity {
  const members = new Set([...to.shares.keys(), ...(from?.shares.keys() ?? [])]);
  const contributions = [...members].map((of) => ({
    sensitivity: (to.shares.get(of) ?? 0) - (from?.shares.get(of) ?? 0),
    standardUncertainty: uLevel(of),
  }));
  return propagate(to.valueDb - (from?.valueDb ?? 0), contributions);
}
