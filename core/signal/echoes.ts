import { type SampleRange, samplesBetween } from '../capture/waveform.ts';
import type { Flag } from '../flag.ts';
import type { Trace } from './conditioning.ts';
import { flankRise, riseUncertaintyUs } from './crossing.ts';
import { doubtsAt } from './echo-doubts.ts';
import { signalToNoiseDb } from './noise.ts';
import { peakAt } from './peak.ts';
import { localMaxima } from './prominence.ts';

/** One echo of a trace. Times in µs, amplitudes in % FSH of the envelope. */
export interface Echo {
  readonly timeUs: number;
  readonly uTimeUs: number | null;
  /** Where the leading flank rises through a fifth of the echo's own peak; `null` where the flank does not come down that far. */
  readonly onsetUs: number | null;
  /** Where the leading flank rises through the height that was asked for; `null` where none was, or the flank does not come down that far. */
  readonly flank: EchoFlank | null;
  readonly amplitudePercent: number;
  /** Height above the higher of the two saddles beside it. */
  readonly prominencePercent: number;
  /** Peak to root mean square. */
  readonly signalToNoiseDb: number | null;
  readonly flags: readonly Flag[];
  /** The samples the figures were made from. */
  readonly from: SampleRange;
}

/** The crossing of one echo's own leading flank. */
export interface EchoFlank {
  readonly timeUs: number;
  readonly uTimeUs: number | null;
  /** The first sample at or above the height. */
  readonly sample: number;
}

/** A maximum is an echo of its own only if it stands so far above its saddles (or the threshold, where that is lower) … */
const leastProminencePercent = 5;
/** … and above so many standard deviations of the noise: noise alone does that once in 270,000 samples (exp(−12.5)). */
const leastProminenceOfNoise = 5;
/** The onset is read at this part of the echo's peak. */
const onsetPart = 1 / 5;

/**
 * The echoes of a trace, in order of time: maxima of the envelope at or above a height, prominent enough not to be noise
 * or ripple.
 * @param settings `abovePercent` in % FSH; `fromUs`, `toUs` limit the time of the highest sample, both included
 * @param flankPercent the height in % FSH at which each echo's leading flank is timed, too; `null`: at none
 */
export function findEchoes(
  trace: Trace,
  settings: { readonly abovePercent: number; readonly fromUs: number | null; readonly toUs: number | null },
  flankPercent: number | null = null,
): Echo[] {
  const last = trace.envelope.length - 1;
  const wanted = samplesBetween(
    trace,
    settings.fromUs ?? trace.startUs,
    settings.toUs ?? trace.startUs + last * trace.stepUs,
  );
  if (wanted === null) return [];
  const leastProminence = Math.max(
    Math.min(settings.abovePercent, leastProminencePercent),
    leastProminenceOfNoise * (trace.noisePercent ?? 0),
  );
  const echoes: Echo[] = [];
  for (const { index, prominence } of localMaxima(
    trace.envelope,
    { first: 0, last },
    settings.abovePercent,
    leastProminence,
  )) {
    if (index < wanted.first || index > wanted.last) continue;
    const peak = peakAt(trace, index);
    echoes.push({
      timeUs: peak.timeUs,
      uTimeUs: peak.uTimeUs,
      onsetUs: flankRise(trace, index, onsetPart * trace.envelope[index], leastProminence)?.timeUs ?? null,
      flank: flankPercent === null ? null : flankOf(trace, index, flankPercent, leastProminence),
      amplitudePercent: peak.amplitudePercent,
      prominencePercent: prominence,
      signalToNoiseDb: signalToNoiseDb(trace, peak.amplitudePercent),
      flags: doubtsAt(trace, peak),
      from: peak.from,
    });
  }
  return echoes;
}

function flankOf(trace: Trace, index: number, percent: number, ripple: number): EchoFlank | null {
  const rise = flankRise(trace, index, percent, ripple);
  return rise === null ? null : { timeUs: rise.timeUs, uTimeUs: riseUncertaintyUs(trace, rise), sample: rise.upper };
}
