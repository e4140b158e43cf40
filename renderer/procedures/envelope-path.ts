/** The outline of a trace between its lowest and its highest in each column, as a path in a box of `columns` × `height`, highest value up. */
export function outlinePath(minima: ArrayLike<number>, maxima: ArrayLike<number>, height: number): string {
  const count = Math.min(minima.length, maxima.length);
  if (count === 0) return '';
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < count; i++) {
    low = Math.min(low, minima[i] ?? low);
    high = Math.max(high, maxima[i] ?? high);
  }
  const span = high > low ? high - low : 1;
  const y = (value: number | undefined) => (height * (1 - ((value ?? low) - low) / span)).toFixed(2);
  const upper = Array.from({ length: count }, (_, i) => `${i},${y(maxima[i])}`);
  const lower = Array.from({ length: count }, (_, i) => `${count - 1 - i},${y(minima[count - 1 - i])}`);
  return `M${[...upper, ...lower].join('L')}Z`;
}
