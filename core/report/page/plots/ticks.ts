import { log10, power } from '../../../elementary/exponential.ts';

/** Steps between ticks that a person counts by: 1, 2, 5 and their tens. */
const steps = [1, 2, 5, 10];

export interface Ticks {
  /** The span of the axis, from a tick to a tick. */
  readonly from: number;
  readonly to: number;
  readonly at: readonly number[];
  /** Decimals that tell the ticks apart. */
  readonly decimals: number;
}

/** About `wanted` ticks that hold all of a span. A span of no width is given some. */
export function ticksOver(from: number, to: number, wanted = 5): Ticks {
  const [low, high] = to > from ? [from, to] : [from - (Math.abs(from) || 1) * 0.1, from + (Math.abs(from) || 1) * 0.1];
  const rough = (high - low) / wanted;
  const decade = power(10, Math.floor(log10(rough)));
  const step = (steps.find((candidate) => candidate * decade >= rough * 0.999) ?? 10) * decade;
  const first = Math.floor(low / step + 1e-9);
  const last = Math.ceil(high / step - 1e-9);
  const decimals = Math.max(0, -Math.floor(log10(step) + 1e-9));
  const at = Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toFixed(decimals)) + 0);
  return { from: at[0], to: at[at.length - 1], at, decimals };
}
