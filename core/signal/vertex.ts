import type { SampleRange } from '../capture/waveform.ts';
import type { ConditioningRecipe } from './conditioning.ts';
import { echoSigma, oneSigmaDown } from './echo-sigma.ts';
import { fitLogarithm, influenceOf, type LogarithmFit } from './logarithm-fit.ts';

/** A refined peak: where it lies from sample `index`, how high, and how each sample moves it. */
export interface Refinement {
  /** In samples after `index`. */
  readonly offset: number;
  readonly amplitudePercent: number;
  readonly from: SampleRange;
  /** d(offset)/d(envelope sample), in samples for 1 %, for each sample of `from`. */
  readonly influence: Float64Array;
  readonly by: ConditioningRecipe['peak'];
  /** By how much the window's width may have drawn the vertex aside, in samples: an echo that leans, or another on its flank. */
  readonly leaning: number;
}

/** A way to find the vertex between samples, on a top that noise makes uneven by so much. */
export interface Method {
  readonly refine: (envelope: Float64Array, index: number, unevenness: number) => Refinement | null;
  /** The offset alone. */
  readonly offset: (envelope: Float64Array, index: number, unevenness: number) => number | null;
}

export const methods: Readonly<Record<ConditioningRecipe['peak'], Method>> = {
  'three-point': { refine: threePoint, offset: threePointOffset },
  'log-parabola': { refine: logParabola, offset: logParabolaOffset },
};

/**
 * Vertex of the parabola through the highest sample and its two neighbours: a, b, c give
 * offset = (a − c) / (2·(a − 2b + c)), height = b − (a − c)·offset/4.
 * @returns `null` at the record's end, and on a flat top
 * Source: common practice. On a pure cosine offset = tan(ωδ)/(2·tan(ω/2)) samples for a true offset δ.
 */
export function threePoint(envelope: Float64Array, index: number): Refinement | null {
  const a = envelope[index - 1];
  const b = envelope[index];
  const c = envelope[index + 1];
  const curvature = a - 2 * b + c;
  const offset = threePointOffset(envelope, index);
  if (offset === null) return null;
  return {
    offset,
    amplitudePercent: b - 0.25 * (a - c) * offset,
    from: { first: index - 1, last: index + 1 },
    influence: Float64Array.of((0.5 - offset) / curvature, (2 * offset) / curvature, (-0.5 - offset) / curvature),
    by: 'three-point',
    leaning: 0,
  };
}

function threePointOffset(envelope: Float64Array, index: number): number | null {
  if (index < 1 || index + 1 >= envelope.length) return null;
  const a = envelope[index - 1];
  const c = envelope[index + 1];
  const curvature = a - 2 * envelope[index] + c;
  return curvature < 0 ? (0.5 * (a - c)) / curvature : null;
}

/**
 * Vertex of a parabola fitted to the logarithm of the envelope over half an echo's σ to either side, σ taken from the
 * echo itself; each sample weighted by its square, because noise of the envelope is noise of its logarithm divided by
 * the envelope. Exact for a Gaussian echo. The window is centred anew until the vertex lies in its middle sample. In
 * noise so short a piece says little of its own curvature: that is held to within a quarter of the curvature over ± σ.
 *
 *     ln e |       . + - .            + vertex
 *          |    .'           '.
 *          +---|------|------|---- samples
 *             −σ/2          +σ/2
 *
 * The vertex must lie within the samples that were fitted, the highest of all among them, and on that one's own top: no
 * valley deeper than `unevenness` between them, and no lower than it by more. Where it does not (another echo overlaps,
 * the crest was cut off), three points have to do.
 *
 * @param unevenness of the top by noise alone, in the envelope's unit
 * @returns `null` where fewer than three samples can be used, or the top is flat; the caller keeps the sample itself
 * Source: derived, and tried by simulation (three points of a flat, noisy top err by up to 1/16 of a cycle).
 */
export function logParabola(envelope: Float64Array, index: number, unevenness = 0): Refinement | null {
  const found = logarithmVertex(envelope, index, unevenness);
  if (found === null) return threePoint(envelope, index);
  const { centre, half, fit, leaning } = found;
  return {
    offset: centre - index + fit.vertex,
    amplitudePercent: fit.height,
    from: { first: centre - half, last: centre + half },
    influence: influenceOf(fit, envelope, centre, half),
    by: 'log-parabola',
    leaning,
  };
}

function logParabolaOffset(envelope: Float64Array, index: number, unevenness: number): number | null {
  const found = logarithmVertex(envelope, index, unevenness);
  return found === null ? threePointOffset(envelope, index) : found.centre - index + found.fit.vertex;
}

/** The fit whose window is centred on the vertex and holds the highest sample; `null` where three points must do. */
function logarithmVertex(
  envelope: Float64Array,
  index: number,
  unevenness: number,
): { readonly centre: number; readonly half: number; readonly fit: LogarithmFit; readonly leaning: number } | null {
  const sigma = echoSigma(envelope, index, unevenness);
  if (sigma === null) return null;
  const half = Math.max(1, Math.round(sigma / 2));
  const wide = Math.max(half, Math.round(sigma));
  const whole = fitLogarithm(envelope, index, wide, 0);
  let centre = index;
  let fit = fitLogarithm(envelope, centre, half, whole?.curvature ?? 0);
  for (let round = 0; fit !== null && Math.abs(fit.vertex) > 0.5 && round < 8; round++) {
    const moved = centre + Math.round(Math.max(-half, Math.min(half, fit.vertex)));
    if (Math.abs(moved - index) > half) break;
    centre = moved;
    fit = fitLogarithm(envelope, centre, half, whole?.curvature ?? 0);
  }
  if (fit === null || Math.abs(fit.vertex) > half || fit.height < envelope[index] - unevenness) return null;
  const offset = centre - index + fit.vertex;
  if (!isOnTop(envelope, index, offset, unevenness)) return null;
  // What leans draws the vertex of a window with the square of its width.
  const leaning = whole === null || wide === half ? 0 : (whole.vertex - offset) / ((wide / half) ** 2 - 1);
  return { centre, half, fit, leaning };
}

/**
 * Whether a vertex lies on the top of the sample that it was found from: above σ's level all the way, and before the
 * lowest point of the first valley that is deeper than the unevenness.
 */
function isOnTop(envelope: Float64Array, index: number, offset: number, unevenness: number): boolean {
  const distance = Math.abs(offset);
  if (distance <= 1) return true;
  const step = offset < 0 ? -1 : 1;
  const level = oneSigmaDown * envelope[index];
  let lowest = envelope[index];
  let toLowest = 0;
  for (let away = 1, i = index + step; i >= 0 && i < envelope.length; away++, i += step) {
    const value = envelope[i];
    if (value < level) return away >= distance;
    if (value > lowest + unevenness) return toLowest >= distance;
    if (value < lowest) {
      lowest = value;
      toLowest = away;
    }
  }
  return true;
}
