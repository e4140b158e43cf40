import { exp } from '../elementary/exponential.ts';
import { ratioFromDb } from '../units/decibel.ts';
import type { Quantity } from '../units/quantity.ts';
import { type AmplitudeSpectrum, type SpectrumAt, spectrumAt } from './amplitude-spectrum.ts';
import type { Hindrance } from './hindrance.ts';
import { type NoiseForm, noiseCovariance, noiseVariance } from './noise-form.ts';

/** The frequencies between which a spectrum stands no more than a level below its peak. */
export interface FrequencyLimits {
  readonly lowerMHz: number;
  readonly upperMHz: number;
  /** Variances and covariance of both by the noise, in MHz²; `null` where the noise is not known. */
  readonly noise: { readonly lower: number; readonly upper: number; readonly covariance: number } | null;
  /** More than one pair of crossings: the outermost are taken. */
  readonly isMultiLobed: boolean;
}

export type LimitsOutcome =
  | { readonly ok: true; readonly limits: FrequencyLimits }
  | { readonly ok: false; readonly hindrance: Hindrance };

/** The spectrum at a limit must stand so far above the spectrum of the noise: noise alone reaches that in 1 of 10⁷ resolved frequencies (exp(−16)). */
const leastAboveNoise = 4;

/** The highest place of the spectrum, between its lines. */
export interface SpectrumPeak {
  readonly radians: number;
  readonly at: SpectrumAt;
  readonly frequencyMHz: Quantity;
}

/** `null` for a spectrum that is nothing but 0. */
export function spectrumPeak(spectrum: AmplitudeSpectrum, noise: NoiseForm | null): SpectrumPeak | null {
  const { amplitude, stepMHz, stepUs } = spectrum;
  let highest = 1;
  for (let k = 2; k < amplitude.length; k++) if (amplitude[k] > amplitude[highest]) highest = k;
  if (!(amplitude[highest] > 0)) return null;
  const perMHz = 2 * Math.PI * stepUs;
  const from = (highest - 1) * stepMHz * perMHz;
  const to = (highest + 1) * stepMHz * perMHz;
  let radians = highest * stepMHz * perMHz;
  let at = spectrumAt(spectrum, radians);
  for (let round = 0; round < 20 && at.curvature < 0; round++) {
    const step = -at.slope / at.curvature;
    radians = Math.max(from, Math.min(to, radians + step));
    at = spectrumAt(spectrum, radians);
    if (Math.abs(step) < 1e-12) break;
  }
  const value = radians / perMHz;
  if (noise === null || !(at.curvature < 0)) return { radians, at, frequencyMHz: { value, standardUncertainty: null } };
  const spread =
    Math.sqrt(noiseVariance(noise, at.slopeInfluence())) /
    Math.min(-at.curvature, lobeCurvature(amplitude, highest) / (stepMHz * perMHz) ** 2);
  return { radians, at, frequencyMHz: { value, standardUncertainty: spread / perMHz } };
}

/**
 * How a parabola bends that falls by 6 dB where the lobe about a line does, in squared steps of the spectrum. Noise sharpens the very top that it moves, so
 * that the bend found there would make the top look surer than it is.
 */
function lobeCurvature(amplitude: Float64Array, highest: number): number {
  const level = amplitude[highest] / 2;
  let first = highest;
  while (first > 0 && amplitude[first] > level) first -= 1;
  let last = highest;
  while (last < amplitude.length - 1 && amplitude[last] > level) last += 1;
  const half = (last - first) / 2;
  return (2 * Math.LN2) / half ** 2;
}

/**
 * Where the spectrum crosses a level below its peak: the outermost crossings, each brought onto the level by the transform at that very frequency.
 * The uncertainty is that of the noise of the record, through the influence of each sample: a crossing moves by (d ln|X| at the peak − d ln|X| there) / slope.
 * @param levelDb below the peak, above 0
 * Source: ASTM E1065 for −6 dB of the peak; the propagation is derived (JCGM 100:2008, section 5), tried by Monte Carlo.
 */
