import type { SampleRange } from '../capture/waveform.ts';
import { exp, log } from '../elementary/exponential.ts';
import { cos, sin } from '../elementary/trigonometric.ts';
import { carrierOf } from './carrier.ts';
import type { Trace } from './conditioning.ts';
import { detectedCorrelation, inPhaseVariance, quietMoments } from './detected-noise.ts';
import { addPowerOfPair, oneSidedCorrelation } from './fft.ts';
import { hiddenRounding, roundingPower } from './hidden-rounding.ts';
import { remembered } from './remembered.ts';

/** How the noise of a trace hangs together from sample to sample, measured in its quiet part. */
export interface NoiseCorrelation {
  /** Of the analytic noise with itself, by lag, as it is at `trend.middle`. */
  readonly real: Float64Array;
  readonly imaginary: Float64Array;
  /**
   * Of each sample, and white: so much is there in any case. A full wave shows how strong its noise is, but the signs that
   * are put back are those of a carrier, whatever the noise was. 0 where the correlation itself is known.
   */
  readonly leastVariance: number;
  readonly trend: Trend;
}

/** Noise of the grain dies away with depth: the logarithm of its power falls along a straight line of samples. */
interface Trend {
  readonly first: number;
  readonly middle: number;
  readonly last: number;
  /** Of the logarithm of the power, for each sample; 0 where no trend can be told from chance. */
  readonly slope: number;
}

/** A slope counts when it exceeds so many of its standard errors. */
const clearSlope = 2.5;

/** The quiet part is cut into pieces, half overlapping, whose tapered spectra are averaged (Welch 1967; from memory). */
const fewestPieces = 4;
const mostPieces = 12;
const shortestPiece = 32;
const longestPiece = 4096;

const correlations = new WeakMap<Trace, NoiseCorrelation | null>();
const carriers = new WeakMap<Trace, Float64Array>();

/** `null` where no quiet run is long enough. */
export function noiseCorrelationOf(trace: Trace): NoiseCorrelation | null {
  return remembered(correlations, trace, measureCorrelation);
}

/** The RF of a trace; see `carrierOf`. */
export function carrierOfTrace(trace: Trace): Float64Array {
  return trace.rectification === 'rf' ? trace.samples : remembered(carriers, trace, rebuiltCarrier);
}

function rebuiltCarrier(trace: Trace): Float64Array {
  return carrierOf(trace.samples, trace.rectification);
}

/** What pieces of one length are worked on with. The last two are work space, and no part of any result. */
interface Taper {
  readonly weights: Float64Array;
  /** The taper's own correlation on the circle, by lag, which every estimate is divided by. */
  readonly correlation: Float64Array;
  readonly pair: Float64Array;
  readonly power: Float64Array;
}

const tapers = new Map<number, Taper>();

/** A Hann taper: ½·(1 − cos) on the circle, whose correlation is exactly ¼·(1 + ½·cos(lag)). */
function taperOf(length: number): Taper {
  const made = tapers.get(length);
  if (made) return made;
  const weights = new Float64Array(length);
  const correlation = new Float64Array(length / 2);
  for (let i = 0; i < length; i++) weights[i] = (1 - cos((2 * Math.PI * (i + 0.5)) / length)) / 2;
  for (let l = 0; 2 * l < length; l++) {
    correlation[l] = (length / 4) * (1 + cos((2 * Math.PI * l) / length) / 2);
  }
  const taper = {
    weights,
    correlation,
    pair: new Float64Array(2 * length),
    power: new Float64Array(length / 2 + 1),
  };
  tapers.set(length, taper);
  return taper;
}

function measureCorrelation(trace: Trace): NoiseCorrelation | null {
  const { quiet } = trace;
  const length = pieceLength(quiet);
  const starts = pieceStarts(quiet, length);
  if (starts.length === 0) return null;
  const carrier = carrierOfTrace(trace);
  const taper = taperOf(length);
  const trend = trendOf(trace, starts, carrier, taper.weights);
  if (trace.rectification === 'envelope') return ofDetected(trace, trend);
  sumPowerInto(taper, carrier, starts, trend);
  const { power, correlation } = taper;
  addRounding(power, trace, correlation[0]);
  const { real, imaginary } = oneSidedCorrelation(power, length / 2);
  // The power at positive frequencies holds half of a real signal's; its analytic signal has four times that.
  for (let l = 0; l < length / 2; l++) {
    const scale = 4 / (length * correlation[l]);
    real[l] *= scale;
    imaginary[l] *= scale;
  }
  return { real, imaginary, leastVariance: trace.rectification === 'full' ? real[0] / 2 : 0, trend };
}

