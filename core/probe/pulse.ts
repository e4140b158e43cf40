import type { CaptureId } from '../capture/capture.ts';
import { type SampleRange, timeAtUs } from '../capture/waveform.ts';
import type { Flag } from '../flag.ts';
import type { Trace } from '../signal/conditioning.ts';
import { doubtsAt, leastSignalToNoiseDb } from '../signal/echo-doubts.ts';
import { signalToNoiseDb } from '../signal/noise.ts';
import { carrierOfTrace, noiseCorrelationOf, spreadOf } from '../signal/noise-correlation.ts';
import { highestIn, type Peak } from '../signal/peak.ts';
import { localMaxima } from '../signal/prominence.ts';
import { carrierRadians } from '../signal/time-uncertainty.ts';
import { ratioFromDb } from '../units/decibel.ts';
import type { Quantity } from '../units/quantity.ts';
import { type AmplitudeSpectrum, amplitudeSpectrum } from './amplitude-spectrum.ts';
import { beamFigures } from './beam.ts';
import { decayRate } from './decay.ts';
import { type EnvelopePeak, envelopeDuration, ringDown } from './envelope-width.ts';
import { type ProbeFigure, probeFigureNames } from './figures.ts';
import { frequencyLimits, fromLimits, type LimitsOutcome, spectrumPeak } from './frequency-limits.ts';
import type { Hindrance } from './hindrance.ts';
import { type Measured, measured, notMeasurable } from './measured.ts';
import { type NoiseForm, noiseFormOf } from './noise-form.ts';
import { oversampled } from './oversampled.ts';
import { halfCycles, halfWavesOf, pulseDuration } from './pulse-duration.ts';
import type { SpectrumSettings } from './window.ts';

/** What is to be measured of the echo in each capture. */
export interface PulseSettings {
  readonly gate: { readonly fromUs: number; readonly toUs: number };
  readonly spectrum: SpectrumSettings;
  readonly elementMm: number | null;
  readonly velocityMPerS: number | null;
  /** Whether the gated waveform and its spectrum are kept beside the figures: for overlays, not for thousands. */
  readonly curves: boolean;
}

/** A gated echo as it is drawn. */
export interface PulseCurves {
  readonly startUs: number;
  readonly stepUs: number;
  /** RF in % FSH, at the capture's own gain. */
  readonly rf: Float64Array;
  readonly envelope: Float64Array;
  /** Level of the amplitude spectrum to its own highest line, from 0 MHz on. */
  readonly spectrumDb: Float64Array;
  readonly spectrumStepMHz: number;
  /** Highest line of the amplitude spectrum, in % FSH · µs. */
  readonly spectrumPeak: number;
  /** Level of the noise's own spectrum to the same; `null` where the noise is not known. */
  readonly noiseDb: Float64Array | null;
  readonly peakUs: number;
}

/** All that one capture tells of its probe. */
export interface CapturePulse {
  readonly captureId: CaptureId;
  readonly figures: Readonly<Record<ProbeFigure, Measured>>;
  /** Why nothing at all could be measured; `null` where something could. */
  readonly hindrance: Hindrance | null;
  readonly peakUs: Quantity | null;
  /** More than one pair of crossings of a spectrum at its level; the outermost are taken. */
  readonly multiLobed: { readonly at6Db: boolean; readonly at20Db: boolean };
  readonly flags: readonly Flag[];
  /** The samples in the gate. */
  readonly from: SampleRange | null;
  readonly curves: PulseCurves | null;
}

const fewestSamples = 16;
/** In % FSH: less is nothing, and its square would be lost to the computer’s arithmetic. */
const leastPercent = 1e-9;
/** An echo that stands above this at an end of the gate is cut by it. */
const edgeDb = 20;

/**
 * Measures the highest echo in a gate, on a trace that went through no band-pass (a filter's band would be taken for the probe's).
 * A figure that the record cannot give has its reason in its place, and no number.
 * @param gainDb of the capture; `null` where it is not stated
 */
