import type { SampleRange } from '../capture/waveform.ts';
import type { Trace } from './conditioning.ts';
import { hilbert, transformSize } from './fft.ts';
import { addRoundingErrors } from './hidden-rounding.ts';
import { carrierOfTrace } from './noise-correlation.ts';
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

const pieces = new WeakMap<Trace, QuietPiece | null>();

function measurePiece(trace: Trace): QuietPiece | null {
  let longest: SampleRange | null = null;
  for (const run of trace.quiet) if (!longest || run.last - run.first > longest.last - longest.first) longest = run;
  if (longest === null) return null;
  const inPhase = carrierOfTrace(trace).slice(longest.first, Math.min(longest.last + 1, longest.first + longestDrawn));
  addRoundingErrors(inPhase, trace);
  const middle = longest.first + inPhase.length / 2;
  return { middle, inPhase, quadrature: hilbert(inPhase, transformSize(2 * inPhase.length)) };
}

/**
 * Root mean square error of a time found on a model echo with pieces of the quiet part added.
 * @param level how strong the noise is at the echo, against what it is at a sample of the quiet part
 * @param radians of the echo's carrier for each sample
 * @returns in samples; `null` where no quiet run is as long as the model, or the method finds less than half of its times
 */
export function spreadOnModel(
  trace: Trace,
  { envelope: model, find }: Model,
  level: (middle: number) => number,
  radians: number,
): number | null {
  const quiet = remembered(pieces, trace, measurePiece);
  if (quiet === null) return null;
  const { inPhase, quadrature, middle } = quiet;
  const count = model.length;
  const room = inPhase.length - count;
  if (room < 1) return null;
  const scale = level(middle);
  const cosine = new Float64Array(count);
  const sine = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    cosine[k] = scale * Math.cos(radians * k);
    sine[k] = scale * Math.sin(radians * k);
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
