/** Beyond these the sum of squares leaves the range of a double. */
const smallSquares = 1e-280;
const largeSquares = 1e300;

/** √(a² + b² + …) of any values, however large or small; the same bits in every runtime, which ECMAScript does not ask of Math.hypot. */
export function hypot(...values: readonly number[]): number {
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += values[i] * values[i];
  if (squares > smallSquares && squares < largeSquares) return Math.sqrt(squares);
  let largest = 0;
  for (let i = 0; i < values.length; i++) largest = Math.max(largest, Math.abs(values[i]));
  if (!(largest > 0 && largest < Number.POSITIVE_INFINITY)) return largest;
  squares = 0;
  for (let i = 0; i < values.length; i++) squares += (values[i] / largest) ** 2;
  return largest * Math.sqrt(squares);
}