export function measurePulse(
  captureId: CaptureId,
  trace: Trace,
  gainDb: number | null,
  settings: PulseSettings,
): CapturePulse {
  const gated = gateEcho(trace, settings.gate);
  if (!gated.ok)
    return {
      captureId,
      figures: allHindered(gated.hindrance),
      hindrance: gated.hindrance,
      peakUs: gated.peak === null ? null : { value: gated.peak.timeUs, standardUncertainty: gated.peak.uTimeUs },
      multiLobed: { at6Db: false, at20Db: false },
      flags: gated.flags,
      from: gated.range,
      curves: null,
    };
  const { range, peak, flags } = gated;
  const noise = noiseFormOf(trace, peak.index);
  const spectral = spectralFigures(trace, range, settings.spectrum, noise);
  const figures = {
    ...spectral.figures,
    ...pulseFigures(trace, range, peak, noise),
    ...decayFigures(trace, range, peak, noise, spectral.figures['centre-frequency-e1065']),
    ...heightFigures(trace, peak, gainDb, noise),
    ...beamFigures(spectral.figures['centre-frequency-e1065'], settings),
  };
  return {
    captureId,
    figures,
    hindrance: null,
    peakUs: { value: peak.timeUs, standardUncertainty: peak.uTimeUs },
    multiLobed: spectral.multiLobed,
    flags,
    from: range,
    curves: settings.curves && spectral.spectrum !== null ? curvesOf(trace, range, peak, spectral.spectrum) : null,
  };
}

export function allHindered(hindrance: Hindrance): Record<ProbeFigure, Measured> {
  return Object.fromEntries(probeFigureNames.map((name) => [name, notMeasurable(hindrance)])) as Record<
    ProbeFigure,
    Measured
  >;
}

type Gated =
  | { readonly ok: true; readonly range: SampleRange; readonly peak: Peak; readonly flags: readonly Flag[] }
  | {
      readonly ok: false;
      readonly hindrance: Hindrance;
      readonly range: SampleRange | null;
      readonly peak: Peak | null;
      readonly flags: readonly Flag[];
    };

