import { log10, power } from '../elementary/exponential.ts';
import type { Flag } from '../flag.ts';
import { beforeBandPass } from './band-effect.ts';
import type { Trace } from './conditioning.ts';
import { cutOffAbout } from './cut-off.ts';
import { isTooShortToFillIn } from './half-wave.ts';
import { signalToNoiseDb } from './noise.ts';
import type { Peak } from './peak.ts';

/**
 * An echo can be told from noise when it is twice as high as the noise's own peaks (6 dB, common practice), those taken
 * as three standard deviations: 20·log10(6).
 */
export const leastSignalToNoiseDb = 20 * log10(6);

/**
 * What is doubtful about a peak of a trace, wherever it is used: an echo, or a gate's reading.
 *
 * - `saturated`: the screen or the converter cut off samples while the envelope stood above half the peak,
 * - `low-signal-to-noise`: less than 15.6 dB, peak to root mean square,
 * - `in-dead-zone`: the main bang still rang at that time,
 * - `cut-by-band`: the band-pass took more than 1 dB of the echo's height, beyond what noise explains that it took out
 *   (a crest that is cut off has overtones, and its height says nothing anyway),
 * - `half-wave`: the record shows half waves, and the echo is too short for the other half to be filled in.
 */
export function doubtsAt(trace: Trace, peak: Pick<Peak, 'index' | 'timeUs' | 'amplitudePercent'>): Flag[] {
  const flags: Flag[] = [];
  const isSaturated = cutOffAbout(trace, peak.index) !== null;
  if (isSaturated) flags.push('saturated');
  const ratioDb = signalToNoiseDb(trace, peak.amplitudePercent);
  if (ratioDb !== null && ratioDb < leastSignalToNoiseDb) flags.push('low-signal-to-noise');
  if (trace.deadZoneEndUs !== null && peak.timeUs < trace.deadZoneEndUs) flags.push('in-dead-zone');
  if (!isSaturated && isCutByBand(trace, peak.index)) flags.push('cut-by-band');
  if (isTooShortToFillIn(trace, peak.index)) flags.push('half-wave');
  return flags;
}

/** Heights count as equal within 1 dB (common practice). */
const leastLoss = power(10, 1 / 20);

function isCutByBand(trace: Trace, index: number): boolean {
  const before = beforeBandPass(trace, index);
  if (before === null) return false;
  const { envelope, highest, filteredPercent, noisePercent } = before;
  return envelope[highest] - 3 * noisePercent > leastLoss * filteredPercent;
}
