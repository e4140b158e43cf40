import type { SampleRange } from '../capture/waveform.ts';
import type { ConditioningRecipe, Trace } from './conditioning.ts';
import { cutOffAbout } from './cut-off.ts';
import { fitLogarithm, influenceOf, type LogarithmFit } from './logarithm-fit.ts';
import type { Model } from './model-draws.ts';
import { remembered } from './remembered.ts';
import { timeUncertaintyUs } from './time-uncertainty.ts';

/** The highest point of an envelope between its samples. */
export interface Peak {
  readonly timeUs: number;
  /** Standard uncertainty from the noise, the resolution and the method; `null` where the trace has no quiet part. */
  readonly uTimeUs: number | null;
  readonly amplitudePercent: number;
  /** The highest sample. */
  readonly index: number;
  /** The highest sample is the range's own first or last, and the envelope goes on rising outside. */
  readonly atEdge: boolean;
  /** The samples that the time was made from. */
  readonly from: SampleRange;
}

/** A refined peak: where it lies from sample `index`, how high, and how each sample moves it. */
export interface Refinement {
  /** In samples after `index`. */
  readonly offset: number;
  readonly amplitudePercent: number;
  readonly from: SampleRange;
  /** d(offset)/d(envelope sample), in samples for 1 %, for each sample of `from`. */
  readonly influence: Float64Array;
  readonly by: ConditioningRecipe['peak'];
}

/**
 * The highest envelope point of a range, refined between samples by the recipe's method.
 * @param range inside the trace
 * @returns `null` where the range is empty or nothing in it stands above 0. At an edge (`atEdge`) the time and height are
 * those of the sample itself: the vertex lies outside.
 */
export function highestIn(trace: Trace, range: SampleRange): Peak | null {
  const { envelope } = trace;
  const first = Math.max(0, range.first);
  const last = Math.min(envelope.length - 1, range.last);
  if (first > last) return null;
  let index = first;
  for (let i = first + 1; i <= last; i++) if (envelope[i] > envelope[index]) index = i;
  if (!(envelope[index] > 0)) return null;
  const risesBefore = index === first && index > 0 && envelope[index - 1] > envelope[index];
  const risesAfter = index === last && index + 1 < envelope.length && envelope[index + 1] > envelope[index];
  return risesBefore || risesAfter ? peakOnSample(trace, index, true) : peakAt(trace, index);
}

/** A way to find the vertex between samples, on a top that noise makes uneven by so much. */
interface Method {
  readonly refine: (envelope: Float64Array, index: number, unevenness: number) => Refinement | null;
  /** The offset alone. */
  readonly offset: (envelope: Float64Array, index: number, unevenness: number) => number | null;
}

const byThreePoints: Method = { refine: threePoint, offset: threePointOffset };
const byLogParabola: Method = { refine: logParabola, offset: logParabolaOffset };

/** A list of echoes and the gates about them ask for the same peaks. */
const peaks = new WeakMap<Trace, Map<number, Peak>>();

/** The peak whose highest sample is known, refined by the recipe's method. */
export function peakAt(trace: Trace, index: number): Peak {
  const known = remembered(peaks, trace, noPeaks);
  let peak = known.get(index);
  if (peak === undefined) {
    peak = refinedPeak(trace, index);
    known.set(index, peak);
  }
  return peak;
}

function noPeaks(): Map<number, Peak> {
  return new Map();
}

/** Noise makes a top uneven by so many of its standard deviations. A deeper dip is a valley; five set two echoes apart. */
const unevenByNoise = 4;

function unevennessOf({ noisePercent }: Trace): number {
  return unevenByNoise * (noisePercent ?? 0);
}

function refinedPeak(trace: Trace, index: number): Peak {
  const method = trace.recipe.peak === 'three-point' ? byThreePoints : byLogParabola;
  const refinement = method.refine(trace.envelope, index, unevennessOf(trace));
  if (refinement === null) return peakOnSample(trace, index, false);
  return {
    timeUs: trace.startUs + (index + refinement.offset) * trace.stepUs,
    uTimeUs: peakUncertaintyUs(trace, index, refinement),
    amplitudePercent: refinement.amplitudePercent,
    index,
    atEdge: false,
    from: refinement.from,
  };
}

const secondDifference = Float64Array.of(1, -2, 1);

/**
 * The influence of each sample tells how noise tilts the top. It holds while three neighbours keep their curvature (for
 * three points), or the time stays well inside the window (for the logarithm's parabola).
 */
function peakUncertaintyUs(trace: Trace, index: number, refinement: Refinement): number | null {
  const { offset, amplitudePercent, influence, by } = refinement;
  const sigma = echoSigma(trace.envelope, index) ?? 1;
  const about = { first: Math.floor(index - sigma), last: Math.ceil(index + sigma) };
  const tilt =
    by === 'three-point'
      ? { weights: secondDifference, bound: amplitudePercent / sigma ** 2 }
      : { weights: influence, bound: sigma / 4 };
  const uTimeUs = timeUncertaintyUs(trace, about, {
    influence,
    sigma,
    interpolation: 0,
    tilt,
    model: () => echoModel(trace, index, offset, by === 'three-point' ? byThreePoints : byLogParabola),
  });
  return uTimeUs === null ? null : Math.hypot(uTimeUs, cutCrestUncertaintyUs(trace, index, offset));
}

