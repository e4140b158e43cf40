import type { SampleRange } from '../capture/waveform.ts';
import type { Flag } from '../flag.ts';
import type { Trace } from '../signal/conditioning.ts';
import { doubtsAt, leastSignalToNoiseDb } from '../signal/echo-doubts.ts';
import { signalToNoiseDb } from '../signal/noise.ts';
import { highestIn, type Peak } from '../signal/peak.ts';
import { localMaxima } from '../signal/prominence.ts';
import { ratioFromDb } from '../units/decibel.ts';
import type { Hindrance } from './hindrance.ts';

const fewestSamples = 16;
/** In % FSH: less is nothing, and its square would be lost to the computer’s arithmetic. */
const leastPercent = 1e-9;
/** An echo that stands above this at an end of the gate is cut by it. */
const edgeDb = 20;

export type GatedEcho =
  | { readonly ok: true; readonly range: SampleRange; readonly peak: Peak; readonly flags: readonly Flag[] }
  | {
      readonly ok: false;
      readonly hindrance: Hindrance;
      readonly range: SampleRange | null;
      readonly peak: Peak | null;
      readonly flags: readonly Flag[];
    };

/** The echo in a gate, whole and clear of noise, or what keeps it from being measured. */
export function gateEcho(trace: Trace, gate: { readonly fromUs: number; readonly toUs: number }): GatedEcho {
  const count = trace.envelope.length;
  const first = Math.ceil((gate.fromUs - trace.startUs) / trace.stepUs - 1e-9);
  const last = Math.floor((gate.toUs - trace.startUs) / trace.stepUs + 1e-9);
  const refused = (
    hindrance: Hindrance,
    range: SampleRange | null,
    peak: Peak | null,
    flags: readonly Flag[] = [],
  ): GatedEcho => ({
    ok: false,
    hindrance,
    range,
    peak,
    flags,
  });
  if (first < 0 || last >= count) return refused('outside-record', null, null, ['outside-record']);
  if (last - first + 1 < fewestSamples) return refused('too-few-samples', null, null);
  const range = { first, last };
  const peak = highestIn(trace, range);
  if (peak === null || peak.amplitudePercent < leastPercent)
    return refused('buried-in-noise', range, null, ['no-echo']);
  if (trace.saturated.some((run) => run.first <= last && run.last >= first))
    return refused('saturated', range, peak, ['saturated']);
  const ratioDb = signalToNoiseDb(trace, peak.amplitudePercent);
  if (ratioDb !== null && ratioDb < leastSignalToNoiseDb)
    return refused('buried-in-noise', range, peak, ['low-signal-to-noise']);
  const flags = doubtsAt(trace, peak);
  if (flags.includes('in-dead-zone')) return refused('in-dead-zone', range, peak, flags);
  if (peak.atEdge || isCutBy(trace, range, peak)) return refused('cut-by-gate', range, peak, ['cut-by-gate']);
  const second = secondEcho(trace, range, peak);
  if (second === 'apart') return refused('ambiguous-echo', range, peak, ['ambiguous-echo']);
  return { ok: true, range, peak, flags: second === 'joined' ? [...flags, 'ambiguous-echo'] : flags };
}

/** Whether the echo still stands above a tenth of its peak at an end of the gate: root mean square of the envelope over a twentieth of the gate there, noise taken out. */
function isCutBy(trace: Trace, { first, last }: SampleRange, peak: Peak): boolean {
  const width = Math.max(3, Math.round((last - first + 1) / 40));
  const noisePower = 2 * (trace.noisePercent ?? 0) ** 2;
  const level = ratioFromDb(-edgeDb) * peak.amplitudePercent;
  const standsAt = (from: number): boolean => {
    let square = 0;
    for (let i = from; i < from + width; i++) square += trace.envelope[i] ** 2 / width;
    // The mean of noise power over few samples spreads as widely as itself.
    return square - 2 * noisePower > level ** 2;
  };
  return standsAt(first) || standsAt(last - width + 1);
}

/** The highest other maximum within 6 dB, prominent enough to be none of the noise: `apart` where the envelope falls below a tenth of the peak between both. */
function secondEcho(trace: Trace, range: SampleRange, peak: Peak): 'none' | 'joined' | 'apart' {
  const { envelope, noisePercent } = trace;
  const half = peak.amplitudePercent / 2;
  const others = localMaxima(envelope, range, half, Math.max(half / 2, 6 * (noisePercent ?? 0))).filter(
    ({ index }) => index !== peak.index,
  );
  if (others.length === 0) return 'none';
  const saddle = ratioFromDb(-edgeDb) * peak.amplitudePercent + 2 * (noisePercent ?? 0);
  const isApart = others.some(({ index }) => {
    for (let i = Math.min(index, peak.index); i < Math.max(index, peak.index); i++)
      if (envelope[i] < saddle) return true;
    return false;
  });
  return isApart ? 'apart' : 'joined';
}
