import type { CaptureId } from '../capture/capture.ts';
import type { SampleRange } from '../capture/waveform.ts';
import { log } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import type { Flag } from '../flag.ts';
import { invariant } from '../invariant.ts';
import { dbFromRatio, ratioFromDb } from '../units/decibel.ts';
import type { Quantity } from '../units/quantity.ts';

/** One reflector of the curve, by the echo that serves it. */
export interface CurvePoint {
  /** One-way sound path, as the person states it. */
  readonly distanceMm: number;
  readonly uDistanceMm: number;
  readonly captureId: CaptureId;
  readonly gainDb: number | null;
  readonly amplitudePercent: number;
  readonly signalToNoiseDb: number | null;
  readonly timeUs: number | null;
  /** By the calibration; `null` without one. */
  readonly soundPathMm: Quantity | null;
  readonly from: SampleRange | null;
  /** Above the reference level. */
  readonly levelDb: Quantity;
  /** The same as a height on the screen at the reference gain. */
  readonly heightPercent: Quantity;
  /** Nearer than three near-field lengths, where no law of spreading holds; `null` where the near field is not known. */
  readonly inNearField: boolean | null;
  /** The other captures that show this reflector, and how far below the serving one they stand, gain taken out. */
  readonly others: readonly { readonly captureId: CaptureId; readonly belowDb: number }[];
  readonly flags: readonly Flag[];
}

/** How the points are joined: straight lines in dB over distance, or in % of full screen height over distance. */
export type StraightIn = 'db' | 'percent';

/**
 * A curve through the points, straight between them.
 *
 *     level |  x
 *           |    `-.
 *           |       `x---._
 *           |              `--x        nothing before the first point and behind the last
 *           +--------------------- distance
 */
export interface DistanceAmplitudeCurve {
  /** Three or more, in order of distance. */
  readonly points: readonly CurvePoint[];
  readonly straightIn: StraightIn;
}

/** The curve at one distance. */
export interface CurveValue {
  /** Above the reference level. */
  readonly levelDb: Quantity;
  readonly slopeDbPerMm: number;
  /** By how much the level rises where that of a point rises by 1 dB; of the points that are not named, not at all. */
  readonly shares: readonly { readonly point: number; readonly share: number }[];
}

/**
 * The level of the curve at a distance; `null` before the first point and behind the last.
 * Its uncertainty is that of the points' heights and distances. How far the line may lie from the true echo between two points is not in it
 * (`aboveLogarithmDb`).
 * Source: straight lines between the points (common practice); JCGM 100:2008 (GUM), 5.1.2.
 */
export function curveAt(curve: DistanceAmplitudeCurve, distanceMm: number): CurveValue | null {
  const { points } = curve;
  const next = points.findIndex((point) => point.distanceMm >= distanceMm);
  if (next < 0 || (next === 0 && points[0].distanceMm !== distanceMm)) return null;
  return valueBetween(curve, Math.max(1, next), distanceMm);
}

function valueBetween({ points, straightIn }: DistanceAmplitudeCurve, next: number, distanceMm: number): CurveValue {
  const [a, b] = [points[next - 1], points[next]];
  const overMm = b.distanceMm - a.distanceMm;
  const ofB = (distanceMm - a.distanceMm) / overMm;
  const [levelA, levelB] = [a.levelDb.value, b.levelDb.value];
  if (straightIn === 'db') {
    const level = ofB === 1 ? levelB : levelA + ofB * (levelB - levelA);
    return withUncertainty(level, (levelB - levelA) / overMm, [1 - ofB, ofB], next, a, b);
  }
  const [heightA, heightB] = [ratioFromDb(levelA), ratioFromDb(levelB)];
  const height = heightA + ofB * (heightB - heightA);
  const level = ofB === 0 ? levelA : ofB === 1 ? levelB : dbFromRatio(height);
  const slope = (dbFromRatio(Math.E) * (heightB - heightA)) / (overMm * height);
  return withUncertainty(level, slope, [((1 - ofB) * heightA) / height, (ofB * heightB) / height], next, a, b);
}

