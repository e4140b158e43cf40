import type { SampleRange } from '../capture/waveform.ts';
import { bandPass, designBandPass, zeroPhaseGain } from './band-pass.ts';
import { carrierOf } from './carrier.ts';
import type { Trace } from './conditioning.ts';
import { hilbert, oneSidedCorrelation, powerSpectrum, transformSize } from './fft.ts';

/*
 * How sure a time is, from the record's own noise.
 *
 * Near an echo the envelope is A·g(t) + n(t), where n is the noise component in phase with the carrier. A time made
 * from envelope samples moves by Σ wₖ·nₖ (w: the influence of each sample), so its variance is
 * Σ wⱼ·wₖ·R(j − k) with R(l) = ½·Re[C(l)·exp(−iω₀l)], C being the correlation of the analytic noise and ω₀ the echo's
 * carrier. C comes from the quiet part itself, white or coloured; where that is quieter than the converter's own
 * rounding, an echo still crosses many counts, and rounding noise of q²/12 is put in its place, through the band-pass
 * if there is one. For white RF noise of σ² per sample R has the in-phase density 2σ²/fs.
 *
 * Where the noise dies away along the record (grain), it is brought to what it is at the echo.
 *
 * That holds while noise only tilts the top or the flank. Where it decides which sample is the highest, or the first
 * above a threshold, the time is found anew on a smooth model of the echo to which pieces of the quiet part are added,
 * and the root mean square of what comes out is stated.
 */

