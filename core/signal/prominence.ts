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
      valleys.push(valley);
      valley = value;
    }
    i = end;
  }
  if (range.last > range.first) valley = Math.min(valley, values[range.last]);
  valleys.push(valley);

  const count = indices.length;
  const before = lowestBefore(
    count,
    (k) => values[indices[k]],
    (k) => valleys[k],
  );
  const after = lowestBefore(
    count,
    (k) => values[indices[count - 1 - k]],
    (k) => valleys[count - k],
  );
  const maxima: LocalMaximum[] = [];
  for (let k = 0; k < count; k++) {
    const prominence = values[indices[k]] - Math.max(before[k], after[count - 1 - k]);
    if (prominence >= leastProminence) maxima.push({ index: indices[k], prominence });
  }
  return maxima;
}

/**
 * For each maximum the lowest value back to the nearest higher one, or to the range's end. `valley(k)` is the lowest
 * between maximum k − 1 (the end, for 0) and k. A stack holds the maxima that nothing later has overtopped. An end sample
 * that is higher than a maximum needs no place on the stack: it lowers nothing.
 */
function lowestBefore(count: number, height: (k: number) => number, valley: (k: number) => number): Float64Array {
  const lowest = new Float64Array(count);
  const stack: number[] = [];
  for (let k = 0; k < count; k++) {
    let low = valley(k);
    while (stack.length > 0 && height(stack[stack.length - 1]) <= height(k)) {
      low = Math.min(low, lowest[stack.pop() as number]);
    }
    lowest[k] = low;
    stack.push(k);
  }
  return lowest;
}
