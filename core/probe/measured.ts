import type { Quantity } from '../units/quantity.ts';
import type { Hindrance } from './hindrance.ts';

/** A figure, or why there is none. */
export type Measured =
  | { readonly quantity: Quantity; readonly hindrance: null }
  | { readonly quantity: null; readonly hindrance: Hindrance };

export function measured(value: number, standardUncertainty: number | null): Measured {
  return { quantity: { value, standardUncertainty }, hindrance: null };
}

export function notMeasurable(hindrance: Hindrance): Measured {
  return { quantity: null, hindrance };
}
