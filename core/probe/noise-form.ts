import { cos } from '../elementary/trigonometric.ts';
import type { Trace } from '../signal/conditioning.ts';
import { levelAt, noiseCorrelationOf } from '../signal/noise-correlation.ts';

/**
 * The noise of a record about one place, as it enters figures that are made from successive samples: covariance by lag, in %² of full screen height.
 * It is measured in the quiet part; where that is too short to show how it hangs together, it counts as white.
 */
export interface NoiseForm {
  readonly covariance: Float64Array;
  /** Standard deviation of one sample. */
  readonly sd: number;
}

/** @param index the sample about which the noise is wanted: grain noise dies away along the record @returns `null` where the noise is not known */
export function noiseFormOf(trace: Trace, index: number): NoiseForm | null {
  const noise = noiseCorrelationOf(trace);
  if (noise === null) {
    const { noisePercent } = trace;
    return noisePercent === null ? null : { covariance: Float64Array.of(noisePercent ** 2), sd: noisePercent };
  }
  const level = levelAt(noise.trend, index);
  // Of the analytic noise the correlation is twice that of the noise itself.
  const covariance = noise.real.map((value) => (value / 2) * level * level);
  return { covariance, sd: Math.sqrt(Math.max(0, covariance[0])) };
}

/** Covariance of Σ gₖ·nₖ and Σ hₖ·nₖ over the same samples: Σ gⱼ·hₖ·R(|j − k|). */
export function noiseCovariance({ covariance }: NoiseForm, g: Float64Array, h: Float64Array): number {
  const lags = Math.min(g.length, covariance.length);
  let sum = 0;
  for (let l = 0; l < lags; l++) {
    let products = 0;
    for (let k = 0; k + l < g.length; k++) products += g[k] * h[k + l] + (l === 0 ? 0 : g[k + l] * h[k]);
    sum += products * covariance[l];
  }
  return sum;
}

/** Variance of Σ gₖ·nₖ. */
export function noiseVariance(noise: NoiseForm, g: Float64Array): number {
  return Math.max(0, noiseCovariance(noise, g, g));
}

/** Mean power of the windowed noise’s spectrum at a frequency, |Σ wₖ·nₖ·exp(−iωk)|², in the unit of the noise squared. */
export function noisePower(noise: NoiseForm, weightCorrelation: Float64Array, radians: number): number {
  const lags = Math.min(weightCorrelation.length, noise.covariance.length);
  let sum = 0;
  for (let l = 0; l < lags; l++)
    sum += (l === 0 ? 1 : 2) * noise.covariance[l] * weightCorrelation[l] * cos(radians * l);
  return Math.max(0, sum);
}

/** Σ wₖ·wₖ₊ₗ for each lag. */
export function correlationOf(weights: Float64Array, lags: number): Float64Array {
  const correlation = new Float64Array(Math.min(lags, weights.length));
  for (let l = 0; l < correlation.length; l++) {
    let sum = 0;
    for (let k = 0; k + l < weights.length; k++) sum += weights[k] * weights[k + l];
    correlation[l] = sum;
  }
  return correlation;
}
