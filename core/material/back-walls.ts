import { fitDistance } from '../calibration/distance.ts';
import type { CaptureId } from '../capture/capture.ts';
import type { SampleRange } from '../capture/waveform.ts';
import { alignByCorrelation } from '../compare/align.ts';
import { exp, power } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { type AmplitudeSpectrum, amplitudeSpectrum, spectrumAt } from '../probe/amplitude-spectrum.ts';
import { spectrumPeak } from '../probe/frequency-limits.ts';
import { gateEcho } from '../probe/gated-echo.ts';
import type { Hindrance } from '../probe/hindrance.ts';
import { type NoiseForm, noiseFormOf, noiseVariance } from '../probe/noise-form.ts';
import { defaultSpectrumSettings } from '../probe/window.ts';
import type { Trace } from '../signal/conditioning.ts';
import type { Peak } from '../signal/peak.ts';
import type { Quantity } from '../units/quantity.ts';
import { type Spreading, spreadingDb } from './diffraction.ts';

export interface BackWallSettings {
  readonly thicknessMm: number;
  /** In any order; each multiple once. */
  readonly echoes: readonly { readonly multiple: number; readonly fromUs: number; readonly toUs: number }[];
  readonly spreading: Spreading;
}

/** One echo of the back wall, as it was found. */
export interface BackWallEcho {
  readonly multiple: number;
  readonly timeUs: number;
  /** Of the time at which it lies best on the first echo, by its own noise and its change of shape; `null` where the noise is not known. */
  readonly uTimeUs: number | null;
  readonly amplitudePercent: number;
  /** Likeness to the first echo, −1 to 1; below 0 it arrived upside down and was turned. */
  readonly correlation: number | null;
  /** What is doubtful about taking it for an echo of the same back wall. */
  readonly doubts: readonly BackWallDoubt[];
  readonly from: SampleRange;
}

/** Doubts about an echo of a back wall. */
export const backWallDoubts = {
  unlike:
    'it looks unlike the first echo (correlation below 0.7): another echo may lie in the gate, and its time cannot be trusted',
  'polarity-unclear':
    'it lies on the first echo almost as well turned over (within 0.1): its time may be half a period off',
} as const satisfies Record<string, string>;

export type BackWallDoubt = keyof typeof backWallDoubts;

/** Common practice; both are exceeded by far where the echoes are those of one wall. */
const leastCorrelation = 0.7;
const leastMargin = 0.1;

/** Attenuation against frequency from two echoes of one back wall. */
export interface AttenuationSpectrum {
  readonly near: number;
  readonly far: number;
  readonly frequenciesMHz: Float64Array;
  /** In dB for each mm of travel, with the standard uncertainty by the noise of both echoes (`null` where not known). */
  readonly dbPerMm: Float64Array;
  readonly uDbPerMm: Float64Array | null;
  /** What spreading took off, in dB between the two echoes. */
  readonly spreadingDb: Float64Array;
}

/** All that one capture tells of the material. */
export interface CaptureMaterial {
  readonly captureId: CaptureId;
  readonly echoes: readonly BackWallEcho[];
  /** Why an echo could not be taken, by its multiple. */
  readonly hindrances: readonly { readonly multiple: number; readonly hindrance: Hindrance }[];
  /** Its uncertainty is that of the timing alone. */
  readonly velocityMPerS: Quantity | null;
  /** Of nearest and farthest echo; `null` where `withoutAttenuation` says why. */
  readonly attenuation: AttenuationSpectrum | null;
  readonly withoutAttenuation: string | null;
}

/** Both spectra must stand so far above those of their noise for their ratio to mean something: 20 dB leave 0.6 dB of each. */
const clearOfNoiseDb = 20;
/** … and within so many dB of their own peaks: farther down a window’s own side lobes speak. */
const withinPeakDb = 20;

interface Found {
  readonly multiple: number;
  readonly range: SampleRange;
  readonly peak: Peak;
}

/**
 * Velocity and attenuation from the echoes of one back wall in one capture. Times are those at which each later echo lies best on the first (cross-correlation,
 * turned over where that lies better), so that a shift of the zero cancels; velocity from the line of time on distance.
 * Source: ASTM E494, velocity from successive back echoes at a known thickness (manner from memory); attenuation by spectral ratio, common practice.
 */