/**
 * Of a crest that was cut off only the ends are known, and its peak lies somewhere between them: a rectangle, whose
 * half-width is the way to the farther end. 0 where nothing was cut off.
 * Source: JCGM 100:2008 (GUM), 4.3.7.
 */
function cutCrestUncertaintyUs(trace: Trace, index: number, offset: number): number {
  const cut = cutOffAbout(trace, index);
  if (cut === null) return 0;
  const at = index + offset;
  return (Math.max(at - cut.first, cut.last - at, 0) / Math.sqrt(3)) * trace.stepUs;
}

/** A Gaussian echo as high and as wide as the one in the trace, its peak as far from a sample. */
function echoModel(trace: Trace, index: number, offset: number, method: Method): Model | null {
  const { envelope } = trace;
  const unevenness = unevennessOf(trace);
  const width = echoSigma(envelope, index);
  const whole = width === null ? null : fitLogarithm(envelope, index, Math.max(1, Math.round(width)), 0);
  if (whole === null) return null;
  const sigma = Math.sqrt(-0.5 / whole.curvature);
  const reach = Math.ceil(2.5 * sigma) + 1;
  const middle = reach + offset - Math.round(offset);
  const model = new Float64Array(2 * reach + 1);
  for (let k = 0; k < model.length; k++) {
    const away = (k - middle) / sigma;
    model[k] = whole.height * Math.exp(-0.5 * away * away);
  }
  return {
    envelope: model,
    find: (noisy) => {
      let highest = 0;
      for (let k = 1; k < noisy.length; k++) if (noisy[k] > noisy[highest]) highest = k;
      return highest + (method.offset(noisy, highest, unevenness) ?? 0) - middle;
    },
  };
}

/** No vertex can be fitted: the sample itself, and no statement of how sure its time is. */
function peakOnSample(trace: Trace, index: number, atEdge: boolean): Peak {
  return {
    timeUs: trace.startUs + index * trace.stepUs,
    uTimeUs: null,
    amplitudePercent: trace.envelope[index],
    index,
    atEdge,
    from: { first: index, last: index },
  };
}

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
  };
}

function threePointOffset(envelope: Float64Array, index: number): number | null {
  if (index < 1 || index + 1 >= envelope.length) return null;
  const a = envelope[index - 1];
  const c = envelope[index + 1];
  const curvature = a - 2 * envelope[index] + c;
  return curvature < 0 ? (0.5 * (a - c)) / curvature : null;
}

/** An echo's σ is half its width at this part of its height. */
const oneSigmaDown = Math.exp(-0.5);

/**
 * Half the width of an echo at exp(−1/2) of its height, in samples: σ of a Gaussian. Where one side does not come down
 * to that (another echo, the record's end), or comes down more than twice as late, the other side stands for both.
 */
export function echoSigma(envelope: Float64Array, index: number): number | null {
  const level = oneSigmaDown * envelope[index];
  const before = samplesDownTo(envelope, index, level, -1);
  const after = samplesDownTo(envelope, index, level, 1);
  const narrow = Math.min(before, after);
  if (!Number.isFinite(narrow)) return null;
  return Math.max(before, after) > 2 * narrow ? narrow : (before + after) / 2;
}

/** From a peak to one side down to a level, between samples; infinite where that is never reached, or something higher comes first. */
function samplesDownTo(envelope: Float64Array, index: number, level: number, step: -1 | 1): number {
  let i = index;
  while (i >= 0 && i < envelope.length && envelope[i] >= level) {
    if (envelope[i] > envelope[index]) return Number.POSITIVE_INFINITY;
    i += step;
  }
  if (i < 0 || i >= envelope.length) return Number.POSITIVE_INFINITY;
  return Math.abs(i - index) - (level - envelope[i]) / (envelope[i - step] - envelope[i]);
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
  const { centre, half, fit } = found;
  return {
    offset: centre - index + fit.vertex,
    amplitudePercent: fit.height,
    from: { first: centre - half, last: centre + half },
    influence: influenceOf(fit, envelope, centre, half),
    by: 'log-parabola',
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
): { readonly centre: number; readonly half: number; readonly fit: LogarithmFit } | null {
  const sigma = echoSigma(envelope, index);
  if (sigma === null) return null;
  const half = Math.max(1, Math.round(sigma / 2));
  const whole = fitLogarithm(envelope, index, Math.max(half, Math.round(sigma)), 0);
  let centre = index;
  let fit = fitLogarithm(envelope, centre, half, whole?.curvature ?? 0);
  for (let round = 0; fit !== null && Math.abs(fit.vertex) > 0.5 && round < 8; round++) {
    const moved = centre + Math.round(Math.max(-half, Math.min(half, fit.vertex)));
    if (Math.abs(moved - index) > half) break;
    centre = moved;
    fit = fitLogarithm(envelope, centre, half, whole?.curvature ?? 0);
  }
  if (fit === null || Math.abs(fit.vertex) > half || fit.height < envelope[index] - unevenness) return null;
  return isOnTop(envelope, index, centre - index + fit.vertex, unevenness) ? { centre, half, fit } : null;
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
