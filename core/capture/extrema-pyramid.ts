import { invariant } from '../invariant.ts';
import type { SampleRange } from './waveform.ts';

/** Samples in a block of the lowest level; below that a plain scan is as fast. */
const lowestBlock = 64;
/** Blocks of one level in a block of the next. */
const blocksPerBlock = 8;

/** Smallest and largest of a run of samples, in the samples' unit. */
export interface Extrema {
  readonly minimum: number;
  readonly maximum: number;
}

/**
 * The smallest and largest sample of every block of 64, 512, 4096 … samples, so that a drawing of any part of the record
 * looks at a few blocks for each column of pixels and still shows the highest single sample. Takes 3.6 % of the samples' own memory.
 */
export interface ExtremaPyramid {
  readonly samples: Float64Array;
  readonly levels: readonly Level[];
}

interface Level {
  readonly block: number;
  readonly minima: Float64Array;
  readonly maxima: Float64Array;
}

export function extremaPyramid(samples: Float64Array): ExtremaPyramid {
  const levels: Level[] = [];
  let below: Level = { block: 1, minima: samples, maxima: samples };
  for (let merge = lowestBlock; below.minima.length > merge; merge = blocksPerBlock) {
    below = merged(below, merge);
    levels.push(below);
  }
  return { samples, levels };
}

function merged(below: Level, merge: number): Level {
  const count = Math.ceil(below.minima.length / merge);
  const minima = new Float64Array(count);
  const maxima = new Float64Array(count);
  for (let b = 0; b < count; b++) {
    const end = Math.min(below.minima.length, (b + 1) * merge);
    let minimum = Number.POSITIVE_INFINITY;
    let maximum = Number.NEGATIVE_INFINITY;
    for (let i = b * merge; i < end; i++) {
      if (below.minima[i]! < minimum) minimum = below.minima[i]!;
      if (below.maxima[i]! > maximum) maximum = below.maxima[i]!;
    }
    minima[b] = minimum;
    maxima[b] = maximum;
  }
  return { block: below.block * merge, minima, maxima };
}

/** Exactly the smallest and largest of the samples in the range, both ends included. */
export function extremaIn(pyramid: ExtremaPyramid, range: SampleRange): Extrema {
  const { samples, levels } = pyramid;
  invariant(range.first >= 0 && range.first <= range.last && range.last < samples.length, 'a range outside the record');
  let minimum = Number.POSITIVE_INFINITY;
  let maximum = Number.NEGATIVE_INFINITY;
  for (let i = range.first; i <= range.last; ) {
    let from: { readonly minima: Float64Array; readonly maxima: Float64Array; readonly block: number } | null = null;
    for (const level of levels) {
      if (i % level.block !== 0 || i + level.block - 1 > range.last) break;
      from = level;
    }
    const block = from?.block ?? 1;
    const low = from === null ? samples[i]! : from.minima[i / block]!;
    const high = from === null ? samples[i]! : from.maxima[i / block]!;
    if (low < minimum) minimum = low;
    if (high > maximum) maximum = high;
    i += block;
  }
  return { minimum, maximum };
}

/** What to draw: for each column of pixels the span that the trace covers in it. Columns before `firstColumn` and after the last hold no record. */
export interface ColumnSpans {
  readonly firstColumn: number;
  readonly minima: Float64Array;
  readonly maxima: Float64Array;
}

/**
 * The span of amplitude that the trace, drawn as a straight line from sample to sample, covers in each of `columns` equal columns
 * between two positions on the record (in samples, fractions allowed; they may reach beyond it).
 * The line's height at both edges of a column belongs to the column, so neighbours always meet and no stroke has a gap.
 *
 *       *                     position   10   11   12   13
 *      / \        *           columns     |  0  |  1  |  2
 *     /   \______/
 */
export function columnSpans(pyramid: ExtremaPyramid, from: number, to: number, columns: number): ColumnSpans {
  invariant(to > from && columns >= 1 && Number.isInteger(columns), 'columns between positions in order');
  const end = pyramid.samples.length - 1;
  const width = (to - from) / columns;
  const firstColumn = clamp(Math.floor(-from / width), 0, columns);
  const lastColumn = clamp(Math.ceil((end - from) / width) - 1, -1, columns - 1);
  const count = end < 0 ? 0 : Math.max(0, lastColumn - firstColumn + 1);
  const minima = new Float64Array(count);
  const maxima = new Float64Array(count);
  for (let c = 0; c < count; c++) {
    const left = clamp(from + (firstColumn + c) * width, 0, end);
    const right = clamp(from + (firstColumn + c + 1) * width, 0, end);
    const span = spanBetween(pyramid, left, right);
    minima[c] = span.minimum;
    maxima[c] = span.maximum;
  }
  return { firstColumn, minima, maxima };
}

function spanBetween(pyramid: ExtremaPyramid, left: number, right: number): Extrema {
  const atLeft = heightAt(pyramid.samples, left);
  const atRight = heightAt(pyramid.samples, right);
  const first = Math.ceil(left);
  const last = Math.floor(right);
  const inside = first <= last ? extremaIn(pyramid, { first, last }) : { minimum: atLeft, maximum: atLeft };
  return {
    minimum: Math.min(inside.minimum, atLeft, atRight),
    maximum: Math.max(inside.maximum, atLeft, atRight),
  };
}

/** The height of the straight line between the two samples beside a position. */
function heightAt(samples: Float64Array, position: number): number {
  const before = Math.floor(position);
  const share = position - before;
  return share === 0 ? samples[before]! : samples[before]! * (1 - share) + samples[before + 1]! * share;
}

function clamp(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}
