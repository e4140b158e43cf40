import { log10, power } from '../elementary/exponential.ts';

/**
 * Is a column of stamps (time, distance or sample number) evenly spaced, and what are its start and step?
 *
 *     stamp |            o      o: a stamp; the line runs through the first and the last
 *           |       o'          deviation: how far a stamp stands off that line, in steps
 *           |   o
 *           | o
 *           +------------- index
 *
 * Every stamp is looked at, but none is kept. A stamp's deviation from the line through first and last cannot be known
 * before the last one is read, so it is first taken from a provisional line (through the first `blockLength` stamps),
 * and only the lowest and highest deviation of each group of 256 are kept. When the final line is known, the two lines'
 * difference is linear in the index, so each group's extremes shift by a known amount; the difference between the
 * group's two ends is added to the bound. That slack is at most 256/8192 of what the provisional line was off
 * over its own block, so the bound is never too small and at most about 3 % of a rounding unit too large.
 */

/**
 * A stamp may stand this far off the line, in steps, for whatever reason. At 100 MHz it is 0.2 ns, or 0.6 µm of steel in
 * pulse-echo: below what any echo is timed to. Stamps rounded to single precision stay within it.
 */
export const evenWithinSteps = 0.02;

/**
 * Beyond that, only rounding to the digits the file itself writes is an excuse: then each stamp must lie within half a
 * unit of its own last digit of the line (plus what half a unit at either end tilts the line), each step within one unit,
 * and the unit must be clearly finer than the step, or else a missing sample could pass for rounding.
 */
export const coarsestUnitInSteps = 0.9;

/** A single step that departs by more than this share from the usual one is where the axis "jumps". */
const jumpShare = 0.25;

/**
 * One missing sample in the middle looks just like the rounding of a step that is a little longer (0, 1, 2, 4, 5 of a step of 1.25),
 * and so may two at a third and two thirds. Rounding makes such jumps all along the axis, so fewer than these are none.
 */
const fewestRoundingJumps = 5;

const blockLength = 8192;
const groupLength = 256;

export type AxisVerdict =
  | {
      readonly kind: 'uniform';
      readonly first: number;
      readonly last: number;
      readonly count: number;
      readonly worstSteps: number;
    }
  /** No stamp, or only one. */
  | { readonly kind: 'too-short'; readonly count: number }
  /** All stamps are equal. */
  | { readonly kind: 'zero-step'; readonly index: number }
  /** `index` is the first stamp equal to the one before it; `count` how many are. */
  | { readonly kind: 'repeated'; readonly index: number; readonly count: number }
  /** `index` is the first stamp that is smaller than the one before it. */
  | { readonly kind: 'backward'; readonly index: number }
  /** `index` is the stamp after the first step that departs from the usual one, or from it the most. */
  | {
      readonly kind: 'uneven';
      readonly index: number;
      readonly worstSteps: number;
      readonly usualStep: number;
      readonly step: number;
    };

/** Stamps that a check first has room for, in a quarter of the next room each: a file may hold tens of thousands of captures of a few samples. */
const firstRoom = groupLength / 16;

/** The buffer of the last check that was finished: most files need just one at a time. */
let spareBuffer: Float64Array | null = null;

function takeBuffer(): Float64Array {
  const buffer = spareBuffer ?? new Float64Array(firstRoom);
  spareBuffer = null;
  return buffer;
}

/** Takes stamps in order, in pieces of any size, and gives one verdict; pieces and whole give the same. */
export class AxisCheck {
  private buffer = takeBuffer();
  private buffered = 0;
  private weighed = 0;
  private count = 0;
  private first = Number.NaN;
  private last = Number.NaN;
  private provisionalStep = 0;
  private usualStep = 0;
  private readonly lowest: number[] = [];
  private readonly highest: number[] = [];
  private readonly worstStep: number[] = [];
  private readonly largest: number[] = [];
  private repeats = 0;
  private firstRepeat = -1;
  private firstBackward = -1;
  private jumps = 0;
  private firstJump = -1;
  private oddestStep = -1;
  private oddestIndex = 0;
  private mostDigits = 1;
  private finestExponent = Number.POSITIVE_INFINITY;

