import { type DistanceCalibration, pathFromTime } from '../calibration/distance.ts';
import type { CaptureId } from '../capture/capture.ts';
import { type SampleRange, samplesBetween, timeAtUs } from '../capture/waveform.ts';
import { power } from '../elementary/exponential.ts';
import type { Flag } from '../flag.ts';
import { type BeamInPlate, locate } from '../part/sound-path.ts';
import type { Trace } from '../signal/conditioning.ts';
import { firstRise, type Rise, riseUncertaintyUs } from '../signal/crossing.ts';
import { doubtsAt } from '../signal/echo-doubts.ts';
import { signalToNoiseDb } from '../signal/noise.ts';
import { highestIn, type Peak } from '../signal/peak.ts';
import { localMaxima } from '../signal/prominence.ts';
import type { Quantity } from '../units/quantity.ts';
import { type Gate, type GateWindow, gateWindowUs, type Timing } from './gate.ts';

/** What one gate reads in one capture. Without a calibration the lengths are `null`; with no echo so are time and amplitude. */
export interface Reading {
  readonly captureId: CaptureId;
  readonly gate: string;
  /** Of the peak or of the crossing, as the timing has it; `null` too where the crossing is wanted and lies before the gate. */
  readonly timeUs: Quantity | null;
  readonly crossingUs: number | null;
  /** Where the highest point stands, between samples, whichever the timing. */
  readonly peakUs: number | null;
  /** A lower bound where the flag `saturated` or `cut-by-gate` stands. */
  readonly amplitudePercent: number | null;
  /** Standard deviation of the capture's noise; `null` where no part of it is quiet. */
  readonly noisePercent: number | null;
  readonly signalToNoiseDb: number | null;
  readonly soundPathMm: Quantity | null;
  readonly depthMm: Quantity | null;
  /** From the probe's index point. */
  readonly surfaceDistanceMm: Quantity | null;
  readonly leg: number | null;
  /** Below the fitted peak of its series, gain taken out; `null` outside a series, and for a reading whose height is only a lower bound. */
  readonly belowPeakDb: number | null;
  readonly flags: readonly Flag[];
  /** The samples in the gate; `null` where it holds none. */
  readonly from: SampleRange | null;
}

const within6dB = power(10, -6 / 20);

/**
 * Reads one gate in one capture: the highest point of the envelope in the gate, and where the envelope first rises through the threshold.
 *
 *     envelope  |          __
 *               |        .'  '.
 *     threshold |   |---x-------\---|     x crossing, at once the time of a reading by crossing
 *               |   | .'         '. |     the time of a reading by peak is that of the vertex between samples
 *               +------------------------ time
 *
 * The lengths follow from the time by the calibration, depth and surface distance by the beam, each with its uncertainty (those of depth and surface
 * distance only where that of the angle is known). A gate in sound path without a calibration cannot be placed: all is `null` and no flag says
 * so, since no echo was looked for; the caller knows by `gateWindowUs`.
 *
 * Flags beside those of `doubtsAt`:
 * `no-echo`         the highest point stays below the threshold, or the gate holds no sample; time, amplitude and lengths are `null`.
 * `outside-record`  a part of the gate lies outside the recorded time.
 * `cut-by-gate`     the highest sample is the gate's edge and the envelope rises on outside, or a ripple on the flank of a higher echo outside (no dip to half
 *                   its height between them); by crossing also when the flank lies before the gate (no time then).
 * `ambiguous-echo`  a second echo in the gate within 6 dB, told from ripple by a dip to half its height (6 dB, the usual measure of
 *                   resolution, common practice); by crossing also when the threshold is crossed by an earlier echo than the highest.
 */
