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
  const before = lowestBeside(heights, valleys, 1);
  const after = lowestBeside(heights, valleys, -1);
  for (let k = 0; k < count; k++) {
    const prominence = heights[k] - Math.max(before[k], after[k]);
    if (prominence >= leastProminence) maxima.push({ index: indices[k], prominence });
  }
  return maxima;
}

/**
 * For each maximum the lowest value on the way to the nearest higher one, or to the range's end: back, going through them forward
 * (`step` 1), or ahead, going through them backward (−1). `valleys[k]` is the lowest between maximum k − 1 (the end, for 0)
 * and k. A stack holds the maxima that nothing since has overtopped. An end sample that is higher than a maximum needs no
 * place on the stack: it lowers nothing.
 */
function lowestBeside(heights: readonly number[], valleys: readonly number[], step: 1 | -1): number[] {
  const lowest = heights.slice();
  const stack: number[] = [];
  for (let k = step === 1 ? 0 : heights.length - 1; k >= 0 && k < heights.length; k += step) {
    let low = valleys[step === 1 ? k : k + 1];
    while (stack.length > 0 && heights[stack[stack.length - 1]] <= heights[k]) {
      low = Math.min(low, lowest[stack.pop() as number]);
    }
    lowest[k] = low;
    stack.push(k);
  }
  return lowest;
}
