import { coverageFactor } from '../check/verdict.ts';
import { log } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import type { Flag } from '../flag.ts';
import type { Sizing } from '../review/scan-decision.ts';
import type { DynamicPoint } from '../scan/echo-dynamic.ts';
import { dbFromRatio } from '../units/decibel.ts';
import { type Quantity, rectangularUncertainty } from '../units/quantity.ts';
import { type End, findEnds, type ProfilePoint } from './ends.ts';

/** How a length is taken from an echo-dynamic. */
export interface SizingBy {
  readonly sizing: Sizing;
  readonly beamWidthMm: number | null;
  readonly uBeamWidthMm: number;
  readonly uPositionMm: number;
  /** dB of the distance-amplitude curve at a point, on the scale of its height; `null` where there is none. */
  readonly curveDbAt: (point: DynamicPoint) => number | null;
}

/** The peak that a drop is counted from, in dB over 1 % FSH at the gain of the echo-dynamic. */
export interface PeakOfDrop {
  readonly levelDb: Quantity;
  readonly positionMm: number;
  /** Of the highest point read. */
  readonly highestDb: number;
  /** By how much it may stand too high as the highest of several that are alike but for their noise; `null` where the noise is not known. */
  readonly highestOfManyDb: number | null;
}

export interface LengthResult {
  readonly method: Sizing['kind'];
  readonly dropDb: number | null;
  readonly peak: PeakOfDrop | null;
  /** In dB over 1 % FSH; `null` where it follows the curve, and where there is none. */
  readonly endLevelDb: number | null;
  readonly low: End | null;
  readonly high: End | null;
  /** From end to end, as the probe moved. */
  readonly travelMm: Quantity | null;
  /** The beam’s width where it was taken off. */
  readonly takenOffMm: Quantity | null;
  readonly lengthMm: Quantity | null;
  /** An end lies outside what was scanned, or is lost in noise: the reflector is as long or longer. */
  readonly atLeast: boolean;
  /** The drop measures the beam: the reflector is as long or shorter. */
  readonly atMost: boolean;
  /** Why there is no length; `null` where there is one. */
  readonly withoutLength: string | null;
  readonly flags: readonly Flag[];
  readonly remarks: readonly string[];
}

const drops = { 'drop-6-db': dbFromRatio(2), 'drop-20-db': 20 } as const;
/** Half of the curve. */
const halfDb = dbFromRatio(1 / 2);

/**
 * The length of a reflector along the scan, from the positions at which its echo has fallen to a level.
 *
 * `drop-6-db`    to half of its peak. Where the reflector reaches half across the beam half of the sound comes back, so its end stands at −6 dB: it holds for
 *                reflectors longer than the beam is wide there. A shorter one gives about the beam’s own width; where that is known it is said.
 * `drop-20-db`   to a tenth: there the beam’s edge meets the end, and the beam’s full width at −20 dB is taken off. Without it the length is too long by so much.
 * `fixed-level`  to a height on the screen at the gain of the highest capture.
 * `half-of-curve` to half of the distance-amplitude curve at each position’s sound path.
 *
 * Drops are counted from the peak between positions (`peakOf`), since the probe hardly ever stands at the very peak. A peak that is cut off gives no drop. The uncertainty has the shares of both ends (`findEnds`), of the peak, which moves both, and of the
 * beam’s width.
 * Flags: `several-peaks`, `beyond-scan`, `within-beam`. Source: common practice (drop methods as in ISO 16827-type texts, from memory); JCGM 100:2008, 5.1.2.
 *
 * @param points in order of position @param own first and last index of the indication’s own points
 */
export function lengthOf(
  points: readonly DynamicPoint[],
  own: { readonly first: number; readonly last: number },
  by: SizingBy,
): LengthResult {
  const { sizing } = by;
  const dropDb = sizing.kind === 'drop-6-db' || sizing.kind === 'drop-20-db' ? drops[sizing.kind] : null;
  const peak = peakOf(points, own);
  const nothing = none(sizing.kind, dropDb, peak);
  if (peak === null)
    return { ...nothing, withoutLength: 'No capture of it shows an echo that stands out from the noise.' };
  if (dropDb !== null && peakIsCutOff(points, own))
    return {
      ...nothing,
      withoutLength:
        'Its peak is cut off: where the echo has fallen by so many dB from it cannot be told; capture again with less gain.',
    };
  const endLevelDb =
    dropDb !== null ? peak.levelDb.value - dropDb : sizing.kind === 'fixed-level' ? dbFromRatio(sizing.percent) : null;
  const profile = points.map((point): ProfilePoint => {
    const level = endLevelDb ?? addOrNull(by.curveDbAt(point), halfDb);
    const aboveDb = point.levelDb === null || level === null ? null : point.levelDb - level;
    return { positionMm: point.positionMm, aboveDb, uDb: point.uLevelDb, state: point.state };
  });
  if (
    sizing.kind === 'half-of-curve' &&
    profile.slice(own.first, own.last + 1).every(({ aboveDb }) => aboveDb === null)
  )
    return { ...nothing, withoutLength: 'There is no distance-amplitude curve at its sound path.' };
  const ends = findEnds(profile, own, by.uPositionMm);
  if (ends === null)
    return { ...nothing, endLevelDb, withoutLength: 'Its echo never stands above the level at which it would end.' };
  const { low, high } = ends;
  return concluded(
    { ...nothing, endLevelDb, low, high },
    travelBetween(low, high, dropDb === null ? null : peak),
    ends.peaks,
    by,
  );
}

