import type { SampleRange } from '../capture/waveform.ts';
import type { Trace } from './conditioning.ts';
import { type Model, timeUncertaintyUs } from './time-uncertainty.ts';

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

type Refine = (envelope: Float64Array, index: number) => Refinement | null;

/** The peak whose highest sample is known, refined by the recipe's method. */
export function peakAt(trace: Trace, index: number): Peak {
  const refine: Refine = trace.recipe.peak === 'three-point' ? threePoint : logParabola;
  const refinement = refine(trace.envelope, index);
  if (refinement === null) return peakOnSample(trace, index, false);
  return {
    timeUs: trace.startUs + (index + refinement.offset) * trace.stepUs,
    uTimeUs: peakUncertaintyUs(trace, index, refinement, refine),
    amplitudePercent: refinement.amplitudePercent,
    index,
    atEdge: false,
    from: refinement.from,
  };
}

/**
 * The influence of each sample tells how noise tilts the top. It holds while three neighbours keep their curvature (for
 * three points), or the time stays well inside the window (for the logarithm's parabola).
 */
function peakUncertaintyUs(trace: Trace, index: number, refinement: Refinement, refine: Refine): number | null {
  const sigma = echoSigma(trace.envelope, index) ?? 1;
  const about = { first: Math.floor(index - sigma), last: Math.ceil(index + sigma) };
  const tilt =
    refine === threePoint
      ? { weights: [1, -2, 1], bound: refinement.amplitudePercent / sigma ** 2 }
      : { weights: refinement.influence, bound: sigma / 4 };
  return timeUncertaintyUs(trace, about, {
    influence: refinement.influence,
    sigma,
    interpolation: 0,
    tilt,
    model: () => echoModel(trace.envelope, index, refinement.offset, refine),
  });
}