export function measureBackWalls(captureId: CaptureId, trace: Trace, settings: BackWallSettings): CaptureMaterial {
  const found: Found[] = [];
  const hindrances: { multiple: number; hindrance: Hindrance }[] = [];
  for (const { multiple, ...gate } of [...settings.echoes].sort((a, b) => a.multiple - b.multiple)) {
    const gated = gateEcho(trace, gate);
    if (trace.rectification !== 'rf') hindrances.push({ multiple, hindrance: 'rectified' });
    else if (gated.ok) found.push({ multiple, range: gated.range, peak: gated.peak });
    else hindrances.push({ multiple, hindrance: gated.hindrance });
  }
  const echoes = found.length === 0 ? [] : timedEchoes(trace, found);
  const velocityMPerS = velocityOf(echoes, settings.thicknessMm);
  const none = (withoutAttenuation: string) => ({ attenuation: null, withoutAttenuation });
  const attenuation =
    found.length < 2 || velocityMPerS === null
      ? none('Two back-wall echoes are needed, whole and clear of noise.')
      : attenuationOf(trace, found[0], found[found.length - 1], settings, velocityMPerS.value);
  return { captureId, echoes, hindrances, velocityMPerS, ...attenuation };
}

function timedEchoes(trace: Trace, found: readonly Found[]): BackWallEcho[] {
  const waveformOf = ({ range }: Found, sign: 1 | -1) => ({
    startUs: trace.startUs + range.first * trace.stepUs,
    stepUs: trace.stepUs,
    samples: trace.samples.slice(range.first, range.last + 1).map((sample) => sign * sample),
  });
  const first = waveformOf(found[0], 1);
  return found.flatMap((echo, i): BackWallEcho[] => {
    const { multiple, range, peak } = echo;
    const at = {
      multiple,
      amplitudePercent: peak.amplitudePercent,
      from: range,
      uTimeUs: correlationTimeUncertainty(trace, echo),
    };
    if (i === 0) return [{ ...at, timeUs: peak.timeUs, correlation: null, doubts: [] }];
    const upright = alignByCorrelation(first, waveformOf(echo, 1));
    const turned = alignByCorrelation(first, waveformOf(echo, -1));
    if (upright === null || turned === null) return [];
    const isTurned = (turned.correlation ?? 0) > (upright.correlation ?? 0);
    const better = isTurned ? turned : upright;
    const doubts: BackWallDoubt[] = [];
    if ((better.correlation ?? 0) < leastCorrelation) doubts.push('unlike');
    if (Math.abs((turned.correlation ?? 0) - (upright.correlation ?? 0)) < leastMargin) doubts.push('polarity-unclear');
    const uTimeUs = at.uTimeUs === null ? null : hypot(at.uTimeUs, movedByShape(found[0].peak, peak, better.shiftUs));
    return [
      {
        ...at,
        uTimeUs,
        timeUs: found[0].peak.timeUs + better.shiftUs,
        correlation: (isTurned ? -1 : 1) * (better.correlation ?? 0),
        doubts,
      },
    ];
  });
}

/** A difference of both ways of timing counts when it is more than so many of its standard uncertainties. */
const clearDifference = 2;

/**
 * An echo that changes its shape on its way has no one delay: its waves and its envelope arrive apart. By how much they do, beyond what the noise of the
 * envelope's peaks explains, is the half-width of a rectangle (JCGM 100:2008, 4.3.7); that it stands for the change of shape is common practice.
 */
function movedByShape(first: Peak, other: Peak, shiftUs: number): number {
  const apart = Math.abs(other.timeUs - first.timeUs - shiftUs);
  const explained = clearDifference * hypot(first.uTimeUs ?? 0, other.uTimeUs ?? 0);
  return apart > explained ? apart / Math.sqrt(3) : 0;
}

/**
 * How noise moves the time at which an echo lies best on its own shape: Σ ṡ·n / Σ ṡ², so for white noise σ/√(Σ ṡ²), the Cramér–Rao bound.
 * Source: Kay 1993, ch. 3 (from memory).
 */
function correlationTimeUncertainty(trace: Trace, { range, peak }: Found): number | null {
  const noise = noiseFormOf(trace, peak.index);
  if (noise === null) return null;
  const { samples, stepUs } = trace;
  const slope = new Float64Array(range.last - range.first + 1);
  let squares = 0;
  for (let k = 0; k < slope.length; k++) {
    const i = range.first + k;
    const before = samples[Math.max(0, i - 1)];
    const after = samples[Math.min(samples.length - 1, i + 1)];
    slope[k] = (after - before) / (2 * stepUs);
    squares += slope[k] * slope[k];
  }
  // The noise of the record stands in the slopes too, and would make the echo look steeper.
  const ofNoise = (slope.length * noise.sd ** 2) / (2 * stepUs * stepUs);
  const ofEcho = Math.max(squares - ofNoise, squares / 10);
  return (
    Math.sqrt(
      noiseVariance(
        noise,
        slope.map((value) => value / squares),
      ),
    ) *
    (squares / ofEcho)
  );
}

