import type { SampleRange } from '../capture/waveform.ts';

/** Local maxima of a record and how far each stands above its surroundings. */
export interface LocalMaximum {
  /** The middle sample of a plateau, the earlier of two. */
  readonly index: number;
  readonly prominence: number;
}

/**
 * Local maxima of at least a height, each with its prominence: its height above the higher of the two lowest points
 * that lie between it and the next higher sample (or the range's end) on either side.
 *
 *             B                 prominence of A: to the saddle beside B,
 *        A   / \                of B: to the lower of its own two feet's maxima
 *       / \_/   \
 *     _/         \__
 *
 * The range's own end samples are never maxima; a plateau counts once. As `scipy.signal.find_peaks` defines both
 * (`height`, `prominence`, no window length), but in one pass with a stack, so that a long record stays linear in time.
 * @param range inside the values
 */
export function localMaxima(
  values: Float64Array,
  range: SampleRange,
  leastHeight: number,
  leastProminence: number,
): LocalMaximum[] {
  const indices: number[] = [];
  const heights: number[] = [];
  /** Lowest value before each maximum, back to the one before (or the range's beginning), and after the last one. */
  const valleys: number[] = [];
  let valley = values[range.first];
  for (let i = range.first + 1; i < range.last; i++) {
    const value = values[i];
    if (value < valley) valley = value;
    if (value < leastHeight || !(values[i - 1] < value)) continue;
    let end = i;
    while (end < range.last && values[end + 1] === value) end += 1;
    if (end < range.last && values[end + 1] < value) {
      indices.push((i + end) >> 1);
      heights.push(value);
      valleys.push(valley);
      valley = value;
    }
    i = end;
  }
  if (range.last > range.first) valley = Math.min(valley, values[range.last]);
  valleys.push(valley);

  const count = indices.length;
  const maxima: LocalMaximum[] = [];
  if (count === 0) return maxima;
  const before = lowestBefore(heights, valleys);
  const after = lowestBefore(heights.toReversed(), valleys.toReversed());
  for (let k = 0; k < count; k++) {
    const prominence = heights[k] - Math.max(before[k], after[count - 1 - k]);
    if (prominence >= leastProminence) maxima.push({ index: indices[k], prominence });
  }
  return maxima;
}

/**
 * For each maximum the lowest value back to the nearest higher one, or to the range's end. `valleys[k]` is the lowest
 * between maximum k − 1 (the end, for 0) and k. A stack holds the maxima that nothing later has overtopped. An end sample
 * that is higher than a maximum needs no place on the stack: it lowers nothing.
 */
function lowestBefore(heights: readonly number[], valleys: readonly number[]): number[] {
  const lowest: number[] = [];
  const stack: number[] = [];
  for (let k = 0; k < heights.length; k++) {
    let low = valleys[k];
    while (stack.length > 0 && heights[stack[stack.length - 1]] <= heights[k]) {
      low = Math.min(low, lowest[stack.pop() as number]);
    }
    lowest.push(low);
    stack.push(k);
  }
  return lowest;
}