interface NoiseCorrelation {
  /** As it is at `trend.middle`. */
  readonly real: Float64Array;
  readonly imaginary: Float64Array;
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

function trendOf(quiet: readonly SampleRange[], centres: readonly number[], powers: readonly number[]): Trend {
  const count = centres.length;
  const middle = centres.reduce((sum, centre) => sum + centre, 0) / count;
  const flat = { first: quiet[0].first, middle, last: quiet[quiet.length - 1].last, slope: 0 };
  if (count < 4 || powers.some((power) => !(power > 0))) return flat;
  const logarithms = powers.map(Math.log);
  const mean = logarithms.reduce((sum, each) => sum + each, 0) / count;
  const spread = centres.reduce((sum, centre) => sum + (centre - middle) ** 2, 0);
  const slope = logarithms.reduce((sum, each, k) => sum + each * (centres[k] - middle), 0) / spread;
  const residuals = logarithms.reduce((sum, each, k) => sum + (each - mean - slope * (centres[k] - middle)) ** 2, 0);
  const error = Math.sqrt(residuals / (count - 2) / spread);
  return Math.abs(slope) > clearSlope * error ? { ...flat, slope } : flat;
}

/** How strong the noise is at a sample, against `trend.middle`; beyond the quiet part's ends as at its ends. */
function levelAt({ first, middle, last, slope }: Trend, index: number): number {
  return Math.exp((slope / 2) * (Math.max(first, Math.min(last, index)) - middle));
}

/** The quiet part is cut into pieces, half overlapping, whose tapered spectra are averaged (Welch 1967; from memory). */
const fewestPieces = 4;
const mostPieces = 12;
const shortestPiece = 32;
const longestPiece = 4096;

/** A trace is never altered, so its noise is worked out once. */
const correlations = new WeakMap<Trace, NoiseCorrelation | null>();
const carriers = new WeakMap<Trace, Float64Array>();
const pieces = new WeakMap<Trace, QuietPiece | null>();

function remembered<T>(memory: WeakMap<Trace, T>, trace: Trace, work: (trace: Trace) => T): T {
  if (!memory.has(trace)) memory.set(trace, work(trace));
  return memory.get(trace) as T;
}

function carrierOfTrace(trace: Trace): Float64Array {
  return carrierOf(trace.samples, trace.rectification);
}

interface Taper {
  readonly weights: Float64Array;
  /** The taper's own correlation on the circle, by lag. */
  readonly correlation: Float64Array;
}

const tapers = new Map<number, Taper>();

/** A Hann taper and its correlation, which every estimate is divided by. */
function taperOf(length: number): Taper {
  const made = tapers.get(length);
  if (made) return made;
  const weights = Float64Array.from({ length }, (_, i) => (1 - Math.cos((2 * Math.PI * (i + 0.5)) / length)) / 2);
  const correlation = Float64Array.from(
    { length: length / 2 },
    (_, l) =>
      // Of ½·(1 − cos) on the circle, exactly: ¼·(1 + ½·cos(lag)).
      (length / 4) * (1 + Math.cos((2 * Math.PI * l) / length) / 2),
  );
  const taper = { weights, correlation };
  tapers.set(length, taper);
  return taper;
}

function measureCorrelation(trace: Trace): NoiseCorrelation | null {
  const longest = trace.quiet.reduce((most, run) => Math.max(most, run.last - run.first + 1), 0);
  const total = trace.quiet.reduce((sum, run) => sum + run.last - run.first + 1, 0);
  let length = shortestPiece;
  while (2 * length * fewestPieces <= total && 2 * length <= longest && length < longestPiece) length *= 2;
  const starts = pieceStarts(trace.quiet, length);
  if (starts.length === 0) return null;
  const taper = taperOf(length);
  const carrier = remembered(carriers, trace, carrierOfTrace);
  const tapered = new Float64Array(length);
  const spectra = starts.map((start) => {
    for (let i = 0; i < length; i++) tapered[i] = carrier[start + i] * taper.weights[i];
    return powerSpectrum(tapered, 0, length, length);
  });
  const trend = trendOf(
    trace.quiet,
    starts.map((start) => start + length / 2),
    spectra.map(sumOf),
  );
  const power = new Float64Array(length / 2 + 1);
  for (const [piece, spectrum] of spectra.entries()) {
    const share = 1 / (starts.length * levelAt(trend, starts[piece] + length / 2) ** 2);
    for (let k = 0; k < power.length; k++) power[k] += share * spectrum[k];
  }
  addRounding(power, trace, taper.correlation[0]);
  const { real, imaginary } = oneSidedCorrelation(power, length / 2);
  // The power at positive frequencies holds half of a real signal's; its analytic signal has four times that.
  for (let l = 0; l < length / 2; l++) {
    const scale = 4 / (length * taper.correlation[l]);
    real[l] *= scale;
    imaginary[l] *= scale;
  }
  return { real, imaginary, trend };
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

/** One count in %, and the power of its rounding at each frequency that `power` has, through the trace's band-pass. */
function roundingPower(trace: Trace, bins: number, taperPower: number): Float64Array {
  const { resolutionPercent, recipe, stepUs } = trace;
  const white = ((resolutionPercent ?? 0) ** 2 / 12) * taperPower;
  const band = recipe.bandPass;
  if (!band) return new Float64Array(bins).fill(white);
  const filter = designBandPass(band.lowMHz, band.highMHz, band.order, 1 / stepUs);
  return Float64Array.from(
    { length: bins },
    (_, k) => white * zeroPhaseGain(filter, k / (2 * (bins - 1)) / stepUs) ** 2,
  );
}

/**
 * How much of q²/12 a quiet part hides. Normal noise of s counts, rounded, shows a variance of r = 2·(1 − Φ(1/(2s)))
 * squared counts while s is below a half, where an echo suffers s² + 1/12: the difference is near
 * 0.1·(1 − r/0.35) (derived numerically; within 0.014 from s = 0.1 to 0.5), and nothing from there on.
 */
function hiddenRounding(measured: number, rounding: number): number {
  return rounding > 0 ? Math.max(0, 1.2 * (1 - measured / (4.2 * rounding))) : 0;
}

function sumOf(values: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < values.length; k++) sum += values[k];
  return sum;
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

/** Standard deviation of Σ wₖ·nₖ for noise in phase with a carrier of `radians` for each sample. */
function spreadOf(influence: ArrayLike<number>, noise: NoiseCorrelation, radians: number): number {
  const lags = Math.min(influence.length, noise.real.length);
  let variance = 0;
  for (let l = 0; l < lags; l++) {
    let product = 0;
    for (let k = 0; k + l < influence.length; k++) product += influence[k] * influence[k + l];
    const inPhase = 0.5 * (noise.real[l] * Math.cos(radians * l) + noise.imaginary[l] * Math.sin(radians * l));
    variance += (l === 0 ? 1 : 2) * product * inPhase;
  }
  return Math.sqrt(Math.max(0, variance));
}

/**
 * Carrier of an echo in radians for each sample, from samples about its peak: for any sine of any phase
 * x(k−1) + x(k+1) = 2·cos(ω)·x(k), here in the least-squares sense. Source: derived.
 */
function carrierRadians(trace: Trace, from: SampleRange): number {
  const samples = remembered(carriers, trace, carrierOfTrace);
  let square = 0;
  let product = 0;
  for (let k = Math.max(1, from.first); k <= Math.min(samples.length - 2, from.last); k++) {
    square += samples[k] * samples[k];
    product += samples[k] * (samples[k - 1] + samples[k + 1]);
  }
  return square > 0 ? Math.acos(Math.max(-1, Math.min(1, product / (2 * square)))) : 0;
}

/** The analytic signal of the longest quiet run. */
interface QuietPiece {
  readonly middle: number;
  readonly inPhase: Float64Array;
  readonly quadrature: Float64Array;
}

const longestDrawn = 8192;
const draws = 96;

function measurePiece(trace: Trace): QuietPiece | null {
  let longest: SampleRange | null = null;
  for (const run of trace.quiet) if (!longest || run.last - run.first > longest.last - longest.first) longest = run;
  if (longest === null) return null;
  const carrier = remembered(carriers, trace, carrierOfTrace);
  const inPhase = carrier.slice(longest.first, Math.min(longest.last + 1, longest.first + longestDrawn));
  addRoundingErrors(inPhase, trace);
  const middle = longest.first + inPhase.length / 2;
  return { middle, inPhase, quadrature: hilbert(inPhase, transformSize(2 * inPhase.length)) };
}

/** Adds rounding errors of the power that the piece hides: those of a long sine that is in step with nothing. */
function addRoundingErrors(piece: Float64Array, trace: Trace): void {
  const count = trace.resolutionPercent ?? 0;
  if (count === 0) return;
  const measured = piece.reduce((sum, sample) => sum + sample * sample, 0) / piece.length;
  if (hiddenRounding(measured, (count * count) / 12) === 0) return;
  const white = piece.map((_, i) => {
    const counts = 1000 * Math.sin(Math.SQRT2 * i);
    return count * (Math.round(counts) - counts);
  });
  const band = trace.recipe.bandPass;
  const filter = band && designBandPass(band.lowMHz, band.highMHz, band.order, 1 / trace.stepUs);
  const errors = filter && white.length > filter.extension ? bandPass(white, filter) : white;
  const power = errors.reduce((sum, error) => sum + error * error, 0) / errors.length;
  const scale = Math.sqrt(hiddenRounding(measured, power));
  for (let i = 0; i < piece.length; i++) piece[i] += scale * errors[i];
}

/**
 * Root mean square error of a time found on a model echo with pieces of the quiet part added.
 * @param model envelope samples without noise
 * @param level how strong the noise is at the echo, against what it is at a sample of the quiet part
 * @param find the time in samples of the model, less the true one; `null` where it finds none
 */
function spreadOnModel(
  trace: Trace,
  model: Float64Array,
  level: (middle: number) => number,
  radians: number,
  find: (envelope: Float64Array) => number | null,
): number | null {
  const quiet = remembered(pieces, trace, measurePiece);
  if (quiet === null) return null;
  const room = quiet.inPhase.length - model.length;
  if (room < 1) return null;
  const scale = level(quiet.middle);
  const cosine = model.map((_, k) => scale * Math.cos(radians * k));
  const sine = model.map((_, k) => scale * Math.sin(radians * k));
  const envelope = new Float64Array(model.length);
  let sum = 0;
  let found = 0;
  for (let draw = 0; draw < draws; draw++) {
    // Real and imaginary part of the noise about the carrier are two independent draws.
    const start = Math.floor((Math.floor(draw / 2) * room) / (draws / 2));
    const turned = draw % 2 === 1;
    for (let k = 0; k < model.length; k++) {
      const along = turned ? -sine[k] : cosine[k];
      const across = turned ? cosine[k] : sine[k];
      envelope[k] = model[k] + quiet.inPhase[start + k] * along + quiet.quadrature[start + k] * across;
    }
    const error = find(envelope);
    if (error === null) continue;
    sum += error * error;
    found += 1;
  }
  return found < draws / 2 ? null : Math.sqrt(sum / found);
}

export interface Model {
  readonly envelope: Float64Array;
  readonly find: (envelope: Float64Array) => number | null;
}

/** What a time was made from, and how to make it again. */
export interface Timed {
  /** Of each sample used on the time, in samples for 1 %. */
  readonly influence: ArrayLike<number>;
  /** Of the echo, in samples; `null` where it could not be had. */
  readonly sigma: number | null;
  /** What the interpolation itself errs by, in samples. */
  readonly interpolation: number;
  /** A model of the echo without noise, and the method on it: the time in samples, less the true one. */
  readonly model: () => Model | null;
  /** The combination of the samples whose noise must stay well below `bound` for the influence to hold. */
  readonly tilt: { readonly weights: ArrayLike<number>; readonly bound: number };
}

/** Noise that moves the tilt by more than this part of its bound is no longer small. */
const smallTilt = 0.2;

/** Noise that a half wave does not show: measured, u is then 1.4 (white noise) to 2.1 times (probe-shaped) the spread. */
const halfWaveFactor = 2;

/**
 * What is left without any noise, in samples: root mean square over all phases of the carrier, measured on Gaussian
 * bursts, with x = ω₀·σ (3.93 at 60 % bandwidth, 2.94 at 80 %).
 * - The analytic signal of a short burst ripples at twice the carrier by exp(−x²/2), because its spectrum reaches below
 *   zero frequency: a quarter of that, times σ (0.01 ns at 5 MHz and 60 %, 0.3 ns at 80 %, 1 ns at 100 %).
 * - A half wave's missing half is filled in: 0.095·exp(−1.25·(x − 3.92)) times σ (8 ns at 5 MHz and 60 %, 0.2 ns at 30 %).
 */
function methodError(trace: Trace, sigma: number, radians: number): number {
  const x = radians * sigma;
  const ripple = 0.25 * sigma * Math.exp(-0.5 * x * x);
  return isHalfWave(trace) ? ripple + 0.095 * sigma * Math.exp(-1.25 * (x - 3.92)) : ripple;
}

function isHalfWave(trace: Trace): boolean {
  return trace.rectification === 'positive' || trace.rectification === 'negative';
}

/**
 * Standard uncertainty in µs of a time made from envelope samples.
 * @param about samples of the echo around which its carrier is measured
 * @returns `null` where the trace has no quiet part to measure its noise in
 * Source: linear propagation, JCGM 100:2008 section 5 (from memory); beyond it resampling of the record's own noise.
 */
export function timeUncertaintyUs(trace: Trace, about: SampleRange, timed: Timed): number | null {
  const noise = remembered(correlations, trace, measureCorrelation);
  if (noise === null) return null;
  const radians = trace.rectification === 'envelope' ? 0 : carrierRadians(trace, about);
  const level = levelAt(noise.trend, (about.first + about.last) / 2);
  let spread = level * spreadOf(timed.influence, noise, radians);
  if (level * spreadOf(timed.tilt.weights, noise, radians) > smallTilt * timed.tilt.bound) {
    const model = timed.model();
    const against = (middle: number) => level / levelAt(noise.trend, middle);
    spread = (model && spreadOnModel(trace, model.envelope, against, radians, model.find)) ?? spread;
  }
  if (isHalfWave(trace)) spread *= halfWaveFactor;
  const method = timed.sigma === null || radians === 0 ? 0 : methodError(trace, timed.sigma, radians);
  return Math.hypot(spread, method, timed.interpolation) * trace.stepUs;
}
