/** What repeated values of one thing tell. */
export interface Sample {
  readonly count: number;
  readonly mean: number;
  /** Standard deviation of one value, √(Σ(x − mean)² / (n − 1)); `null` for fewer than two. */
  readonly sd: number | null;
  /** Of the mean: sd / √n. */
  readonly uMean: number | null;
}

/** `null` for no values. Source: JCGM 100:2008 (GUM), 4.2 (type A). */
export function sampleOf(values: readonly number[]): Sample | null {
  const count = values.length;
  if (count === 0) return null;
  const rough = values.reduce((sum, value) => sum + value, 0) / count;
  const mean = rough + values.reduce((sum, value) => sum + (value - rough), 0) / count;
  if (count < 2) return { count, mean, sd: null, uMean: null };
  const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (count - 1));
  return { count, mean, sd, uMean: sd / Math.sqrt(count) };
}
