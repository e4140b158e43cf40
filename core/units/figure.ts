/** A number as it stands in a sentence: rounded to so many decimals, without trailing zeros. `figure(77.5, 2)` is "77.5". */
export function figure(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)));
}
