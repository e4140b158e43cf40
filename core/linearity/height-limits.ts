import type { Limits } from '../check/verdict.ts';
import type { TableStep } from './rule.ts';

/** What a step of a table allows of the deviation from its target, in % FSH; an end that is not limited is infinite; `null` where neither is. */
export function heightLimits({ targetPercent, atLeastPercent, atMostPercent }: TableStep): Limits | null {
  if (atLeastPercent === null && atMostPercent === null) return null;
  return {
    lower: atLeastPercent === null ? Number.NEGATIVE_INFINITY : atLeastPercent - targetPercent,
    upper: atMostPercent === null ? Number.POSITIVE_INFINITY : atMostPercent - targetPercent,
  };
}