  /** Takes `count` stamps from `values`, beginning at `offset`, one every `stride`. */
  push(values: Float64Array, offset: number, stride: number, count: number): void {
    let taken = 0;
    while (taken < count) {
      if (this.buffered === this.buffer.length) this.makeRoom();
      const room = Math.min(count - taken, this.buffer.length - this.buffered);
      const { buffer, buffered } = this;
      for (let i = 0, at = offset + taken * stride; i < room; i++, at += stride) buffer[buffered + i] = values[at];
      this.buffered += room;
      taken += room;
    }
  }

  /** To be asked once, when all stamps were pushed. */
  verdict(): AxisVerdict {
    const verdict = this.judge();
    spareBuffer = this.buffer;
    return verdict;
  }

  private judge(): AxisVerdict {
    this.weighBuffer();
    const { count, first, last } = this;
    if (count < 2) return { kind: 'too-short', count };
    if (this.repeats === count - 1) return { kind: 'zero-step', index: this.firstRepeat };
    if (this.firstBackward >= 0) return { kind: 'backward', index: this.firstBackward };
    if (this.repeats > 0) return { kind: 'repeated', index: this.firstRepeat, count: this.repeats };
    const step = (last - first) / (count - 1);
    const worst = this.worstDeviation(step);
    if (worst <= evenWithinSteps * step || this.isRounding(step)) {
      return { kind: 'uniform', first, last, count, worstSteps: worst / step };
    }
    const index = this.firstJump >= 0 ? this.firstJump : this.oddestIndex;
    return { kind: 'uneven', index, worstSteps: worst / step, usualStep: this.usualStep, step };
  }

  private makeRoom(): void {
    if (this.buffer.length < blockLength) {
      const wider = new Float64Array(Math.min(blockLength, this.buffer.length * 4));
      wider.set(this.buffer);
      this.buffer = wider;
    } else {
      if (this.count === 0) this.noteDigits(64, this.buffered);
      this.weighBuffer();
    }
  }

  private weighBuffer(): void {
    const { buffer, buffered } = this;
    if (buffered === 0) return;
    if (this.count === 0) {
      this.first = buffer[0];
      this.last = buffer[0];
      this.provisionalStep = buffered > 1 ? (buffer[buffered - 1] - buffer[0]) / (buffered - 1) : 0;
      this.usualStep = medianStep(buffer, Math.min(buffered, 18));
    }
    if (this.count > 0) this.noteDigits(4, buffered);
    for (let from = 0; from < buffered; from += groupLength) {
      this.weighGroup(from, Math.min(from + groupLength, buffered));
    }
    this.last = buffer[buffered - 1];
    this.count += buffered;
    this.weighed = buffered;
    this.buffered = 0;
  }

  private weighGroup(from: number, to: number): void {
    const { buffer, first, provisionalStep, usualStep, count } = this;
    const isVeryFirst = count + from === 0;
    const start = isVeryFirst ? 1 : from;
    let previous = start > 0 ? buffer[start - 1] : this.last;
    let lowest = isVeryFirst ? 0 : Number.POSITIVE_INFINITY;
    let highest = isVeryFirst ? 0 : Number.NEGATIVE_INFINITY;
    let shortest = Number.POSITIVE_INFINITY;
    let longest = Number.NEGATIVE_INFINITY;
    for (let i = start; i < to; i++) {
      const stamp = buffer[i];
      const deviation = stamp - (first + (count + i) * provisionalStep);
      const step = stamp - previous;
      if (deviation < lowest) lowest = deviation;
      if (deviation > highest) highest = deviation;
      if (step < shortest) shortest = step;
      if (step > longest) longest = step;
      previous = stamp;
    }
    const worst = start < to ? Math.max(longest - usualStep, usualStep - shortest) : 0;
    this.lowest.push(lowest);
    this.highest.push(highest);
    this.worstStep.push(worst);
    this.largest.push(Math.max(Math.abs(buffer[from]), Math.abs(buffer[to - 1])));
    if (worst > this.oddestStep || worst > jumpShare * usualStep || !(shortest > 0)) this.lookCloser(start, to);
  }

