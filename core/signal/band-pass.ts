import { log, power } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { cos, sin, tan } from '../elementary/trigonometric.ts';
import { WorkSpace } from './work-space.ts';

/**
 * Zero-phase Butterworth band-pass: second-order sections run forward, then backward, so that no echo is shifted.
 *
 *     gain
 *      1 |      ______________           one pass:  1/√2 at `lowMHz` and `highMHz`
 *        |     /              \          both:      1/2 there
 *      0 |____/                \________ frequency
 *
 * Design: analogue prototype with poles on a circle, low-pass to band-pass, bilinear transform with prewarped edges
 * (Oppenheim and Schafer, Discrete-Time Signal Processing, chapter on IIR design; from memory). Agrees with SciPy's
 * `butter(order, band, 'bandpass', output='sos')` and `sosfiltfilt`, edges included: odd extension by
 * 3·(2·order + 1) samples, and states as if the first sample had stood there for ever.
 */
export interface BandPass {
  readonly lowMHz: number;
  readonly highMHz: number;
  readonly order: number;
  readonly sampleRateMHz: number;
  /** a1, a2 of each section; every numerator is 1 − z⁻². */
  readonly denominators: Float64Array;
  /** Of all sections together. */
  readonly gain: number;
  /** Samples of odd extension at each end. */
  readonly extension: number;
  /** Samples after which the slowest pole has died down to 1e-13. */
  readonly settling: number;
}

interface Complex {
  readonly re: number;
  readonly im: number;
}

function squareRoot(z: Complex): Complex {
  const modulus = hypot(z.re, z.im);
  const re = Math.sqrt(Math.max(0, (modulus + z.re) / 2));
  const im = Math.sqrt(Math.max(0, (modulus - z.re) / 2));
  return { re, im: z.im < 0 ? -im : im };
}

function product(a: Complex, b: Complex): Complex {
  return { re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re };
}

function quotient(a: Complex, b: Complex): Complex {
  const square = b.re * b.re + b.im * b.im;
  return { re: (a.re * b.re + a.im * b.im) / square, im: (a.im * b.re - a.re * b.im) / square };
}

/**
 * Designs the filter.
 * @param lowMHz @param highMHz the band's edges, 0 < low < high < half the sampling rate
 * @param order of one pass, a whole number from 1
 */
export function designBandPass(lowMHz: number, highMHz: number, order: number, sampleRateMHz: number): BandPass {
  // The bilinear transform is written for a sampling rate of 2, whose Nyquist frequency is 1: s = 4·(z − 1)/(z + 1).
  const low = 4 * tan((Math.PI * lowMHz) / sampleRateMHz);
  const high = 4 * tan((Math.PI * highMHz) / sampleRateMHz);
  const width = high - low;
  const centreSquared = low * high;

  const denominators = new Float64Array(2 * order);
  let sections = 0;
  let gain: Complex = { re: power(4 * width, order), im: 0 };
  let slowest = 0;
  const addSection = (p: Complex, q: Complex) => {
    const pDigital = quotient({ re: 4 + p.re, im: p.im }, { re: 4 - p.re, im: -p.im });
    const qDigital = quotient({ re: 4 + q.re, im: q.im }, { re: 4 - q.re, im: -q.im });
    denominators[2 * sections] = -(pDigital.re + qDigital.re);
    denominators[2 * sections + 1] = product(pDigital, qDigital).re;
    sections += 1;
    gain = quotient(gain, product({ re: 4 - p.re, im: -p.im }, { re: 4 - q.re, im: -q.im }));
    slowest = Math.max(slowest, hypot(pDigital.re, pDigital.im), hypot(qDigital.re, qDigital.im));
  };
  for (let k = 0; 2 * k < order; k++) {
    // Prototype poles above the real axis (or on it, the middle one of an odd order).
    const angle = (Math.PI * (order - 1 - 2 * k)) / (2 * order);
    const onAxis = 2 * k === order - 1;
    const pole = { re: (-cos(angle) * width) / 2, im: onAxis ? 0 : (sin(angle) * width) / 2 };
    const square = product(pole, pole);
    const root = squareRoot({ re: square.re - centreSquared, im: square.im });
    const above = { re: pole.re + root.re, im: pole.im + root.im };
    const below = { re: pole.re - root.re, im: pole.im - root.im };
    if (onAxis) addSection(above, below);
    else {
      addSection(above, { re: above.re, im: -above.im });
      addSection(below, { re: below.re, im: -below.im });
    }
  }
  return {
    lowMHz,
    highMHz,
    order,
    sampleRateMHz,
    denominators,
    gain: gain.re,
    extension: 3 * (2 * order + 1),
    settling: Math.ceil(log(1e-13) / log(slowest)),
  };
}

/** The last design made: captures of one batch share it. */
let lastDesign: BandPass | null = null;

