/** A value with its standard uncertainty (k = 1) in the same unit; `null` where the uncertainty is not known. */
export interface Quantity {
  readonly value: number;
  readonly standardUncertainty: number | null;
}
