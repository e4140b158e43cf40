import type { CaptureId } from '../capture/capture.ts';
import { coverageFactor } from '../check/verdict.ts';
import { log10 } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import type { Echo } from '../signal/echoes.ts';
import { propagate, type Quantity } from '../units/quantity.ts';

/** What one capture of a damping test shows. */
export interface DampedCapture {
  readonly captureId: CaptureId;
  readonly echoes: readonly Echo[];
  readonly gainDb: number | null;
  /** Of one height, by the noise; `null`: not known. */
  readonly uHeightPercent: number | null;
}

export type DampingOutcome =
  /** Lower, higher or elsewhere by more than the uncertainties. */
  | 'changed'
  /** Within them. */
  | 'unchanged'
  /** Not found again, though it stood well above what could be found. */
  | 'gone'
  /** There only after damping. */
  | 'new'
  /** Its height is a bound, or an uncertainty is not known. */
  | 'not-known';

/** One echo before and after. */
export interface DampedEcho {
  readonly before: Echo | null;
  readonly after: Echo | null;
  /** After less before, gain and what all echoes share taken out; for one that is gone: at most this. */
  readonly changeDb: Quantity | null;
  /** The same of its place in time, what all echoes share taken out. */
  readonly shiftUs: Quantity | null;
  /** The same as sound path; `null` without a velocity. */
  readonly shiftMm: Quantity | null;
  readonly outcome: DampingOutcome;
  readonly sentence: string;
}

export interface DampingComparison {
  readonly before: CaptureId;
  readonly after: CaptureId;
  /** What all echoes share: the later trigger, the other coupling. `null` where too few echoes were found in both to tell it from a change of one. */
  readonly commonShiftUs: number | null;
  readonly commonDb: number | null;
  readonly echoes: readonly DampedEcho[];
  readonly remarks: readonly string[];
}

export interface DampingSettings {
  /** How far an echo may move and still be the same one. */
  readonly withinUs: number;
  /** The height from which on echoes were looked for in both. */
  readonly abovePercent: number;
  /** Standard uncertainty of a height by the coupling. */
  readonly uCouplingDb: number;
  /** In the part, to tell a shift as sound path; `null`: not known. */
  readonly velocityMPerS: number | null;
}

/** From so many matched echoes on the median is what they share, not what one of them does. */
const fewestForCommon = 3;

/**
 * Holds the echoes of two captures of one position against one another: before a surface is damped (a wet finger, couplant), and after. An echo that comes from the damped
 * surface falls; what lies inside the part stays (common practice).
 *
 * 1. Echoes are matched, the nearest in time first, no farther apart than `withinUs`.
 * 2. What all of them share, in time and in dB, is the median of the differences, taken out from three matches on.
 * 3. An echo has changed when what is left is more than twice its standard uncertainty (timing and noise of both, coupling in dB, and the median’s own).
 */
export function compareDamped(
  before: DampedCapture,
  after: DampedCapture,
  settings: DampingSettings,
): DampingComparison {
  const gain = before.gainDb === null || after.gainDb === null ? 0 : after.gainDb - before.gainDb;
  const remarks: string[] = [];
  if ((before.gainDb === null) !== (after.gainDb === null))
    remarks.push('The gain is stated of one capture alone: both are taken to be at one gain.');
  const uOfRise = (pair: { before: Echo; after: Echo }) =>
    uDb([pair.before, pair.after], [before, after], settings.uCouplingDb);
  const pairs = matched(before.echoes, after.echoes, settings.withinUs);
  const both = pairs.filter(
    (pair): pair is { before: Echo; after: Echo } => pair.before !== null && pair.after !== null,
  );
  const enough = both.length >= fewestForCommon;
  const commonShiftUs = enough ? medianOf(both.map((pair) => pair.after.timeUs - pair.before.timeUs)) : null;
  const whole = both.filter((pair) => !isBound(pair.before) && !isBound(pair.after));
  const commonDb =
    whole.length >= fewestForCommon ? medianOf(whole.map((pair) => rise(pair.before, pair.after) - gain)) : null;
  if (commonDb === null || commonShiftUs === null)
    remarks.push(
      `Fewer than ${fewestForCommon} echoes were found in both captures: a change of coupling or trigger cannot be told from a change of one echo.`,
    );
  const common: Common = {
    gain,
    db: { value: commonDb ?? 0, standardUncertainty: commonDb === null ? 0 : uMedian(whole.map(uOfRise)) },
    shiftUs: {
      value: commonShiftUs ?? 0,
      standardUncertainty: commonShiftUs === null ? 0 : uMedian(both.map(uOfShift)),
    },
  };
  return {
    before: before.captureId,
    after: after.captureId,
    commonShiftUs,
    commonDb,
    echoes: pairs.map((pair) => judged(pair, before, after, common, settings)),
    remarks,
  };
}

/** What is taken out of every change. */
interface Common {
  readonly gain: number;
  readonly db: Quantity;
  readonly shiftUs: Quantity;
}

/** Of the median of n values against that of their mean: √(π / 2), for normal errors. */
const medianFactor = Math.sqrt(Math.PI / 2);

/** Standard uncertainty of a median; `null` where that of a value is not known. */
function uMedian(uncertainties: readonly (number | null)[]): number | null {
  let variance = 0;
  for (const u of uncertainties) {
    if (u === null) return null;
    variance += u ** 2;
  }
  return (medianFactor * Math.sqrt(variance)) / uncertainties.length;
}

