import type { Trace } from './conditioning.ts';

/** Noise makes a top uneven by so many of its standard deviations. A deeper dip is a valley; five set two echoes apart. */
export const unevenByNoise = 4;

/** How uneven noise makes the tops of a trace, in % FSH. */
export function unevennessOf({ noisePercent }: Pick<Trace, 'noisePercent'>): number {
  return unevenByNoise * (noisePercent ?? 0);
}
