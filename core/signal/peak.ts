import type { SampleRange } from '../capture/waveform.ts';
import { exp } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { beforeBandPass } from './band-effect.ts';
import type { Trace } from './conditioning.ts';
import { cutOffAbout } from './cut-off.ts';
import { echoSigma, fallOverRise } from './echo-sigma.ts';
import { fitLogarithm } from './logarithm-fit.ts';
import type { Model } from './model-draws.ts';
import { interferenceAt } from './neighbours.ts';
import { remembered } from './remembered.ts';
import { carrierRadians, timeUncertaintyUs } from './time-uncertainty.ts';
import { unevenByNoise, unevennessOf } from './unevenness.ts';
import { logParabola, type Method, methods, type Refinement } from './vertex.ts';

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

function refinedPeak(trace: Trace, index: number): Peak {
  const refinement = methods[trace.recipe.peak].refine(trace.envelope, index, unevennessOf(trace));
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
 * three points), or the time stays well inside the window (for the logarithm's parabola). How far an echo's own
 * leaning draws the method aside is a bias that is not taken out and counts whole (root sum of squares: common practice);
 * what the band-pass may have moved is a rectangle (JCGM 100:2008, 4.3.7). Both are measured in
 * `tests/outside/band-pass-bias.test.ts`.
 */
function peakUncertaintyUs(trace: Trace, index: number, refinement: Refinement): number | null {
  const { offset, amplitudePercent, influence, by } = refinement;
  const sigma = echoSigma(trace.envelope, index, unevennessOf(trace)) ?? 1;
  const about = { first: Math.floor(index - sigma), last: Math.ceil(index + sigma) };
  const tilt =
    by === 'three-point'
      ? { weights: secondDifference, bound: amplitudePercent / sigma ** 2 }
      : { weights: influence, bound: sigma / 4 };
  const uTimeUs = timeUncertaintyUs(trace, about, {
    influence,
    sigma,
    interpolation: hypot(
      movedByBand(trace, index) / Math.sqrt(3),
      by === 'three-point' ? parabolaError / sigma ** 2 : 0,
      movedByNeighbours(trace, index, sigma),
      movedByKink(trace, index, offset, about),
    ),
    leaning: Math.abs(refinement.leaning),
    fillingFactor: 1,
    rippleFactor: 1,
    tilt,
    model: () => echoModel(trace, index, offset, methods[by]),
  });
  if (uTimeUs === null) return null;
  return hypot(uTimeUs, cutCrestUncertaintyUs(trace, index, offset));
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

/**
 * Root mean square of −δ·(1 − 4δ²)/(4σ²), by which a parabola through three points of a Gaussian errs δ samples beside its
 * middle one, times σ². Source: derived.
 */
const parabolaError = 0.0345;

/** Of t·exp(−t/τ), whose onset has a kink, fall over rise is 1.9; of t²·exp(−t/τ) and t³·exp(−t/τ), which have none, 1.5 and 1.4 (derived). */
const kinkedFrom = 1.45;
const kinkedAtLeast = 1.6;
/** Where noise alone makes the sides uneven, they tell nothing. */
const steadySides = 0.2;

/**
 * How far the carrier's phase moves the peak of an echo whose onset has a kink, in samples. The kink's spectrum reaches
 * through zero frequency, and the analytic signal's envelope ripples at twice the carrier by 1/(2·ω₀·τ)² of its height,
 * against a top of 1/τ² curvature: 1/(2·ω₀), whose root mean square over all phases is 1/(2√2·ω₀), whatever τ.
 * Source: derived; measured 6 to 15 ns at 5 MHz, where it gives 11 (`npm run endure -- numbers`).
 */
function movedByKink(trace: Trace, index: number, offset: number, about: SampleRange): number {
  const ratio = fallOverRise(trace.envelope, index, offset);
  if (!(ratio > kinkedFrom) || unevennessOf(trace) > steadySides * trace.envelope[index]) return 0;
  const radians = trace.rectification === 'envelope' ? 0 : carrierRadians(trace, about);
  if (radians === 0) return 0;
  return Math.min(1, (ratio - kinkedFrom) / (kinkedAtLeast - kinkedFrom)) / (2 * Math.SQRT2 * radians);
}

/** A slope that another echo adds tilts the top, A·(1 − t²/2σ²): by σ²/A of it. */
function movedByNeighbours(trace: Trace, index: number, sigma: number): number {
  // What stands beside the top of a crest that is cut off is the rest of that crest.
  if (cutOffAbout(trace, index) !== null) return 0;
  const { slope } = interferenceAt(trace.envelope, index, sigma, unevennessOf(trace), index);
  return (slope * sigma ** 2) / trace.envelope[index];
}

/** A shift by the band-pass counts when noise that it took out makes one in fewer than one of 300 echoes: 3 standard deviations. */
const clearShift = 3;

/**
 * How far a band-pass may have moved an echo, in samples: it moves one whose high and low frequencies do not arrive
 * together. From the unfiltered peak to the filtered one, and as far as the unfiltered one leans, which is the same in
 * every echo of one shape, so that the two add up. 0 where noise that the filter took out explains the shift.
 */
function movedByBand(trace: Trace, index: number): number {
  const before = beforeBandPass(trace, index);
  if (before === null) return 0;
  const { envelope, first, highest, noisePercent } = before;
  const unfiltered = logParabola(envelope, highest, unevenByNoise * noisePercent);
  const filtered = logParabola(trace.envelope, index, unevennessOf(trace));
  if (unfiltered?.by !== 'log-parabola' || filtered?.by !== 'log-parabola') return 0;
  const shift = Math.abs(index + filtered.offset - (first + highest + unfiltered.offset));
  let squares = 0;
  for (const weight of unfiltered.influence) squares += weight * weight;
  return shift > clearShift * noisePercent * Math.sqrt(squares) ? shift + Math.abs(unfiltered.leaning) : 0;
}

/** A Gaussian echo as high and as wide as the one in the trace, its peak as far from a sample. */
function echoModel(trace: Trace, index: number, offset: number, method: Method): Model | null {
  const { envelope } = trace;
  const unevenness = unevennessOf(trace);
  const width = echoSigma(envelope, index, unevenness);
  const whole = width === null ? null : fitLogarithm(envelope, index, Math.max(1, Math.round(width)), 0);
  if (whole === null) return null;
  const sigma = Math.sqrt(-0.5 / whole.curvature);
  const reach = Math.ceil(2.5 * sigma) + 1;
  const middle = reach + offset - Math.round(offset);
  const model = new Float64Array(2 * reach + 1);
  for (let k = 0; k < model.length; k++) {
    const away = (k - middle) / sigma;
    model[k] = whole.height * exp(-0.5 * away * away);
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
