/** A value with its standard uncertainty (k = 1) in the same unit; `null` where the uncertainty is not known. */
export interface Quantity {
  readonly value: number;
  readonly standardUncertainty: number | null;
}

/** One input's share in a result: the partial derivative by that input, and the input's standard uncertainty. */
export interface Contribution {
  readonly sensitivity: number;
  readonly standardUncertainty: number | null;
}

/**
 * Combines independent contributions: u² = Σ (c·u)² (JCGM 100:2008 (GUM), 5.1.2).
 * An unknown uncertainty that matters (sensitivity not 0) makes the result's unknown.
 */
export function propagate(value: number, contributions: readonly Contribution[]): Quantity {
  let variance = 0;
  for (const { sensitivity, standardUncertainty } of contributions) {
    if (sensitivity === 0) continue;
    if (standardUncertainty === null) return { value, standardUncertainty: null };
    variance += (sensitivity * standardUncertainty) ** 2;
  }
  return { value, standardUncertainty: Math.sqrt(variance) };
}

/** Standard uncertainty of a value known only to lie within ± half-width: a/√3 (GUM 4.3.7, rectangular distribution). */
export function rectangularUncertainty(halfWidth: number): number {
  return halfWidth / Math.sqrt(3);
}

/** The normal law's factor for 95 %: half of the remaining 5 % lies beyond it on each side. */
export const normalFactor95 = 1.959963984540054;