/** Noise in step with the carrier, which a detected record does not show; what rounding adds to it is white. */
function ofDetected(trace: Trace, trend: Trend): NoiseCorrelation {
  const { envelope, quiet } = trace;
  const count = trace.resolutionPercent ?? 0;
  const level = (index: number) => levelAt(trend, index);
  const moments = quietMoments(envelope, quiet, level);
  const variance = inPhaseVariance(moments, count);
  const real = detectedCorrelation(envelope, quiet, moments, level).map((share) => 2 * variance * share);
  real[0] += (2 * count * count) / 12;
  return { real, imaginary: new Float64Array(real.length), leastVariance: 0, trend };
}

function pieceLength(quiet: readonly SampleRange[]): number {
  let longest = 0;
  let total = 0;
  for (const { first, last } of quiet) {
    longest = Math.max(longest, last - first + 1);
    total += last - first + 1;
  }
  let length = shortestPiece;
  while (2 * length * fewestPieces <= total && 2 * length <= longest && length < longestPiece) length *= 2;
  return length;
}

/** Where the pieces begin: evenly through the quiet part, half overlapping, not more than `mostPieces`. */
function pieceStarts(quiet: readonly SampleRange[], length: number): number[] {
  const starts: number[] = [];
  for (const run of quiet) {
    for (let start = run.first; start + length <= run.last + 1; start += length / 2) starts.push(start);
  }
  if (starts.length <= mostPieces) return starts;
  return Array.from({ length: mostPieces }, (_, i) => starts[Math.floor((i * starts.length) / mostPieces)]);
}

function trendOf(
  { quiet, resolutionPercent }: Trace,
  starts: readonly number[],
  carrier: Float64Array,
  weights: Float64Array,
): Trend {
  const count = starts.length;
  // Noise below a count shows now and then or not at all: that is no trend.
  let ofRounding = 0;
  for (const weight of weights)
    ofRounding += (weights.length / 2) * weight * weight * ((resolutionPercent ?? 0) ** 2 / 12);
  let middle = weights.length / 2;
  for (const start of starts) middle += start / count;
  const flat = { first: quiet[0].first, middle, last: quiet[quiet.length - 1].last, slope: 0 };
  if (count < 4) return flat;
  const logarithms = new Float64Array(count);
  let mean = 0;
  let spread = 0;
  let product = 0;
  for (let p = 0; p < count; p++) {
    const power = taperedPower(carrier, starts[p], weights) + ofRounding;
    if (!(power > 0)) return flat;
    const away = starts[p] + weights.length / 2 - middle;
    logarithms[p] = log(power);
    mean += logarithms[p] / count;
    spread += away * away;
    product += logarithms[p] * away;
  }
  const slope = product / spread;
  let residuals = 0;
  for (let p = 0; p < count; p++) {
    const residual = logarithms[p] - mean - slope * (starts[p] + weights.length / 2 - middle);
    residuals += residual * residual;
  }
  const error = Math.sqrt(residuals / (count - 2) / spread);
  return Math.abs(slope) > clearSlope * error ? { ...flat, slope } : flat;
}

/** Power of a tapered piece over its positive frequencies, both ends with them (Parseval). */
function taperedPower(carrier: Float64Array, start: number, weights: Float64Array): number {
  const length = weights.length;
  let squares = 0;
  let even = 0;
  let odd = 0;
  for (let i = 0; i < length; i += 2) {
    const a = carrier[start + i] * weights[i];
    const b = carrier[start + i + 1] * weights[i + 1];
    squares += a * a + b * b;
    even += a;
    odd += b;
  }
  return (length * squares) / 2 + even * even + odd * odd;
}

/** How strong the noise is at a sample, against `trend.middle`; beyond the quiet part's ends as at its ends. */
export function levelAt({ first, middle, last, slope }: Trend, index: number): number {
  return slope === 0 ? 1 : exp((slope / 2) * (Math.max(first, Math.min(last, index)) - middle));
}

/** The noise beside an echo is taken from so many quiet samples on either side, … */
const nearestQuiet = 256;
/** … and counts where it is clearly stronger than the record's: from so few samples chance makes it so by a tenth. */
const clearlyStronger = 1.2;

/**
 * How strong the noise is about a sample, against `trend.middle`: as the trend has it, or as the quiet samples next to it
 * have it, where those are clearly stronger (a gain that was stepped within the record).
 */