/** `designBandPass`, which is not repeated while the same filter is asked for. */
export function bandPassOf(lowMHz: number, highMHz: number, order: number, sampleRateMHz: number): BandPass {
  const last = lastDesign;
  const same =
    last?.lowMHz === lowMHz && last.highMHz === highMHz && last.order === order && last.sampleRateMHz === sampleRateMHz;
  if (last && same) return last;
  lastDesign = designBandPass(lowMHz, highMHz, order, sampleRateMHz);
  return lastDesign;
}

/** Gain of both passes together at a frequency: real, because forward and backward cancel the phase. */
export function zeroPhaseGain(filter: BandPass, frequencyMHz: number): number {
  const angle = (2 * Math.PI * frequencyMHz) / filter.sampleRateMHz;
  const numerator = 4 * sin(angle) ** 2;
  let gain = filter.gain ** 2;
  for (let k = 0; k < filter.denominators.length; k += 2) {
    const a1 = filter.denominators[k];
    const a2 = filter.denominators[k + 1];
    const re = 1 + a1 * cos(angle) + a2 * cos(2 * angle);
    const im = -a1 * sin(angle) - a2 * sin(2 * angle);
    gain *= numerator / (re * re + im * im);
  }
  return gain;
}

const lengthened = new WorkSpace();

/**
 * Filters a record forward and backward.
 * @param samples longer than `filter.extension`
 * @returns a new record of the same length and unit
 */
export function bandPass(samples: Float64Array, filter: BandPass): Float64Array {
  const edge = filter.extension;
  const extended = lengthened.take(samples.length + 2 * edge);
  extendOddlyInto(extended, samples, edge);
  filterInto(extended, filter, false);
  filterInto(extended, filter, true);
  return extended.slice(edge, edge + samples.length);
}

/** The record lengthened at both ends by `edge` samples, turned about its first and last sample; `edge` < length. */
function extendOddlyInto(extended: Float64Array, samples: Float64Array, edge: number): void {
  const count = samples.length;
  const first = 2 * samples[0];
  const last = 2 * samples[count - 1];
  for (let i = 0; i < edge; i++) {
    extended[i] = first - samples[edge - i];
    extended[edge + count + i] = last - samples[count - 2 - i];
  }
  extended.set(samples, edge);
}

/** All sections over the data in place, four at a time, beginning as if the first sample had stood there for ever. */
function filterInto(data: Float64Array, filter: BandPass, backward: boolean): void {
  const { denominators, gain } = filter;
  const sections = denominators.length / 2;
  let section = 0;
  for (; section + 4 <= sections; section += 4) {
    fourSectionsInto(data, denominators.subarray(2 * section), section === 0 ? gain : 1, section === 0, backward);
  }
  for (; section < sections; section++) {
    oneSectionInto(data, denominators.subarray(2 * section), section === 0 ? gain : 1, section === 0, backward);
  }
}

// Transposed direct form II: y = x + s1, s1 = s2 − a1·y, s2 = −x − a2·y. A constant gives y = 0 in the first section,
// so its steady state is s1 = s2 = −x, and every later section rests at 0.

function fourSectionsInto(data: Float64Array, a: Float64Array, gain: number, atRest: boolean, backward: boolean): void {
  const count = data.length;
  const a11 = a[0];
  const a12 = a[1];
  const a21 = a[2];
  const a22 = a[3];
  const a31 = a[4];
  const a32 = a[5];
  const a41 = a[6];
  const a42 = a[7];
  const start = backward ? count - 1 : 0;
  const step = backward ? -1 : 1;
  let s11 = atRest ? -gain * data[start] : 0;
  let s12 = s11;
  let s21 = 0;
  let s22 = 0;
  let s31 = 0;
  let s32 = 0;
  let s41 = 0;
  let s42 = 0;
  for (let i = start, left = count; left > 0; left--, i += step) {
    const x = gain * data[i];
    const y1 = x + s11;
    s11 = s12 - a11 * y1;
    s12 = -x - a12 * y1;
    const y2 = y1 + s21;
    s21 = s22 - a21 * y2;
    s22 = -y1 - a22 * y2;
    const y3 = y2 + s31;
    s31 = s32 - a31 * y3;
    s32 = -y2 - a32 * y3;
    const y4 = y3 + s41;
    s41 = s42 - a41 * y4;
    s42 = -y3 - a42 * y4;
    data[i] = y4;
  }
}

function oneSectionInto(data: Float64Array, a: Float64Array, gain: number, atRest: boolean, backward: boolean): void {
  const count = data.length;
  const a1 = a[0];
  const a2 = a[1];
  const start = backward ? count - 1 : 0;
  const step = backward ? -1 : 1;
  let s1 = atRest ? -gain * data[start] : 0;
  let s2 = s1;
  for (let i = start, left = count; left > 0; left--, i += step) {
    const x = gain * data[i];
    const y = x + s1;
    s1 = s2 - a1 * y;
    s2 = -x - a2 * y;
    data[i] = y;
  }
}