function concluded(
  found: LengthResult & { low: End | null; high: End | null },
  travelMm: Quantity,
  peaks: number,
  by: SizingBy,
): LengthResult {
  const { low, high } = found;
  const ends = [low!, high!];
  const flags: Flag[] = [];
  const remarks: string[] = [];
  if (peaks > 1) {
    flags.push('several-peaks');
    remarks.push(
      `Several peaks: the echo falls below the level ${peaks - 1 === 1 ? 'once' : `${peaks - 1} times`} between its ends; the outermost crossings count. Split it where they are separate reflectors.`,
    );
  }
  const beyond = ends.filter(({ state }) => state === 'beyond-scan').length;
  const lost = ends.filter(({ state }) => state === 'in-noise').length;
  if (beyond > 0) flags.push('beyond-scan');
  if (beyond > 0)
    remarks.push(
      `${beyond === 2 ? 'Both ends lie' : 'One end lies'} outside the scanned range: it is at least so long. Scan on beyond it.`,
    );
  if (lost > 0)
    remarks.push(
      'The echo is lost in noise (or in another echo) before it has fallen to the level: it is at least so long.',
    );
  const takesOff = found.method === 'drop-20-db' && by.beamWidthMm !== null;
  const takenOffMm = takesOff ? { value: by.beamWidthMm!, standardUncertainty: by.uBeamWidthMm } : null;
  if (found.method === 'drop-20-db' && by.beamWidthMm === null)
    remarks.push('The beam’s width is not known and was not taken off: the length is too long by it.');
  const u = travelMm.standardUncertainty;
  const rest = travelMm.value - (takenOffMm?.value ?? 0);
  const lengthMm = {
    value: Math.max(0, rest),
    standardUncertainty: u === null ? null : hypot(u, takenOffMm?.standardUncertainty ?? 0),
  };
  const expanded = coverageFactor * hypot(lengthMm.standardUncertainty ?? 0, takesOff ? 0 : by.uBeamWidthMm);
  const atLeast = beyond + lost > 0;
  const atMost =
    !atLeast &&
    ((takesOff && rest <= expanded) ||
      (found.method === 'drop-6-db' && by.beamWidthMm !== null && travelMm.value <= by.beamWidthMm + expanded));
  if (atMost) {
    flags.push('within-beam');
    remarks.push(
      'The echo falls as fast as the beam’s own edge: the reflector is no longer than can be told from the beam, and may be much shorter.',
    );
  }
  return { ...found, travelMm, takenOffMm, lengthMm, atLeast, atMost, flags, remarks };
}

/**
 * What moves both ends at once is added up, not squared up: a peak that is too high by its noise, the bend of the lines (a round profile bends alike at both ends),
 * and a peak that is the highest of many. The last two both make the length too short, and so are added to one another, too:
 *
 *     u² = u²(low, noise and position) + u²(high) + [mm per dB · u(peak)]² + [bend/√3 + mm per dB · highest of many]²
 */
function travelBetween(low: End, high: End, peak: PeakOfDrop | null): Quantity {
  const value = high.positionMm.value - low.positionMm.value;
  const uOf = ({ positionMm, bendMm }: End) =>
    positionMm.standardUncertainty === null
      ? null
      : Math.sqrt(Math.max(0, positionMm.standardUncertainty ** 2 - (bendMm ?? 0) ** 2 / 3));
  const [uLow, uHigh] = [uOf(low), uOf(high)];
  const perDb = low.mmPerDb + high.mmPerDb;
  const uPeak = peak === null ? 0 : peak.levelDb.standardUncertainty;
  if (uLow === null || uHigh === null || (uPeak === null && perDb > 0)) return { value, standardUncertainty: null };
  const inward = rectangularUncertainty((low.bendMm ?? 0) + (high.bendMm ?? 0)) + perDb * (peak?.highestOfManyDb ?? 0);
  return { value, standardUncertainty: hypot(uLow, uHigh, inward, perDb * (uPeak ?? 0)) };
}