export function levelAbout(trace: Trace, noise: NoiseCorrelation, index: number): number {
  const level = levelAt(noise.trend, index);
  // A detected record's quiet part has another law than its crests, and rounding hides what lies below a count.
  if (trace.rectification === 'envelope' || !(noise.real[0] > 0)) return level;
  const carrier = carrierOfTrace(trace);
  const before = sumOfSquares(carrier, trace.quiet, index, -1);
  const after = sumOfSquares(carrier, trace.quiet, index, 1);
  if (before.count + after.count < nearestQuiet) return level;
  const meanSquare = (before.squares + after.squares) / (before.count + after.count);
  const local = Math.sqrt((2 * meanSquare) / noise.real[0]);
  return local > clearlyStronger * level ? local : level;
}

/** Over the quiet samples nearest to one, on one side of it. */
function sumOfSquares(
  carrier: Float64Array,
  quiet: readonly SampleRange[],
  index: number,
  step: -1 | 1,
): { readonly squares: number; readonly count: number } {
  let squares = 0;
  let count = 0;
  const next = firstEndingAtOrBehind(quiet, index);
  const nearest = step === 1 || quiet[next]?.first <= index ? next : next - 1;
  for (let r = nearest; r >= 0 && r < quiet.length && count < nearestQuiet; r += step) {
    const { first, last } = quiet[r];
    const from = step === 1 ? Math.max(first, index) : Math.min(last, index);
    for (let i = from; i >= first && i <= last && count < nearestQuiet; i += step) {
      squares += carrier[i] * carrier[i];
      count += 1;
    }
  }
  return { squares, count };
}

/** Which of the runs, in their order, is the first that does not end before a sample; their number where all do. */
function firstEndingAtOrBehind(runs: readonly SampleRange[], index: number): number {
  let low = 0;
  let high = runs.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (runs[middle].last < index) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The mean power of the pieces, brought to what it is at the trend's middle, into the taper's own work space. */
function sumPowerInto(taper: Taper, carrier: Float64Array, starts: readonly number[], trend: Trend): void {
  const { weights, pair, power } = taper;
  const length = weights.length;
  const shareOf = (start: number) => 1 / (Math.sqrt(starts.length) * levelAt(trend, start + length / 2));
  power.fill(0);
  for (let p = 0; p < starts.length; p += 2) {
    const start = starts[p];
    const next = p + 1 < starts.length ? starts[p + 1] : start;
    const share = shareOf(start);
    const nextShare = p + 1 < starts.length ? shareOf(next) : 0;
    for (let i = 0; i < length; i++) {
      pair[2 * i] = share * weights[i] * carrier[start + i];
      pair[2 * i + 1] = nextShare * weights[i] * carrier[next + i];
    }
    addPowerOfPair(power, pair);
  }
}

/** Adds to the power of a quiet part the rounding that it hides. */
function addRounding(power: Float64Array, trace: Trace, taperPower: number): void {
  const measured = sumOf(power);
  const white = ((trace.resolutionPercent ?? 0) ** 2 / 12) * taperPower * power.length;
  if (hiddenRounding(measured, white) === 0) return;
  const rounding = roundingPower(trace, power.length, taperPower);
  const hidden = hiddenRounding(measured, sumOf(rounding));
  for (let k = 0; k < power.length; k++) power[k] += hidden * rounding[k];
}

function sumOf(values: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < values.length; k++) sum += values[k];
  return sum;
}

/**
 * Standard deviation of Σ wₖ·nₖ for noise in phase with a carrier of `radians` for each sample:
 * its variance is Σ wⱼ·wₖ·R(j − k) with R(l) = ½·Re[C(l)·exp(−iω₀l)]. White noise has C(0) = 2σ², and 4iσ²/πl at odd lags.
 */
export function spreadOf(weights: Float64Array, noise: NoiseCorrelation, radians: number): number {
  const lags = Math.min(weights.length, noise.real.length);
  let variance = 0;
  let white = 0;
  for (let l = 0; l < lags; l++) {
    let product = 0;
    for (let k = 0; k + l < weights.length; k++) product += weights[k] * weights[k + l];
    const inPhase = 0.5 * (noise.real[l] * cos(radians * l) + noise.imaginary[l] * sin(radians * l));
    variance += (l === 0 ? 1 : 2) * product * inPhase;
    if (l === 0) white += product;
    else if (l % 2 === 1) white += (4 * product * sin(radians * l)) / (Math.PI * l);
  }
  return Math.sqrt(Math.max(0, variance, noise.leastVariance * white));
}