/** The echo in a gate, whole and clear of noise, or what keeps it from being measured. */
export function gateEcho(trace: Trace, gate: PulseSettings['gate']): Gated {
  const count = trace.envelope.length;
  const first = Math.ceil((gate.fromUs - trace.startUs) / trace.stepUs - 1e-9);
  const last = Math.floor((gate.toUs - trace.startUs) / trace.stepUs + 1e-9);
  const refused = (
    hindrance: Hindrance,
    range: SampleRange | null,
    peak: Peak | null,
    flags: readonly Flag[] = [],
  ): Gated => ({
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

const spectralNames = [
  'peak-frequency',
  'centre-frequency-e1065',
  'centre-frequency-iso',
  'lower-limit-6-db',
  'upper-limit-6-db',
  'bandwidth-6-db',
  'relative-bandwidth-e1065',
  'relative-bandwidth-iso',
  'lower-limit-20-db',
  'upper-limit-20-db',
  'bandwidth-20-db',
] as const satisfies readonly ProbeFigure[];

type Spectral = Record<(typeof spectralNames)[number], Measured>;

function spectralFigures(
  trace: Trace,
  range: SampleRange,
  settings: SpectrumSettings,
  noise: NoiseForm | null,
): {
  readonly figures: Spectral;
  readonly multiLobed: CapturePulse['multiLobed'];
  readonly spectrum: AmplitudeSpectrum | null;
} {
  const none = (hindrance: Hindrance) => ({
    figures: Object.fromEntries(spectralNames.map((name) => [name, notMeasurable(hindrance)])) as Spectral,
    multiLobed: { at6Db: false, at20Db: false },
    spectrum: null,
  });
  if (trace.rectification !== 'rf') return none('rectified');
  const samples = trace.samples.slice(range.first, range.last + 1);
  const spectrum = amplitudeSpectrum(samples, trace.stepUs, settings, noise);
  const peak = spectrumPeak(spectrum, noise);
  if (peak === null) return none('buried-in-noise');
  const at6 = frequencyLimits(spectrum, peak, 6, noise);
  const at20 = frequencyLimits(spectrum, peak, 20, noise);
  return {
    figures: {
      'peak-frequency': { quantity: peak.frequencyMHz, hindrance: null },
      ...sixDecibelFigures(at6),
      ...twentyDecibelFigures(at20),
    },
    multiLobed: {
      at6Db: at6.ok && at6.limits.isMultiLobed,
      at20Db: at20.ok && at20.limits.isMultiLobed,
    },
    spectrum,
  };
}

/**
 * With lower limit l and upper limit u: (l + u)/2; √(l·u); u − l; 200·(u − l)/(u + l); 100·(u − l)/√(l·u), each with its derivatives by l and u.
 */
function sixDecibelFigures(outcome: LimitsOutcome) {
  const make = (of: (l: number, u: number) => readonly [value: number, byLower: number, byUpper: number]): Measured => {
    if (!outcome.ok) return notMeasurable(outcome.hindrance);
    const { lowerMHz, upperMHz } = outcome.limits;
    return { quantity: fromLimits(outcome.limits, ...of(lowerMHz, upperMHz)), hindrance: null };
  };
  return {
    'lower-limit-6-db': make((l) => [l, 1, 0]),
    'upper-limit-6-db': make((_, u) => [u, 0, 1]),
    'centre-frequency-e1065': make((l, u) => [(l + u) / 2, 0.5, 0.5]),
    'centre-frequency-iso': make((l, u) => [Math.sqrt(l * u), Math.sqrt(u / l) / 2, Math.sqrt(l / u) / 2]),
    'bandwidth-6-db': make((l, u) => [u - l, -1, 1]),
    'relative-bandwidth-e1065': make((l, u) => [
      (200 * (u - l)) / (u + l),
      (-400 * u) / (u + l) ** 2,
      (400 * l) / (u + l) ** 2,
    ]),
    'relative-bandwidth-iso': make((l, u) => [
      (100 * (u - l)) / Math.sqrt(l * u),
      (-50 * (u + l)) / (l * Math.sqrt(l * u)),
      (50 * (u + l)) / (u * Math.sqrt(l * u)),
    ]),
  };
}

function twentyDecibelFigures(outcome: LimitsOutcome) {
  const make = (of: (l: number, u: number) => readonly [number, number, number]): Measured =>
    outcome.ok
      ? {
          quantity: fromLimits(outcome.limits, ...of(outcome.limits.lowerMHz, outcome.limits.upperMHz)),
          hindrance: null,
        }
      : notMeasurable(outcome.hindrance);
  return {
    'lower-limit-20-db': make((l) => [l, 1, 0]),
    'upper-limit-20-db': make((_, u) => [u, 0, 1]),
    'bandwidth-20-db': make((l, u) => [u - l, -1, 1]),
  };
}

function envelopePeakOf(trace: Trace, range: SampleRange, peak: Peak, noise: NoiseForm | null): EnvelopePeak {
  return {
    envelope: trace.envelope,
    range,
    heightPercent: peak.amplitudePercent,
    at: (peak.timeUs - trace.startUs) / trace.stepUs,
    uAtUs: peak.uTimeUs,
    stepUs: trace.stepUs,
    noiseSd: noise === null ? null : noise.sd,
  };
}

const isHalf = ({ rectification }: Trace): boolean => rectification === 'positive' || rectification === 'negative';

function pulseFigures(trace: Trace, range: SampleRange, peak: Peak, noise: NoiseForm | null) {
  const envelopePeak = envelopePeakOf(trace, range, peak, noise);
  const ofEnvelope = isHalf(trace)
    ? { 'duration-iso': notMeasurable('half-wave'), 'ring-down': notMeasurable('half-wave') }
    : { 'duration-iso': envelopeDuration(envelopePeak, 20), 'ring-down': ringDown(envelopePeak, 20) };
  if (trace.rectification !== 'rf') {
    const none = notMeasurable('rectified');
    return {
      'duration-e1065-14-db': none,
      'duration-e1065-20-db': none,
      'duration-e1065-40-db': none,
      'half-cycles': none,
      ...ofEnvelope,
    };
  }
  const waves = halfWavesOf(oversampled(trace.samples, range), trace.stepUs, noise === null ? null : noise.sd);
  return {
    'duration-e1065-14-db': pulseDuration(waves, 14),
    'duration-e1065-20-db': pulseDuration(waves, 20),
    'duration-e1065-40-db': pulseDuration(waves, 40),
    'half-cycles': halfCycles(waves, 20),
    ...ofEnvelope,
  };
}

function decayFigures(trace: Trace, range: SampleRange, peak: Peak, noise: NoiseForm | null, centre: Measured) {
  if (isHalf(trace)) {
    const none = notMeasurable('half-wave');
    return { 'decay-rate': none, 'logarithmic-decrement': none };
  }
  const correlation = noiseCorrelationOf(trace);
  const radians = trace.rectification === 'envelope' ? 0 : carrierRadians(trace, range);
  const measuredSd = correlation === null ? 0 : Math.sqrt(Math.max(0, correlation.real[0]) / 2);
  const level = noise === null || measuredSd === 0 ? 1 : noise.sd / measuredSd;
  const decay = decayRate(
    envelopePeakOf(trace, range, peak, noise),
    correlation === null ? null : (weights) => level * spreadOf(weights, correlation, radians),
  );
  if (!decay.ok) {
    const none = notMeasurable(decay.hindrance);
    return { 'decay-rate': none, 'logarithmic-decrement': none };
  }
  const { value, standardUncertainty: u } = decay.perUs;
  const perNeper = 20 / Math.LN10;
  const decrement = (): Measured => {
    if (centre.quantity === null) return centre;
    const { value: f, standardUncertainty: uF } = centre.quantity;
    const quotient = value / f;
    return measured(quotient, u === null || uF === null ? null : quotient * Math.hypot(u / value, uF / f));
  };
  return {
    'decay-rate': measured(perNeper * value, u === null ? null : perNeper * u),
    'logarithmic-decrement': decrement(),
  };
}

function heightFigures(trace: Trace, peak: Peak, gainDb: number | null, noise: NoiseForm | null) {
  const { amplitudePercent } = peak;
  const u = noise === null ? null : noise.sd;
  const ratio = signalToNoiseDb(trace, amplitudePercent);
  if (isHalf(trace)) {
    const none = notMeasurable('half-wave');
    return { height: none, sensitivity: none, 'signal-to-noise': none };
  }
  const levelDb = 20 * Math.log10(amplitudePercent / 100);
  const uDb = u === null ? null : ((20 / Math.LN10) * u) / amplitudePercent;
  return {
    height: measured(amplitudePercent, u),
    sensitivity: gainDb === null ? notMeasurable('gain-not-stated') : measured(levelDb - gainDb, uDb),
    'signal-to-noise':
      ratio === null || !Number.isFinite(ratio)
        ? notMeasurable('noise-not-known')
        : measured(ratio, noiseRatioUncertainty(trace, uDb)),
  };
}

/** Of a noise made from n samples the standard deviation is known to 1/√(2n) of itself (normal noise; common practice). */
function noiseRatioUncertainty(trace: Trace, uDb: number | null): number | null {
  if (uDb === null) return null;
  const samples = trace.quiet.reduce((sum, { first, last }) => sum + last - first + 1, 0);
  return Math.hypot(uDb, 20 / Math.LN10 / Math.sqrt(2 * Math.max(1, samples)));
}

function curvesOf(trace: Trace, { first, last }: SampleRange, peak: Peak, spectrum: AmplitudeSpectrum): PulseCurves {
  const { amplitude, stepMHz, noiseAmplitudeAt } = spectrum;
  let highest = 0;
  for (const value of amplitude) highest = Math.max(highest, value);
  const toDb = (value: number) => 20 * Math.log10(Math.max(value / highest, 1e-10));
  return {
    startUs: timeAtUs(trace, first),
    stepUs: trace.stepUs,
    rf: carrierOfTrace(trace).slice(first, last + 1),
    envelope: trace.envelope.slice(first, last + 1),
    spectrumDb: amplitude.map(toDb),
    spectrumStepMHz: stepMHz,
    spectrumPeak: highest,
    noiseDb: noiseAmplitudeAt === null ? null : amplitude.map((_, k) => toDb(noiseAmplitudeAt(k * stepMHz))),
    peakUs: peak.timeUs,
  };
}
