import type { Rectification } from '../capture/waveform.ts';

/**
 * Half waves of an RF record about 0, as an instrument's rectifier shows them: `full` turns the negative ones up,
 * `positive` keeps the positive ones, `negative` the negative ones turned up.
 * @returns a new record of the same length and unit
 * Source: common practice.
 */
export function rectify(
  samples: Float64Array,
  kind: Extract<Rectification, 'full' | 'positive' | 'negative'>,
): Float64Array {
  if (kind === 'full') return samples.map(Math.abs);
  const sign = kind === 'positive' ? 1 : -1;
  return samples.map((sample) => Math.max(0, sign * sample));
}
