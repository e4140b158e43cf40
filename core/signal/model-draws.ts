import type { SampleRange } from '../capture/waveform.ts';
import { cos, sin } from '../elementary/trigonometric.ts';
import type { Trace } from './conditioning.ts';
import { filterBlockInto, hilbert, realSpectrum, transformSize } from './fft.ts';
import { addRoundingErrors } from './hidden-rounding.ts';
import { carrierOfTrace, noiseCorrelationOf } from './noise-correlation.ts';
import { normalNumbers } from './normal-numbers.ts';
import { remembered } from './remembered.ts';

/** A smooth echo, and the method that times it: the time in samples, less the true one; `null` where it finds none. */
export interface Model {
  readonly envelope: Float64Array;
  readonly find: (envelope: Float64Array) => number | null;
}

/** The analytic signal of the longest quiet run. */
interface QuietPiece {
  readonly middle: number;
  readonly inPhase: Float64Array;
  readonly quadrature: Float64Array;
}

const longestDrawn = 8192;
const draws = 96;

const pieces = new WeakMap<Trace, QuietPiece[]>();

/** The noise that a time is tried in; where there are two, the worse of them counts. */
function piecesOf(trace: Trace): QuietPiece[] {
  if (trace.rectification === 'envelope') return [detectedPiece(trace)].filter((piece) => piece !== null);
  const quiet = quietPiece(trace);
  const white = trace.rectification === 'full' ? whitePiece(trace) : null;
  return [quiet, white].filter((piece) => piece !== null);
}

function quietPiece(trace: Trace): QuietPiece | null {
  let longest: SampleRange | null = null;
  for (const run of trace.quiet) if (!longest || run.last - run.first > longest.last - longest.first) longest = run;
  if (longest === null) return null;
  const inPhase = carrierOfTrace(trace).slice(longest.first, Math.min(longest.last + 1, longest.first + longestDrawn));
  addRoundingErrors(inPhase, trace);
  const middle = longest.first + inPhase.length / 2;
  return { middle, inPhase, quadrature: hilbert(inPhase, transformSize(2 * inPhase.length)) };
}

/** As many as 96 draws need not repeat one another. */
const longestMade = 4096;

/** A detected record does not show the noise that a crest suffers: normal noise of its strength and correlation is made instead. */
function detectedPiece(trace: Trace): QuietPiece | null {
  const noise = noiseCorrelationOf(trace);
  if (noise === null) return null;
  const { real, trend } = noise;
  const circular = new Float64Array(longestMade);
  for (let l = 0; l < real.length; l++) circular[l] = circular[(longestMade - l) % longestMade] = real[l] / 2;
  const power = realSpectrum(circular, 0, longestMade, longestMade).real;
  const gain = Float64Array.from(power, (value) => Math.sqrt(Math.max(0, value)));
  const made = (seed: number) => {
    const samples = normalNumbers(longestMade, seed);
    const filtered = new Float64Array(longestMade);
    const block = { samples, from: 0, count: longestMade, at: 0 };
    filterBlockInto(filtered, new Float64Array(longestMade), block, longestMade, gain);
    return filtered;
  };
  return { middle: trend.middle, inPhase: made(1), quadrature: made(2) };
}

/** The signs of a full wave's noise are not known; white noise of its strength is the least that it can be. */
function whitePiece(trace: Trace): QuietPiece | null {
  const noise = noiseCorrelationOf(trace);
  if (noise === null) return null;
  const sd = Math.sqrt(noise.leastVariance);
  const inPhase = normalNumbers(longestMade, 1).map((value) => sd * value);
  return { middle: noise.trend.middle, inPhase, quadrature: hilbert(inPhase, 2 * longestMade) };
}

/**
 * Root mean square error of a time found on a model echo with pieces of the quiet part added.
 * @param level how strong the noise is at the echo, against what it is at a sample of the quiet part
 * @param radians of the echo's carrier for each sample
 * @returns in samples; `null` where no quiet run is as long as the model, or the method finds less than half of its times
 */
export function spreadOnModel(
  trace: Trace,
  model: Model,
  level: (middle: number) => number,
  radians: number,
): number | null {
  let worst: number | null = null;
  for (const piece of remembered(pieces, trace, piecesOf)) {
    const spread = spreadIn(piece, model, level(piece.middle), radians);
    if (spread !== null) worst = Math.max(worst ?? 0, spread);
  }
  return worst;
}

function spreadIn(
  { inPhase, quadrature }: QuietPiece,
  { envelope: model, find }: Model,
  scale: number,
  radians: number,
) {
  const count = model.length;
  const room = inPhase.length - count;
  if (room < 1) return null;
  const cosine = new Float64Array(count);
  const sine = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    cosine[k] = scale * cos(radians * k);
    sine[k] = scale * sin(radians * k);
  }
  const envelope = new Float64Array(count);
  let sum = 0;
  let found = 0;
  for (let draw = 0; draw < draws; draw++) {
    const start = Math.floor(((draw >> 1) * room) / (draws / 2));
    // Real and imaginary part of the noise about the carrier are two independent draws.
    if (draw % 2 === 0) addNoiseInto(envelope, model, inPhase, cosine, quadrature, sine, start, 1);
    else addNoiseInto(envelope, model, inPhase, sine, quadrature, cosine, start, -1);
    const error = find(envelope);
    if (error === null) continue;
    sum += error * error;
    found += 1;
  }
  return found < draws / 2 ? null : Math.sqrt(sum / found);
}

/** model ± inPhase·a + quadrature·b, the noise taken from sample `start` on. */
function addNoiseInto(
  envelope: Float64Array,
  model: Float64Array,
  inPhase: Float64Array,
  a: Float64Array,
  quadrature: Float64Array,
  b: Float64Array,
  start: number,
  sign: 1 | -1,
): void {
  for (let k = 0; k < envelope.length; k++) {
    envelope[k] = model[k] + sign * inPhase[start + k] * a[k] + quadrature[start + k] * b[k];
  }
}
