/**
 * The value that would stand at `rank` if the first `count` values were sorted. Reorders the values.
 * Source: Hoare 1961, "Find" (quickselect), with the middle value as the pivot.
 */
export function selectInto(values: Float64Array, count: number, rank: number): number {
  let left = 0;
  let right = count - 1;
  while (left < right) {
    const pivot = values[(left + right) >>> 1];
    let i = left;
    let j = right;
    while (i <= j) {
      while (values[i] < pivot) i += 1;
      while (values[j] > pivot) j -= 1;
      if (i <= j) {
        const swapped = values[i];
        values[i] = values[j];
        values[j] = swapped;
        i += 1;
        j -= 1;
      }
    }
    if (rank <= j) right = j;
    else if (rank >= i) left = i;
    else break;
  }
  return values[rank];
}

/** Median of the first `count` values (the upper one of two middle values). Reorders the values. */
export function medianInto(values: Float64Array, count: number): number {
  return selectInto(values, count, count >>> 1);
}