export function readGate(
  captureId: CaptureId,
  trace: Trace,
  gate: Gate,
  timing: Timing,
  calibration: DistanceCalibration | null,
  beam: BeamInPlate | null,
  uAngleDeg: number | null = null,
): Reading {
  const blank = nothingRead(captureId, gate.name);
  const window = gateWindowUs(gate, calibration);
  if (window === null) return blank;
  const range = samplesBetween(
    { startUs: trace.startUs, stepUs: trace.stepUs, samples: trace.envelope },
    window.fromUs,
    window.toUs,
  );
  const flags: Flag[] = leavesRecord(trace, window) ? ['outside-record'] : [];
  const peak = range === null ? null : highestIn(trace, range);
  if (range === null || peak === null || peak.amplitudePercent < gate.thresholdPercent) {
    return { ...blank, flags: [...flags, 'no-echo'], from: range };
  }
  const flank = flankOf(trace, range, peak, gate.thresholdPercent);
  if (peak.atEdge || isOnOutsideFlank(trace, range, peak) || (timing === 'crossing' && flank === null))
    flags.push('cut-by-gate');
  if (hasSecondEcho(trace, range, peak) || (timing === 'crossing' && flank?.ofEarlierEcho))
    flags.push('ambiguous-echo');
  flags.push(...doubtsAt(trace, peak));
  const timeUs =
    timing === 'peak' ? { value: peak.timeUs, standardUncertainty: peak.uTimeUs } : crossingTimeUs(trace, flank);
  return {
    ...blank,
    timeUs,
    crossingUs: flank?.rise.timeUs ?? null,
    peakUs: peak.timeUs,
    amplitudePercent: peak.amplitudePercent,
    noisePercent: trace.noisePercent,
    signalToNoiseDb: signalToNoiseDb(trace, peak.amplitudePercent),
    ...lengths(timeUs, calibration, beam, uAngleDeg),
    flags,
    from: range,
  };
}

/** What a gate reads where nothing is known yet, or nothing to be read. */
export function nothingRead(captureId: CaptureId, gate: string): Reading {
  return {
    captureId,
    gate,
    timeUs: null,
    crossingUs: null,
    peakUs: null,
    amplitudePercent: null,
    noisePercent: null,
    signalToNoiseDb: null,
    soundPathMm: null,
    depthMm: null,
    surfaceDistanceMm: null,
    leg: null,
    belowPeakDb: null,
    flags: [],
    from: null,
  };
}

/** Whether at least one more sample would have to be recorded to fill the gate. */
function leavesRecord(trace: Trace, { fromUs, toUs }: GateWindow): boolean {
  const almostOneStep = (1 - 1e-9) * trace.stepUs;
  const endUs = timeAtUs(trace, trace.envelope.length - 1);
  return fromUs <= trace.startUs - almostOneStep || toUs >= endUs + almostOneStep;
}

interface Flank {
  readonly rise: Rise;
  /** The envelope falls to half the threshold between the crossing and the highest point. */
  readonly ofEarlierEcho: boolean;
}

/** Where the envelope first rises through the threshold; `null` where the flank that leads to the peak lies before the gate. */
function flankOf(trace: Trace, range: SampleRange, peak: Peak, thresholdPercent: number): Flank | null {
  const rise = firstRise(trace, range, thresholdPercent);
  if (rise === null || rise.timeUs > peak.timeUs) return null;
  const above = Math.min(peak.index, Math.ceil((rise.timeUs - trace.startUs) / trace.stepUs));
  return { rise, ofEarlierEcho: lowestBetween(trace.envelope, above, peak.index) <= thresholdPercent / 2 };
}

function crossingTimeUs(trace: Trace, flank: Flank | null): Quantity | null {
  if (flank === null) return null;
  return { value: flank.rise.timeUs, standardUncertainty: riseUncertaintyUs(trace, flank.rise) };
}

/** Whether a higher sample outside the gate belongs to the same run above half the peak's height. */
function isOnOutsideFlank({ envelope }: Trace, range: SampleRange, { index }: Peak): boolean {
  const top = envelope[index];
  for (let i = index; i >= 0 && envelope[i] > top / 2; i--) if (i < range.first && envelope[i] > top) return true;
  const { length } = envelope;
  for (let i = index; i < length && envelope[i] > top / 2; i++) if (i > range.last && envelope[i] > top) return true;
  return false;
}

function hasSecondEcho({ envelope }: Trace, range: SampleRange, peak: Peak): boolean {
  const least = within6dB * envelope[peak.index];
  return localMaxima(envelope, range, least, least / 2).some(
    ({ index }) => lowestBetween(envelope, index, peak.index) <= envelope[index] / 2,
  );
}

function lowestBetween(envelope: Float64Array, a: number, b: number): number {
  let lowest = envelope[a];
  const last = Math.max(a, b);
  for (let i = Math.min(a, b); i <= last; i++) if (envelope[i] < lowest) lowest = envelope[i];
  return lowest;
}

function lengths(
  timeUs: Quantity | null,
  calibration: DistanceCalibration | null,
  beam: BeamInPlate | null,
  uAngleDeg: number | null,
): Partial<Reading> {
  if (timeUs === null || calibration === null) return {};
  const soundPathMm = pathFromTime(calibration, timeUs.value, timeUs.standardUncertainty);
  const position = beam === null ? null : locate(soundPathMm, beam, uAngleDeg);
  return position === null ? { soundPathMm } : { soundPathMm, ...position };
}
