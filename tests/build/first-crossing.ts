import type { SampleRange } from '../../core/capture/waveform.ts';
import type { Trace } from '../../core/signal/conditioning.ts';
import { firstRise, riseUncertaintyUs } from '../../core/signal/crossing.ts';

/** The first crossing in a range with its uncertainty, as a reading by crossing has both. */
export function firstCrossing(
  trace: Trace,
  range: SampleRange,
  thresholdPercent: number,
): { readonly timeUs: number; readonly uTimeUs: number | null } | null {
  const rise = firstRise(trace, range, thresholdPercent);
  return rise === null ? null : { timeUs: rise.timeUs, uTimeUs: riseUncertaintyUs(trace, rise) };
}
