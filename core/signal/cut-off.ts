import type { SampleRange } from '../capture/waveform.ts';
import type { Trace } from './conditioning.ts';

/**
 * From the first to the last sample that screen or converter cut off in one echo: while the envelope stands above half
 * its height at `index`. `null` where none was.
 */
export function cutOffAbout(trace: Pick<Trace, 'saturated' | 'envelope'>, index: number): SampleRange | null {
  const { saturated, envelope } = trace;
  if (saturated.length === 0) return null;
  const level = envelope[index] / 2;
  let first = index;
  while (first > 0 && envelope[first - 1] >= level) first -= 1;
  let last = index;
  while (last + 1 < envelope.length && envelope[last + 1] >= level) last += 1;
  const next = firstEndingFrom(saturated, first);
  if (next === saturated.length || saturated[next].first > last) return null;
  const beyond = firstEndingFrom(saturated, last + 1);
  const end = beyond < saturated.length && saturated[beyond].first <= last ? beyond : beyond - 1;
  return { first: Math.max(first, saturated[next].first), last: Math.min(last, saturated[end].last) };
}

/** Of runs in order, the first that ends at a sample or after it. */
function firstEndingFrom(runs: readonly SampleRange[], sample: number): number {
  let low = 0;
  let high = runs.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (runs[middle].last < sample) low = middle + 1;
    else high = middle;
  }
  return low;
}
