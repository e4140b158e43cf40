import type { SampleRange } from '../capture/waveform.ts';
import { cos } from '../elementary/trigonometric.ts';
import type { Trace, Unfiltered } from './conditioning.ts';
import { echoSigma } from './echo-sigma.ts';
import { envelopeIn, transformSize } from './fft.ts';
import { remembered } from './remembered.ts';

/** An echo as it stood before the band-pass: a piece of the envelope, by itself. */
export interface Before {
  /** In % FSH, from sample `first` of the record on. */
  readonly envelope: Float64Array;
  readonly first: number;
  /** Its highest sample about the filtered peak, counted in `envelope`. */
  readonly highest: number;
  /** The filtered envelope's highest sample in the same place, in % FSH. */
  readonly filteredPercent: number;
  /** Root mean square of what the band-pass took out where the record is quiet. */
  readonly noisePercent: number;
}

/** The echo is looked for so many σ to either side of the filtered peak, and its piece is as long again, faded out. */
const reachInSigma = 2.5;
const shortestFade = 16;
const longestReach = 1024;
/** So many samples tell a root mean square to a few per cent. */
const enoughForSquares = 1024;

/**
 * An echo before the band-pass, from a piece of the raw record about it: the zero-phase filter moves no symmetrical echo,
 * but it lowers every echo that its band cuts, and moves one whose parts of high and low frequency do not arrive together.
 *
 *     raw      ___/^^\__/~\___      cut out, faded at both ends, its own envelope
 *     filtered ____/^\___________   beside which the filtered one stands lower, and perhaps later
 *
 * @param index a maximum of the filtered envelope
 * @returns `null` where there was no band-pass, no quiet part to tell what it takes out, or the echo has no width
 */
export function beforeBandPass(trace: Trace, index: number): Before | null {
  if (trace.unfiltered === null || trace.quiet.length === 0) return null;
  const known = remembered(seen, trace, noneSeen);
  let before = known.get(index);
  if (before === undefined) {
    before = seeBefore(trace, trace.unfiltered, index);
    known.set(index, before);
  }
  return before;
}

/** Its time and its doubts ask for the same echo. */
const seen = new WeakMap<Trace, Map<number, Before | null>>();

function noneSeen(): Map<number, Before | null> {
  return new Map();
}

function seeBefore(trace: Trace, unfiltered: Unfiltered, index: number): Before | null {
  const { envelope, samples } = trace;
  const sigma = echoSigma(envelope, index);
  if (sigma === null) return null;
  const reach = Math.min(longestReach, Math.ceil(reachInSigma * sigma));
  const fade = Math.max(shortestFade, reach);
  const first = Math.max(0, index - reach - fade);
  const last = Math.min(samples.length - 1, index + reach + fade);
  const noisePercent = remembered(takenOut, trace, noiseTakenOut);
  const wanders = noisePercent > wandersFrom * (trace.noisePercent ?? noisePercent);
  const piece = fadedPiece(unfiltered, { first, last }, { first: index - reach, last: index + reach }, wanders);
  const before = envelopeIn(piece, 0, piece.length, transformSize(piece.length + fade));
  const from = Math.max(0, index - reach) - first;
  const until = Math.min(samples.length - 1, index + reach) - first;
  let highest = index - first;
  let filteredPercent = envelope[index];
  for (let i = from; i <= until; i++) {
    if (before[i] > before[highest]) highest = i;
    if (envelope[first + i] > filteredPercent) filteredPercent = envelope[first + i];
  }
  return { envelope: before, first, highest, filteredPercent, noisePercent };
}

/** Fewer samples than this tell no base line from the carrier. */
const leastEdge = 8;
/** A base line wanders where the band-pass took so many times more out of the quiet part than it left there. */
const wandersFrom = 8;

/**
 * What the raw record holds in a range, in % FSH about its base line, with a raised-cosine edge outside `whole`. A base
 * line that wanders is no part of the echo: the straight line between the means of the two edges is then taken out.
 */
function fadedPiece(unfiltered: Unfiltered, range: SampleRange, whole: SampleRange, wanders: boolean): Float64Array {
  const piece = new Float64Array(range.last - range.first + 1);
  for (let i = 0; i < piece.length; i++) piece[i] = unfilteredAt(unfiltered, range.first + i);
  const before = whole.first - range.first;
  const after = range.last - whole.last;
  const isTold = wanders && Math.min(before, after) >= leastEdge;
  const start = isTold ? meanOf(piece, 0, before) : 0;
  const end = isTold ? meanOf(piece, piece.length - after, piece.length) : 0;
  const slope = (end - start) / (piece.length - (before + after) / 2);
  for (let i = 0; i < piece.length; i++) {
    const at = range.first + i;
    const outside = Math.max(whole.first - at, at - whole.last, 0);
    const fade = at < whole.first ? before + 1 : after + 1;
    const weight = outside === 0 ? 1 : (1 + cos((Math.PI * outside) / fade)) / 2;
    piece[i] = weight * (piece[i] - start - slope * (i - (before - 1) / 2));
  }
  return piece;
}

function meanOf(values: Float64Array, from: number, until: number): number {
  let sum = 0;
  for (let i = from; i < until; i++) sum += values[i];
  return sum / (until - from);
}

function unfilteredAt({ raw, percentPerUnit, base }: Unfiltered, i: number): number {
  return (raw.samples[i] - raw.zeroLevel) * percentPerUnit - base.level - base.slope * (i - base.origin);
}

const takenOut = new WeakMap<Trace, number>();

function noiseTakenOut(trace: Trace): number {
  const { quiet, samples, unfiltered, resolutionPercent } = trace;
  let total = 0;
  for (const { first, last } of quiet) total += last - first + 1;
  const stride = Math.ceil(total / enoughForSquares) | 1;
  let squares = 0;
  let count = 0;
  for (const { first, last } of quiet) {
    for (let i = first; i <= last; i += stride) {
      const out = unfilteredAt(unfiltered!, i) - samples[i];
      squares += out * out;
      count += 1;
    }
  }
  // A quiet part hides the converter's rounding, which the echo does not.
  return Math.sqrt(squares / count + (resolutionPercent ?? 0) ** 2 / 12);
}
