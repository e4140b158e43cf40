/** A straight line y = intercept + slope · x by ordinary least squares. */
export interface LineFit {
  readonly intercept: number;
  readonly slope: number;
  /** Standard errors and covariance from the residuals; `null` where two points leave none. */
  readonly uIntercept: number | null;
  readonly uSlope: number | null;
  readonly covariance: number | null;
  readonly residuals: Float64Array;
  /** √(Σ r² / degrees of freedom). */
  readonly residualSd: number | null;
  readonly degreesOfFreedom: number;
}

export type FitOutcome<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly reason: 'unequal-lengths' | 'too-few-points' | 'not-a-number' | 'no-spread' };

/**
 * Fits y on x. Sums are taken about the means, and the means are refined once, so that large offsets cost no digits.
 * Reasons for none: fewer than two points, a value that is not finite, all x alike.
 * Source: JCGM 100:2008 (GUM), H.3; checked against NIST's reference sets.
 */
export function fitLine(x: ArrayLike<number>, y: ArrayLike<number>): FitOutcome<LineFit> {
  const reason = refusal(x, y, 2);
  if (reason !== null) return { ok: false, reason };
  const n = x.length;
  const meanX = mean(x);
  const meanY = mean(y);
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < n; i++) {
    sxx += (x[i] - meanX) ** 2;
    sxy += (x[i] - meanX) * (y[i] - meanY);
  }
  if (sxx === 0) return { ok: false, reason: 'no-spread' };
  const slope = sxy / sxx;
  const residuals = Float64Array.from(x, (xi, i) => y[i] - meanY - slope * (xi - meanX));
  const degreesOfFreedom = n - 2;
  const residualSd = standardDeviation(residuals, degreesOfFreedom);
  return {
    ok: true,
    value: {
      intercept: meanY - slope * meanX,
      slope,
      uIntercept: residualSd === null ? null : residualSd * Math.sqrt(1 / n + meanX ** 2 / sxx),
      uSlope: residualSd === null ? null : residualSd / Math.sqrt(sxx),
      covariance: residualSd === null ? null : (-meanX * residualSd ** 2) / sxx,
      residuals,
      residualSd,
      degreesOfFreedom,
    },
  };
}

function refusal(x: ArrayLike<number>, y: ArrayLike<number>, fewest: number) {
  if (x.length !== y.length) return 'unequal-lengths';
  if (x.length < fewest) return 'too-few-points';
  for (let i = 0; i < x.length; i++) if (!Number.isFinite(x[i]) || !Number.isFinite(y[i])) return 'not-a-number';
  return null;
}

function mean(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i];
  const first = sum / values.length;
  let left = 0;
  for (let i = 0; i < values.length; i++) left += values[i] - first;
  return first + left / values.length;
}

function standardDeviation(residuals: Float64Array, degreesOfFreedom: number): number | null {
  if (degreesOfFreedom < 1) return null;
  let sum = 0;
  for (const r of residuals) sum += r * r;
  return Math.sqrt(sum / degreesOfFreedom);
}