/** A Gaussian echo as high and as wide as the one in the trace, its peak as far from a sample. */
function echoModel(envelope: Float64Array, index: number, offset: number, refine: Refine): Model | null {
  const width = echoSigma(envelope, index);
  const whole = width === null ? null : fitLogarithm(envelope, index, Math.max(1, Math.round(width)), 0);
  if (whole === null) return null;
  const sigma = Math.sqrt(-0.5 / whole.curvature);
  const reach = Math.ceil(2.5 * sigma) + 1;
  const middle = reach + offset - Math.round(offset);
  const model = Float64Array.from({ length: 2 * reach + 1 }, (_, k) => {
    const away = (k - middle) / sigma;
    return whole.height * Math.exp(-0.5 * away * away);
  });
  return {
    envelope: model,
    find: (noisy) => {
      let highest = 0;
      for (let k = 1; k < noisy.length; k++) if (noisy[k] > noisy[highest]) highest = k;
      return highest + (refine(noisy, highest)?.offset ?? 0) - middle;
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
  if (index < 1 || index + 1 >= envelope.length) return null;
  const a = envelope[index - 1];
  const b = envelope[index];
  const c = envelope[index + 1];
  const curvature = a - 2 * b + c;
  if (!(curvature < 0)) return null;
  const offset = (0.5 * (a - c)) / curvature;
  return {
    offset,
    amplitudePercent: b - 0.25 * (a - c) * offset,
    from: { first: index - 1, last: index + 1 },
    influence: Float64Array.of((0.5 - offset) / curvature, (2 * offset) / curvature, (-0.5 - offset) / curvature),
  };
}

/** An echo's σ is half its width at this part of its height. */
const oneSigmaDown = Math.exp(-0.5);

/**
 * Half the width of an echo at exp(−1/2) of its height, in samples: σ of a Gaussian. Where one side does not come down
 * to that (another echo, the record's end), or comes down more than twice as late, the other side stands for both.
 */
export function echoSigma(envelope: Float64Array, index: number): number | null {
  const level = oneSigmaDown * envelope[index];
  const side = (step: number) => {
    let i = index;
    while (i >= 0 && i < envelope.length && envelope[i] >= level) {
      if (envelope[i] > envelope[index]) return Number.POSITIVE_INFINITY;
      i += step;
    }
    if (i < 0 || i >= envelope.length) return Number.POSITIVE_INFINITY;
    return Math.abs(i - index) - (level - envelope[i]) / (envelope[i - step] - envelope[i]);
  };
  const before = side(-1);
  const after = side(1);
  const narrow = Math.min(before, after);
  if (!Number.isFinite(narrow)) return null;
  return Math.max(before, after) > 2 * narrow ? narrow : (before + after) / 2;
}

/** The curvature near the top may differ from that of the whole echo by this factor; what is beyond is noise. */
const curvatureFactor = 1.25;

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
 * @returns `null` where fewer than three samples can be used, or the top is flat; the caller keeps the sample itself
 * Source: derived, and tried by simulation (three points of a flat, noisy top err by up to 1/16 of a cycle).
 */
export function logParabola(envelope: Float64Array, index: number): Refinement | null {
  const sigma = echoSigma(envelope, index);
  if (sigma === null) return threePoint(envelope, index);
  const half = Math.max(1, Math.round(sigma / 2));
  const whole = fitLogarithm(envelope, index, Math.max(half, Math.round(sigma)), 0);
  let centre = index;
  let fit = fitLogarithm(envelope, centre, half, whole?.curvature ?? 0);
  for (let round = 0; fit !== null && Math.abs(fit.vertex) > 0.5 && round < 8; round++) {
    const moved = centre + Math.round(Math.max(-half, Math.min(half, fit.vertex)));
    if (Math.abs(moved - index) > 2 * half) break;
    centre = moved;
    fit = fitLogarithm(envelope, centre, half, whole?.curvature ?? 0);
  }
  if (fit === null || !(Math.abs(fit.vertex) <= half)) return threePoint(envelope, index);
  return {
    offset: centre - index + fit.vertex,
    amplitudePercent: fit.height,
    from: { first: centre - half, last: centre + half },
    influence: fit.influence,
  };
}

interface LogarithmFit {
  readonly vertex: number;
  readonly height: number;
  /** c2: −1/(2σ²) of a Gaussian. */
  readonly curvature: number;
  readonly influence: Float64Array;
}

/**
 * Weighted least squares of ln e = c0 + c1·t + c2·t² about `centre`; the vertex is −c1/(2·c2).
 * @param guide the curvature that c2 may not leave by more than `curvatureFactor`; 0 for none
 * @returns `null` where the window leaves the record, a sample is not above 0, or the parabola does not open downward
 */
function fitLogarithm(envelope: Float64Array, centre: number, half: number, guide: number): LogarithmFit | null {
  if (centre - half < 0 || centre + half >= envelope.length) return null;
  const top = envelope[centre];
  if (!(top > 0)) return null;
  let [s0, s1, s2, s3, s4, r0, r1, r2] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (let t = -half; t <= half; t++) {
    const relative = envelope[centre + t] / top;
    if (!(relative > 0)) return null;
    const weight = relative * relative;
    const weighted = weight * Math.log(relative);
    const t2 = t * t;
    s0 += weight;
    s1 += weight * t;
    s2 += weight * t2;
    s3 += weight * t2 * t;
    s4 += weight * t2 * t2;
    r0 += weighted;
    r1 += weighted * t;
    r2 += weighted * t2;
  }
  // The symmetric inverse of the normal matrix, row by row.
  const i00 = s2 * s4 - s3 * s3;
  const i01 = s2 * s3 - s1 * s4;
  const i02 = s1 * s3 - s2 * s2;
  const i11 = s0 * s4 - s2 * s2;
  const i12 = s1 * s2 - s0 * s3;
  const i22 = s0 * s2 - s1 * s1;
  const determinant = s0 * i00 + s1 * i01 + s2 * i02;
  const c0 = (i00 * r0 + i01 * r1 + i02 * r2) / determinant;
  const c1 = (i01 * r0 + i11 * r1 + i12 * r2) / determinant;
  const own = (i02 * r0 + i12 * r1 + i22 * r2) / determinant;
  const c2 = guide < 0 ? Math.max(guide * curvatureFactor, Math.min(guide / curvatureFactor, own)) : own;
  if (!(c2 < 0)) return null;
  const vertex = -c1 / (2 * c2);
  // d(vertex) = −d(c1)/(2·c2) + c1·d(c2)/(2·c2²), and d(ln e) = d(e)/e: one power of the weight is left.
  const g1 = -1 / (2 * c2);
  const g2 = c2 === own ? c1 / (2 * c2 * c2) : 0;
  const a0 = (g1 * i01 + g2 * i02) / determinant;
  const a1 = (g1 * i11 + g2 * i12) / determinant;
  const a2 = (g1 * i12 + g2 * i22) / determinant;
  const influence = new Float64Array(2 * half + 1);
  for (let t = -half; t <= half; t++) {
    influence[t + half] = ((envelope[centre + t] / top) * (a0 + a1 * t + a2 * t * t)) / top;
  }
  return { vertex, height: top * Math.exp(c0 - (c1 * c1) / (4 * c2)), curvature: c2, influence };
}