/** Where no length can be told from the start. */
export function noLength({ kind }: Sizing, withoutLength: string): LengthResult {
  return { ...none(kind, null, null), withoutLength };
}

function none(method: Sizing['kind'], dropDb: number | null, peak: PeakOfDrop | null): LengthResult {
  return {
    method,
    dropDb,
    peak,
    endLevelDb: null,
    low: null,
    high: null,
    travelMm: null,
    takenOffMm: null,
    lengthMm: null,
    atLeast: false,
    atMost: false,
    withoutLength: null,
    flags: [],
    remarks: [],
  };
}

const addOrNull = (value: number | null, more: number): number | null => (value === null ? null : value + more);

function ownRead(points: readonly DynamicPoint[], { first, last }: { first: number; last: number }): DynamicPoint[] {
  return points.slice(first, last + 1).filter(({ state, levelDb }) => state !== 'missing' && levelDb !== null);
}

function highestOf(points: readonly DynamicPoint[]): DynamicPoint | null {
  return points.reduce<DynamicPoint | null>(
    (best, point) => (best === null || point.levelDb! > best.levelDb! ? point : best),
    null,
  );
}

function peakIsCutOff(points: readonly DynamicPoint[], own: { first: number; last: number }): boolean {
  const read = ownRead(points, own);
  const whole = highestOf(read.filter(({ state }) => state === 'read'));
  const cut = highestOf(read.filter(({ state }) => state === 'cut-off'));
  return cut !== null && (whole === null || cut.levelDb! >= whole.levelDb!);
}

/** No smooth top that was met with two positions or more above −12 dB rises by more between them. */
const mostRiseDb = 3;
/** Heights that differ by less are alike (ours). */
const alikeDb = 0.5;

/**
 * The peak, which lies between positions: at least as high as the highest point, and at most at the vertex of the parabola through it and its neighbours (there for a
 * Gaussian beam over a small reflector; on a long one's flat top the highest point is the peak). Half-way between the two, with a rectangle to either side. Of
 * several points as high as one another that one tells whose neighbours say that the top is flattest.
 *
 * Of n heights that are alike but for their noise the highest stands about √(2 · ln n) standard deviations too high.
 * Source: amplitude in dB over a Gaussian beam is a parabola; the largest of n normal numbers (any text on extreme values).
 */
function peakOf(points: readonly DynamicPoint[], own: { first: number; last: number }): PeakOfDrop | null {
  const read = ownRead(points, own);
  const highest = highestOf(read);
  if (highest === null) return null;
  const { uLevelDb } = highest;
  const within = (db: number) => read.filter(({ levelDb }) => levelDb! >= highest.levelDb! - db);
  const tops = within(Math.max(alikeDb, 3 * (uLevelDb ?? 0))).map((point) =>
    vertexAbout(points, points.indexOf(point)),
  );
  const flattest = tops.reduce(
    (best, top) => (top !== null && (best === null || top.riseDb < best.riseDb) ? top : best),
    null,
  );
  const riseDb = Math.min(mostRiseDb, flattest?.riseDb ?? 0);
  const alike = within(3 * (uLevelDb ?? 0)).length;
  return {
    levelDb: {
      value: highest.levelDb! + riseDb / 2,
      standardUncertainty: uLevelDb === null ? null : hypot(uLevelDb, rectangularUncertainty(riseDb / 2)),
    },
    positionMm: flattest?.positionMm ?? highest.positionMm,
    highestDb: highest.levelDb!,
    highestOfManyDb: uLevelDb === null ? null : uLevelDb * Math.sqrt(2 * log(alike)),
  };
}

/** By how much, and where, the parabola through a point and its neighbours rises above it; `null` where it has none, or one is missing or only a bound. */
function vertexAbout(points: readonly DynamicPoint[], at: number): { riseDb: number; positionMm: number } | null {
  const three = [points[at - 1], points[at], points[at + 1]];
  if (three.some((point) => point === undefined || point.state !== 'read' || point.levelDb === null)) return null;
  const [a, b, c] = three;
  const before = (b.levelDb! - a.levelDb!) / (b.positionMm - a.positionMm);
  const behind = (c.levelDb! - b.levelDb!) / (c.positionMm - b.positionMm);
  const bend = (behind - before) / (c.positionMm - a.positionMm);
  if (!(bend < 0)) return { riseDb: 0, positionMm: b.positionMm };
  const slope = before + bend * (b.positionMm - a.positionMm);
  const positionMm = b.positionMm - slope / (2 * bend);
  return positionMm < a.positionMm || positionMm > c.positionMm
    ? null
    : { riseDb: -(slope ** 2) / (4 * bend), positionMm };
}
