import type { CaptureId } from '../capture/capture.ts';
import { type SampleRange, timeAtUs } from '../capture/waveform.ts';
import { log10 } from '../elementary/exponential.ts';
import type { Flag } from '../flag.ts';
import type { Trace } from '../signal/conditioning.ts';
import { carrierOfTrace } from '../signal/noise-correlation.ts';
import type { Peak } from '../signal/peak.ts';
import type { Quantity } from '../units/quantity.ts';
import type { AmplitudeSpectrum } from './amplitude-spectrum.ts';
import { beamFigures } from './beam.ts';
import { type ProbeFigure, probeFigureNames } from './figures.ts';
import { gateEcho } from './gated-echo.ts';
import type { Hindrance } from './hindrance.ts';
import { type Measured, notMeasurable } from './measured.ts';
import { noiseFormOf } from './noise-form.ts';
import { decayFigures, durationFigures, heightFigures } from './shape-figures.ts';
import { type MultiLobed, spectralFigures } from './spectral-figures.ts';
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
  readonly multiLobed: MultiLobed;
  readonly flags: readonly Flag[];
  /** The samples in the gate. */
  readonly from: SampleRange | null;
  readonly curves: PulseCurves | null;
}

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
    ...durationFigures(trace, range, peak, noise),
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

function curvesOf(trace: Trace, { first, last }: SampleRange, peak: Peak, spectrum: AmplitudeSpectrum): PulseCurves {
  const { amplitude, stepMHz, noiseAmplitudeAt } = spectrum;
  let highest = 0;
  for (const value of amplitude) highest = Math.max(highest, value);
  const toDb = (value: number) => 20 * log10(Math.max(value / highest, 1e-10));
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
