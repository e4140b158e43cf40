import { hypot } from '../elementary/hypotenuse.ts';
import type { PointState } from '../scan/echo-dynamic.ts';
import { type Quantity, rectangularUncertainty } from '../units/quantity.ts';

/** The height at one position, over the level at which the reflector ends: 0 is the end. */
export interface ProfilePoint {
  readonly positionMm: number;
  /** `null` where nothing is known. */
  readonly aboveDb: number | null;
  /** Standard uncertainty by the noise; `null` where it is not known. */
  readonly uDb: number | null;
  readonly state: PointState;
}

/**
 * `crossed`: the height falls through the level between two positions.
 * `beyond-scan`: it stands above the level at the last position scanned: the reflector ends there or farther out.
 * `in-noise`: the echo is lost before its height has fallen so far: the reflector ends there or farther out.
 */
export type EndState = 'crossed' | 'beyond-scan' | 'in-noise';

/** One end of a reflector. */
export interface End {
  readonly state: EndState;
  readonly positionMm: Quantity;
  /** The last position above the level, and the first below it; the second is `null` beyond the scan. */
  readonly insideMm: number;
  readonly outsideMm: number | null;
  /** Half-width of the rectangle that the straight line between the two may be wrong by; `null` where the bracket itself was taken. */
  readonly bendMm: number | null;
  /** By how much the end moves outwards where the level falls by 1 dB; 0 where it is not interpolated. */
  readonly mmPerDb: number;
}

export interface Ends {
  readonly low: End;
  readonly high: End;
  /** How many times the height stands above the level between the two, with dips below it between. */
  readonly peaks: number;
}

/**
 * Where a profile falls to its level, from the outermost crossing of its own positions outwards: a dip between two peaks does not end it, and where it still
 * stands above the level at its own last position it is followed as far as it does.
 *
 *     dB |          .--.    .-.
 *        |        x      x      x
 *      0 |- - - / - - - x - - - - \ - -     the ends lie on the straight lines (in dB) between the positions on either side
 *        |    x                    x
 *        +---------------------------- position
 *
 * Uncertainty of an end. The height between two positions is not known: the end lies somewhere between them, a rectangle as wide as the step. Where the
 * profile goes on smoothly on both sides its second differences tell by how much it bends, and the line can be wrong by no more: a curve of second
 * divided difference D departs from its chord by |D| · |x − a| · |x − b| (the interpolation error of a line), which moves the crossing by that over the
 * slope. The greater D of the two sets of three positions is taken, and never more than the bracket. Noise moves both heights.
 * Where a height is missing or only a bound, and where there are not two positions on either side, the bracket stands.
 * Source: linear interpolation in a scan table, the last crossing outward (common practice); error of linear interpolation (any text on numerical
 * analysis); rectangle: JCGM 100:2008 (GUM), 4.3.7.
 *
 * @param points in order of position @param own indexes of the first and the last point that belong to the indication @param uPositionMm of one position
 * @returns `null` where no point of its own stands above the level
 */
export function findEnds(
  points: readonly ProfilePoint[],
  own: { readonly first: number; readonly last: number },
  uPositionMm: number,
): Ends | null {
  let [low, high] = [own.first, own.last];
  while (low <= own.last && !isAbove(points[low])) low++;
  while (high >= own.first && !isAbove(points[high])) high--;
  if (low > own.last || high < low) return null;
  while (low > 0 && isAbove(points[low - 1])) low--;
  while (high < points.length - 1 && isAbove(points[high + 1])) high++;
  return {
    low: endBetween(points, low, -1, uPositionMm),
    high: endBetween(points, high, 1, uPositionMm),
    peaks: runsAbove(points, low, high),
  };
}

function isAbove({ aboveDb, state }: ProfilePoint): boolean {
  return state !== 'missing' && aboveDb !== null && aboveDb >= 0;
}

function runsAbove(points: readonly ProfilePoint[], low: number, high: number): number {
  let runs = 0;
  for (let i = low; i <= high; i++) if (isAbove(points[i]) && (i === low || !isAbove(points[i - 1]))) runs++;
  return runs;
}

function endBetween(points: readonly ProfilePoint[], inside: number, outward: -1 | 1, uPositionMm: number): End {
  const a = points[inside];
  const b = points[inside + outward];
  const fixed = { insideMm: a.positionMm, bendMm: null, mmPerDb: 0 };
  if (b === undefined)
    return {
      ...fixed,
      state: 'beyond-scan',
      positionMm: { value: a.positionMm, standardUncertainty: uPositionMm },
      outsideMm: null,
    };
  const lost = b.state === 'missing' && (b.aboveDb === null || b.aboveDb >= 0);
  const step = b.positionMm - a.positionMm;
  if (lost)
    return {
      ...fixed,
      state: 'in-noise',
      positionMm: bracketed(a.positionMm + step / 2, a.positionMm, b.positionMm, uPositionMm),
      outsideMm: b.positionMm,
    };
  const [ya, yb] = [a.aboveDb!, b.aboveDb!];
  const share = ya / (ya - yb);
  const value = a.positionMm + share * step;
  const crossed = { ...fixed, state: 'crossed' as const, outsideMm: b.positionMm };
  const bend = a.state === 'read' && b.state === 'read' ? bendAt(points, inside, outward, value) : null;
  const width = Math.abs(step);
  if (bend === null || a.uDb === null || b.uDb === null || bend >= width / 2)
    return { ...crossed, positionMm: bracketed(value, a.positionMm, b.positionMm, uPositionMm) };
  const mmPerDb = width / (ya - yb);
  const byNoise = mmPerDb * hypot((1 - share) * a.uDb, share * b.uDb);
  return {
    ...crossed,
    positionMm: { value, standardUncertainty: hypot(byNoise, rectangularUncertainty(bend), uPositionMm) },
    bendMm: bend,
    mmPerDb,
  };
}

/** Anywhere between the two: the mean square about the value taken. */
function bracketed(value: number, oneMm: number, otherMm: number, uPositionMm: number): Quantity {
  const middle = (oneMm + otherMm) / 2;
  const u = hypot(rectangularUncertainty(Math.abs(otherMm - oneMm) / 2), value - middle, uPositionMm);
  return { value, standardUncertainty: u };
}

/** By how much the crossing may lie off the straight line; `null` where the profile does not go on smoothly on both sides. */
function bendAt(points: readonly ProfilePoint[], inside: number, outward: -1 | 1, atMm: number): number | null {
  const four = [-1, 0, 1, 2].map((k) => points[inside + k * outward]);
  if (four.some((point) => point === undefined || point.state !== 'read' || point.aboveDb === null)) return null;
  const [before, a, b, behind] = four as [ProfilePoint, ProfilePoint, ProfilePoint, ProfilePoint];
  const bent = Math.max(Math.abs(secondDifference(before, a, b)), Math.abs(secondDifference(a, b, behind)));
  const slope = Math.abs((a.aboveDb! - b.aboveDb!) / (a.positionMm - b.positionMm));
  return (bent * Math.abs(atMm - a.positionMm) * Math.abs(atMm - b.positionMm)) / slope;
}

/** The second divided difference: half the curvature. */
function secondDifference(a: ProfilePoint, b: ProfilePoint, c: ProfilePoint): number {
  const first = (b.aboveDb! - a.aboveDb!) / (b.positionMm - a.positionMm);
  const second = (c.aboveDb! - b.aboveDb!) / (c.positionMm - b.positionMm);
  return (second - first) / (c.positionMm - a.positionMm);
}
