import { power } from '../elementary/exponential.ts';

/** A reading's height at a probe position, in dB, all at one gain. */
export interface HeightAt {
  readonly positionMm: number;
  readonly levelDb: number;
  /** Standard deviation of the height by the noise of its capture; `null` where that is not known. */
  readonly noiseDb: number | null;
}

export type FittedPeak =
  | {
      readonly kind: 'vertex';
      readonly positionMm: number;
      readonly levelDb: number;
      /** Coefficient of the square of the distance from the vertex: the parabola stands at `levelDb + curvatureDbPerMm2 · (x − positionMm)²`. Negative. */
      readonly curvatureDbPerMm2: number;
      /** The run of positions that the parabola went through. */
      readonly fromMm: number;
      readonly toMm: number;
      /** Indexes of the heights the parabola went through. */
      readonly used: readonly number[];
      /** Too few heights stood within 6 dB of the highest: those within 12 dB were taken. */
      readonly coarse: boolean;
    }
  | { readonly kind: 'too-few' | 'flat' | 'outside' | 'scattered' };

const nearDb = 6;
const farDb = 12;
/** A height is not told better than this, however quiet its capture (ours). */
const leastNoiseDb = 0.05;

/**
 * The peak of heights against probe position: the vertex of a parabola through the top of the curve.
 *
 *     dB |        .-x-.          the run about the highest that stands within 6 dB of it
 *        |      x       x        (12 dB where that holds fewer than three positions)
 *        |    .           x
 *        |  x               x
 *        +---------------------- position in mm
 *
 * Weights are the squares of the heights: noise of one size in % is larger in dB on a small echo, and the parabola holds best near the top.
 * Positions may be uneven and may repeat. In place of a vertex: `too-few` positions; `flat`, neither a downward curve nor
 * a slope that exceeds 3 of its standard errors; `outside`, the vertex lies beyond the scanned positions or the heights only rise towards their end; `scattered`, the heights stray from the parabola by more than `toleranceDb`
 * (rms), or the highest stands above it by more than that.
 * Source: amplitude in dB over a Gaussian beam is a parabola (exact); near the top of any smooth beam it is close to one (common practice).
 */
export function fitPeak(heights: readonly HeightAt[], toleranceDb: number): FittedPeak {
  const top = most(heights.map((height) => height.levelDb));
  const positions = [...new Set(heights.map((height) => height.positionMm))].sort((a, b) => a - b);
  const near = runAbout(heights, positions, top, nearDb);
  const coarse = near.last - near.first < 2;
  const run = coarse ? runAbout(heights, positions, top, farDb) : near;
  if (run.last - run.first < 2) return { kind: 'too-few' };
  const depth = coarse ? farDb : nearDb;
  const used = heights.flatMap(({ positionMm, levelDb }, i) =>
    positionMm >= positions[run.first] && positionMm <= positions[run.last] && levelDb >= top - depth ? [i] : [],
  );
  const parabola = fitParabola(
    used.map((i) => heights[i]),
    top,
  );
  if (parabola === null) return { kind: 'too-few' };
  if (parabola.rmsDb > toleranceDb) return { kind: 'scattered' };
  if (parabola.curvature > -3 * parabola.uCurvature) return { kind: parabola.slopes ? 'outside' : 'flat' };
  const lowest = positions[Math.max(0, run.first - 1)];
  const highest = positions[Math.min(positions.length - 1, run.last + 1)];
  if (parabola.vertexMm < lowest || parabola.vertexMm > highest) return { kind: 'outside' };
  if (top - parabola.vertexDb > toleranceDb) return { kind: 'scattered' };
  return {
    kind: 'vertex',
    positionMm: parabola.vertexMm,
    levelDb: parabola.vertexDb,
    curvatureDbPerMm2: parabola.curvatureDbPerMm2,
    fromMm: positions[run.first],
    toMm: positions[run.last],
    used,
    coarse,
  };
}

/** The unbroken run of positions about the highest height whose best height stands within `depthDb` of it (indexes into `positions`). */
function runAbout(heights: readonly HeightAt[], positions: readonly number[], top: number, depthDb: number) {
  const best = new Map<number, number>();
  for (const { positionMm, levelDb } of heights)
    best.set(positionMm, Math.max(levelDb, best.get(positionMm) ?? Number.NEGATIVE_INFINITY));
  const stands = (i: number) => best.get(positions[i])! >= top - depthDb;
  let first = positions.findIndex((position) => best.get(position) === top);
  let last = first;
  while (first > 0 && stands(first - 1)) first--;
  while (last < positions.length - 1 && stands(last + 1)) last++;
  return { first, last };
}

/** Positions of which two practically coincide leave nothing to tell a curve by. */
const leastSpread = 1e-9;

/** Weighted least squares on 1, x, x² by orthogonal polynomials over the given points, x scaled to the half-width of the run; `null` without three positions. */
function fitParabola(points: readonly HeightAt[], top: number) {
  const weights = points.map((point) => power(10, (point.levelDb - top) / 10));
  const sum = (f: (i: number) => number) => points.reduce((total, _, i) => total + weights[i] * f(i), 0);
  const total = sum(() => 1);
  const centre = sum((i) => points[i].positionMm) / total;
  const scale = most(points.map((point) => Math.abs(point.positionMm - centre)));
  const x = points.map((point) => (point.positionMm - centre) / scale);
  const p1Norm = sum((i) => x[i] ** 2);
  const skew = sum((i) => x[i] * x[i] * x[i]) / p1Norm;
  const spread = p1Norm / total;
  const p2 = x.map((value) => value * value - skew * value - spread);
  const p2Norm = sum((i) => p2[i] ** 2);
  if (!(p2Norm > leastSpread * total)) return null;
  const c0 = sum((i) => points[i].levelDb) / total;
  const c1 = sum((i) => points[i].levelDb * x[i]) / p1Norm;
  const c2 = sum((i) => points[i].levelDb * p2[i]) / p2Norm;
  const rest = sum((i) => (points[i].levelDb - c0 - c1 * x[i] - c2 * p2[i]) ** 2);
  const noise = most([leastNoiseDb, ...points.map((point, i) => (point.noiseDb ?? 0) * Math.sqrt(weights[i]))]);
  const freedom = points.length - 3;
  const unitSd = Math.max(noise, freedom > 0 ? Math.sqrt(rest / freedom) : 0);
  const slope = c1 - c2 * skew;
  const vertex = -slope / (2 * c2);
  return {
    curvature: c2,
    curvatureDbPerMm2: c2 / scale ** 2,
    uCurvature: unitSd / Math.sqrt(p2Norm),
    slopes: Math.abs(c1) > (3 * unitSd) / Math.sqrt(p1Norm),
    vertexMm: centre + scale * vertex,
    vertexDb: c0 - c2 * spread + slope * vertex + c2 * vertex * vertex,
    rmsDb: Math.sqrt(rest / total),
  };
}

/** A series may be longer than a call takes arguments. */
function most(values: readonly number[]): number {
  return values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
}