function velocityOf(echoes: readonly BackWallEcho[], thicknessMm: number): Quantity | null {
  if (echoes.length < 2) return null;
  const fit = fitDistance(
    echoes.map(({ multiple, timeUs, uTimeUs, from }) => ({
      distanceMm: multiple * thicknessMm,
      uDistanceMm: 0,
      timeUs,
      uTimeUs,
      amplitudePercent: null,
      captureId: null,
      from,
      flags: [],
    })),
  );
  return fit.ok ? fit.value.velocityMPerS : null;
}

interface EchoSpectrum {
  readonly spectrum: AmplitudeSpectrum;
  readonly noise: NoiseForm | null;
}

/**
 * α(f) = [20·log10(A_near/A_far) − spreading] / extra travel, where both spectra stand clear of their noise. What is lost at both surfaces is in it: apparent attenuation.
 */
function attenuationOf(
  trace: Trace,
  near: Found,
  far: Found,
  { thicknessMm, spreading }: BackWallSettings,
  velocityMPerS: number,
): Pick<CaptureMaterial, 'attenuation' | 'withoutAttenuation'> {
  const spectrumOf = ({ range, peak }: Found): EchoSpectrum => {
    const noise = noiseFormOf(trace, peak.index);
    const samples = trace.samples.slice(range.first, range.last + 1);
    return { noise, spectrum: amplitudeSpectrum(samples, trace.stepUs, defaultSpectrumSettings, noise) };
  };
  const a = spectrumOf(near);
  const b = spectrumOf(far);
  const step = Math.max(a.spectrum.resolutionMHz, b.spectrum.resolutionMHz) / 4;
  const band = commonBand(a, b, step, trace.stepUs);
  if (band === null)
    return {
      attenuation: null,
      withoutAttenuation: `The spectra of both echoes nowhere stand ${clearOfNoiseDb} dB above those of their noise: there is no band in which their ratio means anything. Average more captures.`,
    };
  const travelMm = 2 * thicknessMm * (far.multiple - near.multiple);
  const count = band.length;
  const taken = new Float64Array(count);
  const dbPerMm = new Float64Array(count);
  const u = new Float64Array(count);
  const perNeper = 20 / Math.LN10;
  for (const [i, frequencyMHz] of band.entries()) {
    const radians = 2 * Math.PI * frequencyMHz * trace.stepUs;
    const atNear = spectrumAt(a.spectrum, radians);
    const atFar = spectrumAt(b.spectrum, radians);
    const paths = [near.multiple * thicknessMm, far.multiple * thicknessMm] as const;
    taken[i] = spreadingDb(spreading, ...paths, frequencyMHz, velocityMPerS);
    dbPerMm[i] = (perNeper * (atNear.logarithm - atFar.logarithm) - taken[i]) / travelMm;
    if (a.noise === null || b.noise === null) continue;
    const variance = noiseVariance(a.noise, atNear.influence()) + noiseVariance(b.noise, atFar.influence());
    u[i] = (perNeper * Math.sqrt(variance)) / travelMm;
  }
  return {
    attenuation: {
      near: near.multiple,
      far: far.multiple,
      frequenciesMHz: band,
      dbPerMm,
      uDbPerMm: a.noise === null || b.noise === null ? null : u,
      spreadingDb: taken,
    },
    withoutAttenuation: null,
  };
}

/** Lines at whole multiples of `step` about the far echo’s peak, unbroken, where both spectra count. */
function commonBand(a: EchoSpectrum, b: EchoSpectrum, step: number, stepUs: number): Float64Array | null {
  const tests = [a, b].map(({ spectrum, noise }) => {
    const peak = spectrumPeak(spectrum, noise);
    return (frequencyMHz: number): boolean => {
      if (peak === null) return false;
      const level = exp(spectrumAt(spectrum, 2 * Math.PI * frequencyMHz * stepUs).logarithm);
      const ofNoise = (spectrum.noiseAmplitudeAt?.(frequencyMHz) ?? 0) / stepUs;
      return (
        level >= exp(peak.at.logarithm) * power(10, -withinPeakDb / 20) &&
        level >= ofNoise * power(10, clearOfNoiseDb / 20)
      );
    };
  });
  const counts = (k: number): boolean => k > 0 && k * step < 0.5 / stepUs && tests.every((test) => test(k * step));
  const peak = spectrumPeak(b.spectrum, null);
  if (peak === null) return null;
  const middle = Math.round(peak.frequencyMHz.value / step);
  if (!counts(middle)) return null;
  let first = middle;
  while (counts(first - 1)) first -= 1;
  let last = middle;
  while (counts(last + 1)) last += 1;
  return Float64Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step);
}
