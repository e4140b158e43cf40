import { exp, log } from '../elementary/exponential.ts';

/** The curvature near the top may differ from that of the whole echo by this factor; what is beyond is noise. */
const curvatureFactor = 1.25;

export interface LogarithmFit {
  readonly vertex: number;
  readonly height: number;
  /** c2: −1/(2σ²) of a Gaussian. */
  readonly curvature: number;
  /** d(vertex) of a sample at t is (a0 + a1·t + a2·t²)·d(ln e), weighted. */
  readonly a0: number;
  readonly a1: number;
  readonly a2: number;
}

/**
 * Weighted least squares of ln e = c0 + c1·t + c2·t² about `centre`; the vertex is −c1/(2·c2).
 * @param guide the curvature that c2 may not leave by more than `curvatureFactor`; 0 for none
 * @returns `null` where the window leaves the record, a sample is not above 0, or the parabola does not open downward
 */
export function fitLogarithm(envelope: Float64Array, centre: number, half: number, guide: number): LogarithmFit | null {
  if (centre - half < 0 || centre + half >= envelope.length) return null;
  const top = envelope[centre];
  if (!(top > 0)) return null;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  let r0 = 0;
  let r1 = 0;
  let r2 = 0;
  for (let t = -half; t <= half; t++) {
    const relative = envelope[centre + t] / top;
    if (!(relative > 0)) return null;
    const weight = relative * relative;
    const weighted = weight * log(relative);
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
  // d(vertex) = −d(c1)/(2·c2) + c1·d(c2)/(2·c2²).
  const g1 = -1 / (2 * c2);
  const g2 = c2 === own ? c1 / (2 * c2 * c2) : 0;
  return {
    vertex,
    height: top * exp(c0 - (c1 * c1) / (4 * c2)),
    curvature: c2,
    a0: (g1 * i01 + g2 * i02) / determinant,
    a1: (g1 * i11 + g2 * i12) / determinant,
    a2: (g1 * i12 + g2 * i22) / determinant,
  };
}

/** d(vertex)/d(envelope sample), in samples for 1 %, of each sample in the window: d(ln e) = d(e)/e leaves one power of the weight. */
export function influenceOf(
  { a0, a1, a2 }: LogarithmFit,
  envelope: Float64Array,
  centre: number,
  half: number,
): Float64Array {
  const top = envelope[centre];
  const influence = new Float64Array(2 * half + 1);
  for (let t = -half; t <= half; t++) {
    influence[t + half] = ((envelope[centre + t] / top) * (a0 + a1 * t + a2 * t * t)) / top;
  }
  return influence;
}