function withUncertainty(
  value: number,
  slopeDbPerMm: number,
  [ofA, ofB]: readonly [number, number],
  next: number,
  a: CurvePoint,
  b: CurvePoint,
): CurveValue {
  const shares = [
    { point: next - 1, share: ofA },
    { point: next, share: ofB },
  ].filter(({ share }) => share !== 0);
  const u = [a, b].map((point) => pointUncertaintyDb(point, slopeDbPerMm));
  const needed = shares.map(({ point, share }) => ({ share, u: u[point - next + 1] }));
  const standardUncertainty = needed.every((part) => part.u !== null)
    ? hypot(...needed.map((part) => part.share * (part.u as number)))
    : null;
  return { levelDb: { value, standardUncertainty }, slopeDbPerMm, shares };
}

/** A point's height, and what an error of its distance makes of it on the slope it lies on. */
function pointUncertaintyDb(point: CurvePoint, slopeDbPerMm: number): number | null {
  const { standardUncertainty } = point.levelDb;
  return standardUncertainty === null ? null : hypot(standardUncertainty, slopeDbPerMm * point.uDistanceMm);
}

/** The level at one distance above that at another, with what both have in common taken out of the uncertainty; `null` outside the curve. */
export function curveDifference(curve: DistanceAmplitudeCurve, fromMm: number, toMm: number): Quantity | null {
  const [from, to] = [curveAt(curve, fromMm), curveAt(curve, toMm)];
  if (from === null || to === null) return null;
  const value = to.levelDb.value - from.levelDb.value;
  if (fromMm === toMm) return { value: 0, standardUncertainty: 0 };
  let variance = 0;
  for (const [i, point] of curve.points.entries()) {
    const share = (of: CurveValue) => of.shares.find((entry) => entry.point === i)?.share ?? 0;
    const ofHeight = share(to) - share(from);
    const ofDistance = share(to) * to.slopeDbPerMm - share(from) * from.slopeDbPerMm;
    const u = point.levelDb.standardUncertainty;
    if (u === null && ofHeight !== 0) return { value, standardUncertainty: null };
    variance += (ofHeight * (u ?? 0)) ** 2 + (ofDistance * point.uDistanceMm) ** 2;
  }
  return { value, standardUncertainty: Math.sqrt(variance) };
}

/** A place of the curve, for a plot. */
export interface CurveSample {
  readonly distanceMm: number;
  readonly levelDb: number;
  readonly heightPercent: number;
}

/** The curve at so many equal steps between each two points, both ends included. */
export function curveSamples(
  curve: DistanceAmplitudeCurve,
  referencePercent: number,
  stepsBetween: number,
): CurveSample[] {
  invariant(Number.isInteger(stepsBetween) && stepsBetween >= 1, 'a curve is drawn in whole steps');
  const { points } = curve;
  const distances = points.flatMap((point, i) =>
    i + 1 === points.length
      ? [point.distanceMm]
      : Array.from(
          { length: stepsBetween },
          (_, k) => point.distanceMm + (k / stepsBetween) * (points[i + 1].distanceMm - point.distanceMm),
        ),
  );
  return distances.map((distanceMm) => {
    const levelDb = curveAt(curve, distanceMm)?.levelDb.value ?? Number.NaN;
    return { distanceMm, levelDb, heightPercent: referencePercent * ratioFromDb(levelDb) };
  });
}

/**
 * How far the line lies, at a distance between two points, above a line straight in dB over the logarithm of the distance. Echoes that spread lie on the
 * latter, those that the material alone takes away on one straight in dB over distance; true ones lie between. What stands under a line that is too high is told too
 * small. 0 at the points and outside the curve.
 * Source: derived; the codes do not say how points are to be joined.
 */
export function aboveLogarithmDb(curve: DistanceAmplitudeCurve, distanceMm: number): number {
  const there = curveAt(curve, distanceMm);
  if (there === null || there.shares.length < 2) return 0;
  const [a, b] = there.shares.map(({ point }) => curve.points[point]);
  const part = log(distanceMm / a.distanceMm) / log(b.distanceMm / a.distanceMm);
  return there.levelDb.value - (a.levelDb.value + part * (b.levelDb.value - a.levelDb.value));
}

/** So finely is the greatest departure of a line looked for. */
const searchSteps = 200;

/** The greatest departure of each line of the curve, by its amount, with its sign. */
export function linesAboveLogarithmDb(curve: DistanceAmplitudeCurve): number[] {
  return curve.points.slice(1).map((to, i) => {
    const from = curve.points[i].distanceMm;
    let most = 0;
    for (let k = 1; k < searchSteps; k++) {
      const departure = aboveLogarithmDb(curve, from + (k / searchSteps) * (to.distanceMm - from));
      if (Math.abs(departure) > Math.abs(most)) most = departure;
    }
    return most;
  });
}