export function frequencyLimits(
  spectrum: AmplitudeSpectrum,
  peak: SpectrumPeak,
  levelDb: number,
  noise: NoiseForm | null,
): LimitsOutcome {
  const { amplitude, stepMHz, stepUs, resolutionMHz } = spectrum;
  const level = ratioFromDb(-levelDb) * exp(peak.at.logarithm) * stepUs;
  let first = -1;
  let last = -1;
  let runs = 0;
  for (let k = 0; k < amplitude.length; k++) {
    if (amplitude[k] < level) continue;
    if (first < 0) first = k;
    if (last !== k - 1 || last < 0) runs += 1;
    last = k;
  }
  if (first <= 0 || last >= amplitude.length - 1) return { ok: false, hindrance: 'level-not-crossed' };
  const perMHz = 2 * Math.PI * stepUs;
  const wanted = peak.at.logarithm - (levelDb * Math.LN10) / 20;
  const lower = crossingBetween(spectrum, (first - 1) * stepMHz * perMHz, first * stepMHz * perMHz, wanted);
  const upper = crossingBetween(spectrum, (last + 1) * stepMHz * perMHz, last * stepMHz * perMHz, wanted);
  const lowerMHz = lower / perMHz;
  const upperMHz = upper / perMHz;
  const noiseAt = spectrum.noiseAmplitudeAt;
  if (noiseAt !== null && level < leastAboveNoise * Math.max(noiseAt(lowerMHz), noiseAt(upperMHz)))
    return { ok: false, hindrance: 'level-in-noise' };
  if (upperMHz - lowerMHz < 2 * resolutionMHz) return { ok: false, hindrance: 'too-short-for-resolution' };
  return {
    ok: true,
    limits: {
      lowerMHz,
      upperMHz,
      noise: noise === null ? null : noiseOfLimits(spectrum, peak, lower, upper, noise),
      isMultiLobed: runs > 1,
    },
  };
}

/** Halves an interval whose one end lies below the wanted logarithm and whose other lies above, to far below any uncertainty. */
function crossingBetween(spectrum: AmplitudeSpectrum, below: number, above: number, wanted: number): number {
  let low = below;
  let high = above;
  let radians = (low + high) / 2;
  for (let round = 0; round < 40 && Math.abs(high - low) > 1e-12; round++) {
    const at = spectrumAt(spectrum, radians);
    if (at.logarithm < wanted) low = radians;
    else high = radians;
    const next = radians - (at.logarithm - wanted) / at.slope;
    const inside = next > Math.min(low, high) && next < Math.max(low, high);
    if (inside && Math.abs(next - radians) < 1e-12) return next;
    radians = inside ? next : (low + high) / 2;
  }
  return radians;
}

function noiseOfLimits(
  spectrum: AmplitudeSpectrum,
  peak: SpectrumPeak,
  lower: number,
  upper: number,
  noise: NoiseForm,
): NonNullable<FrequencyLimits['noise']> {
  const ofPeak = peak.at.influence();
  const perMHz = 2 * Math.PI * spectrum.stepUs;
  const influenceOf = (radians: number): Float64Array => {
    const at = spectrumAt(spectrum, radians);
    return at.influence().map((value, k) => (ofPeak[k] - value) / at.slope / perMHz);
  };
  const g = influenceOf(lower);
  const h = influenceOf(upper);
  return {
    lower: noiseVariance(noise, g),
    upper: noiseVariance(noise, h),
    covariance: noiseCovariance(noise, g, h),
  };
}

/** A figure made of both limits: its value, and its derivatives by the lower and the upper one. */
export function fromLimits({ noise }: FrequencyLimits, value: number, byLower: number, byUpper: number): Quantity {
  if (noise === null) return { value, standardUncertainty: null };
  const variance = byLower ** 2 * noise.lower + byUpper ** 2 * noise.upper + 2 * byLower * byUpper * noise.covariance;
  return { value, standardUncertainty: Math.sqrt(Math.max(0, variance)) };
}