  /** A second look at a group with something odd in it, to find where. */
  private lookCloser(from: number, to: number): void {
    const { buffer, usualStep, count } = this;
    const jump = jumpShare * Math.abs(usualStep);
    for (let i = from; i < to; i++) {
      const step = buffer[i] - (i > 0 ? buffer[i - 1] : this.last);
      const departure = Math.abs(step - usualStep);
      if (departure > jump || !(step > 0)) this.noteJump(count + i, step, departure > jump);
      if (departure > this.oddestStep) {
        this.oddestStep = departure;
        this.oddestIndex = count + i;
      }
    }
  }

  private noteJump(index: number, step: number, jumps: boolean): void {
    if (jumps) this.jumps++;
    if (jumps && this.firstJump < 0) this.firstJump = index;
    if (step === 0) {
      this.repeats++;
      if (this.firstRepeat < 0) this.firstRepeat = index;
    }
    if (step < 0 && this.firstBackward < 0) this.firstBackward = index;
  }

  /** The digits that the file writes, from stamps spread over each block: enough that some do not end in 0. */
  private noteDigits(looks: number, count: number): void {
    const every = Math.max(1, Math.floor(count / looks));
    for (let i = 0; i < count; i += every) {
      if (this.buffer[i] === 0) continue;
      const [mantissa, exponent] = Math.abs(this.buffer[i]).toExponential().split('e');
      const digits = mantissa.length > 1 ? mantissa.length - 1 : 1;
      if (digits > this.mostDigits) this.mostDigits = digits;
      const finest = Number(exponent) - digits + 1;
      if (finest < this.finestExponent) this.finestExponent = finest;
    }
  }

  /** The unit of the last digit of a stamp of this size, whether the file keeps its decimals or its significant digits. */
  private unitAt(stamp: number): number {
    const bySignificance = stamp > 0 ? Math.floor(log10(stamp)) + 1 - this.mostDigits : Number.NEGATIVE_INFINITY;
    return power(10, Math.max(this.finestExponent, bySignificance));
  }

  private groupDeviation(group: number, step: number): number {
    const tilt = step - this.provisionalStep;
    const from = this.startOf(group);
    const to = Math.min(from + groupLength, this.count) - 1;
    const atFrom = from * tilt;
    const atTo = to * tilt;
    return Math.max(this.highest[group] - Math.min(atFrom, atTo), Math.max(atFrom, atTo) - this.lowest[group]);
  }

  /** Every block but the last is a whole number of groups, so groups follow each other without gaps. */
  private startOf(group: number): number {
    return group * groupLength;
  }

  private worstDeviation(step: number): number {
    let worst = 0;
    for (let group = 0; group < this.lowest.length; group++) worst = Math.max(worst, this.groupDeviation(group, step));
    return worst;
  }

  private isRounding(step: number): boolean {
    if (this.jumps > 0 && this.jumps < fewestRoundingJumps) return false;
    if (this.count <= blockLength) this.noteDigits(64, this.weighed);
    const unitAtFirst = this.unitAt(Math.abs(this.first));
    const unitAtLast = this.unitAt(Math.abs(this.last));
    for (let group = 0; group < this.lowest.length; group++) {
      const unit = this.unitAt(this.largest[group]);
      const share = Math.min(1, (this.startOf(group) + groupLength) / this.count);
      const allowed = 0.55 * (unit + unitAtLast * share + unitAtFirst);
      const ownStepAllowed = unit * 1.000001 + Math.abs(step - this.usualStep);
      if (unit > coarsestUnitInSteps * step) return false;
      if (this.groupDeviation(group, step) > allowed || this.worstStep[group] > ownStepAllowed) return false;
    }
    return Math.abs(step - this.usualStep) <= Math.max(unitAtLast, unitAtFirst);
  }
}

function medianStep(stamps: Float64Array, count: number): number {
  if (count < 2) return 0;
  const steps = new Float64Array(count - 1);
  for (let i = 1; i < count; i++) steps[i - 1] = stamps[i] - stamps[i - 1];
  return steps.sort()[(count - 1) >> 1];
}