function uOfShift({ before, after }: { readonly before: Echo; readonly after: Echo }): number | null {
  return before.uTimeUs === null || after.uTimeUs === null ? null : hypot(before.uTimeUs, after.uTimeUs);
}

/** With that of what was taken out. */
function withCommon(u: number | null, common: Quantity): number | null {
  return u === null || common.standardUncertainty === null ? null : hypot(u, common.standardUncertainty);
}

interface Pair {
  readonly before: Echo | null;
  readonly after: Echo | null;
}

const rise = (before: Echo, after: Echo): number => 20 * log10(after.amplitudePercent / before.amplitudePercent);

/** The middle one; of an even number, the mean of the two in the middle. */
function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}

function isBound({ flags }: Echo): boolean {
  return flags.includes('saturated');
}

/** Nearest first, each echo once; what has no partner stands alone. In order of time. */
function matched(before: readonly Echo[], after: readonly Echo[], withinUs: number): Pair[] {
  const candidates = before
    .flatMap((b, i) => after.map((a, j) => ({ i, j, apart: Math.abs(a.timeUs - b.timeUs) })))
    .filter(({ apart }) => apart <= withinUs)
    .sort((x, y) => x.apart - y.apart);
  const partner = new Map<number, number>();
  const taken = new Set<number>();
  for (const { i, j } of candidates) {
    if (partner.has(i) || taken.has(j)) continue;
    partner.set(i, j);
    taken.add(j);
  }
  const pairs: Pair[] = before.map((echo, i) => {
    const j = partner.get(i);
    return { before: echo, after: j === undefined ? null : after[j] };
  });
  pairs.push(...after.filter((_, j) => !taken.has(j)).map((echo) => ({ before: null, after: echo })));
  return pairs.sort((a, b) => timeOf(a) - timeOf(b));
}

const timeOf = ({ before, after }: Pair): number => (before ?? after)!.timeUs;

function judged(
  { before, after }: Pair,
  first: DampedCapture,
  second: DampedCapture,
  common: Common,
  { abovePercent, uCouplingDb, velocityMPerS }: DampingSettings,
): DampedEcho {
  const taken = common.gain + common.db.value;
  if (before === null)
    return {
      before,
      after,
      changeDb: null,
      shiftUs: null,
      shiftMm: null,
      outcome: 'new',
      sentence: 'There only after damping.',
    };
  if (after === null) {
    const mostDb = 20 * log10(abovePercent / before.amplitudePercent) - taken;
    const u = withCommon(uDb([before], [first], uCouplingDb), common.db);
    const gone = u !== null && mostDb < -coverageFactor * u;
    return {
      before,
      after,
      changeDb: { value: mostDb, standardUncertainty: u },
      shiftUs: null,
      shiftMm: null,
      outcome: gone ? 'gone' : 'not-known',
      sentence: gone
        ? `Gone: it fell by ${(-mostDb).toFixed(1)} dB or more.`
        : `Not found again; it stood too near ${abovePercent} % of full screen height to say whether it fell.`,
    };
  }
  const changeDb = {
    value: rise(before, after) - taken,
    standardUncertainty: withCommon(uDb([before, after], [first, second], uCouplingDb), common.db),
  };
  const uTime = withCommon(uOfShift({ before, after }), common.shiftUs);
  const shiftUs = { value: after.timeUs - before.timeUs - common.shiftUs.value, standardUncertainty: uTime };
  const perUs = velocityMPerS === null ? null : velocityMPerS / 2000;
  const shiftMm =
    perUs === null ? null : propagate(shiftUs.value * perUs, [{ sensitivity: perUs, standardUncertainty: uTime }]);
  const fell = exceeds(changeDb);
  const moved = exceeds(shiftUs);
  const words = [
    ...(fell ? [`${changeDb.value < 0 ? 'lower' : 'higher'} by ${Math.abs(changeDb.value).toFixed(1)} dB`] : []),
    ...(moved
      ? [
          `${shiftUs.value < 0 ? 'earlier' : 'later'} by ${shiftMm === null ? `${Math.abs(shiftUs.value).toFixed(3)} µs` : `${Math.abs(shiftMm.value).toFixed(2)} mm of sound path`}`,
        ]
      : []),
  ];
  if (words.length > 0)
    return { before, after, changeDb, shiftUs, shiftMm, outcome: 'changed', sentence: `Changed: ${words.join(', ')}.` };
  const known = fell !== null && moved !== null && !isBound(before) && !isBound(after);
  return {
    before,
    after,
    changeDb,
    shiftUs,
    shiftMm,
    outcome: known ? 'unchanged' : 'not-known',
    sentence: known
      ? 'Unchanged within its uncertainty.'
      : 'Whether it changed is not known: its crest is cut off, or an uncertainty is not known.',
  };
}

/** `null` where the uncertainty is not known. */
function exceeds({ value, standardUncertainty }: Quantity): boolean | null {
  return standardUncertainty === null ? null : Math.abs(value) > coverageFactor * standardUncertainty;
}

/** 20 / ln 10 · u / height for each, and the coupling; `null` where a noise is not known or a crest is cut off. */
function uDb(echoes: readonly Echo[], captures: readonly DampedCapture[], uCouplingDb: number): number | null {
  let variance = uCouplingDb ** 2;
  for (const [i, echo] of echoes.entries()) {
    const u = captures[i].uHeightPercent;
    if (u === null || isBound(echo)) return null;
    variance += ((20 / Math.LN10) * (u / echo.amplitudePercent)) ** 2;
  }
  return Math.sqrt(variance);
}
