import type { CaptureId } from '../../core/capture/capture.ts';
import type { Flag } from '../../core/flag.ts';
import { heightOnParabola, type PeakCurve } from '../../core/gate/peak-curve.ts';
import { type Standing, standingOf } from './track.ts';

/** A capture on the curve: its place across (mm, or its number from 1 where the series has no positions) and its level; no level where there is no echo. */
export interface CurvePoint {
  readonly captureId: CaptureId;
  readonly at: number;
  readonly levelDb: number | null;
  readonly standing: Standing;
}

/** What the curve shows, in order of place, and the ends of its axes. */
export interface CurveLayout {
  readonly placed: boolean;
  readonly points: readonly CurvePoint[];
  readonly from: number;
  readonly to: number;
  readonly lowDb: number;
  readonly highDb: number;
}

/** The dB axis is at least this long: a flat series shall look flat. */
const leastRangeDb = 15;

/**
 * Places and axes for the curve. Captures without an echo lie on the axis's lower end, which is at least 3 dB below the lowest level; above the highest there is
 * room for the peak's value. Both ends are multiples of 5 dB.
 */
export function curveLayout(curve: PeakCurve, flagsOf: ReadonlyMap<CaptureId, readonly Flag[]>): CurveLayout {
  const placed = curve.heights.every(({ positionMm }) => positionMm !== null);
  const points = curve.heights
    .map(({ captureId, positionMm, levelDb }, i) => ({
      captureId,
      at: placed ? positionMm! : i + 1,
      levelDb,
      standing: standingOf(flagsOf.get(captureId) ?? (levelDb === null ? ['no-echo'] : [])),
    }))
    .sort((a, b) => a.at - b.at);
  let [low, high] = [curve.limitDb, curve.peakDb];
  for (const { levelDb } of points) {
    if (levelDb === null) continue;
    low = Math.min(low, levelDb);
    high = Math.max(high, levelDb);
  }
  const highDb = 5 * Math.ceil((high + 4) / 5);
  const lowDb = Math.min(highDb - leastRangeDb, 5 * Math.floor((low - 3) / 5));
  const [first, last] = [points[0]?.at ?? 0, points.at(-1)?.at ?? 1];
  const room = Math.max(0.04 * (last - first), last > first ? 0 : 1);
  return { placed, points, from: first - room, to: last + room, lowDb, highDb };
}

const curvePieces = 64;

/** The fitted parabola as a line over the run it was fitted to; empty without one. */
export function parabolaLine({ parabola }: PeakCurve): { readonly at: number; readonly levelDb: number }[] {
  if (parabola === null) return [];
  const { fromMm, toMm } = parabola;
  return Array.from({ length: curvePieces + 1 }, (_, i) => {
    const at = fromMm + ((toMm - fromMm) * i) / curvePieces;
    return { at, levelDb: heightOnParabola(parabola, at) };
  });
}

/** The point whose place is nearest; of several at one place the one whose level is. */
export function nearestPoint(points: readonly CurvePoint[], at: number, levelDb: number): number | null {
  let best: number | null = null;
  for (const [i, point] of points.entries()) {
    if (best === null || closer(point, points[best]!, at, levelDb)) best = i;
  }
  return best;
}

function closer(point: CurvePoint, best: CurvePoint, at: number, levelDb: number): boolean {
  const [mine, its] = [Math.abs(point.at - at), Math.abs(best.at - at)];
  if (Math.abs(mine - its) > 1e-9) return mine < its;
  const off = (p: CurvePoint) => (p.levelDb === null ? Number.POSITIVE_INFINITY : Math.abs(p.levelDb - levelDb));
  return off(point) < off(best);
}
