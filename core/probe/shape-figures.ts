import type { SampleRange } from '../capture/waveform.ts';
import { log10 } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import type { Trace } from '../signal/conditioning.ts';
import { signalToNoiseDb } from '../signal/noise.ts';
import { noiseCorrelationOf, spreadOf } from '../signal/noise-correlation.ts';
import type { Peak } from '../signal/peak.ts';
import { carrierRadians } from '../signal/time-uncertainty.ts';
import { decayRate } from './decay.ts';
import { type EnvelopePeak, envelopeDuration, ringDown } from './envelope-width.ts';
import { type Measured, measured, notMeasurable } from './measured.ts';
import type { NoiseForm } from './noise-form.ts';
import { oversampled } from './oversampled.ts';
import { halfCycles, halfWavesOf, pulseDuration } from './pulse-duration.ts';

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

/** Durations, ring-down and half-cycles. */
export function durationFigures(trace: Trace, range: SampleRange, peak: Peak, noise: NoiseForm | null) {
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

/** How the echo dies away behind its peak. */
export function decayFigures(trace: Trace, range: SampleRange, peak: Peak, noise: NoiseForm | null, centre: Measured) {
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
    return measured(quotient, u === null || uF === null ? null : quotient * hypot(u / value, uF / f));
  };
  return {
    'decay-rate': measured(perNeper * value, u === null ? null : perNeper * u),
    'logarithmic-decrement': decrement(),
  };
}

/** How high the echo stands: on the screen, with the gain taken out, over the noise. */
export function heightFigures(trace: Trace, peak: Peak, gainDb: number | null, noise: NoiseForm | null) {
  const { amplitudePercent } = peak;
  const u = noise === null ? null : noise.sd;
  const ratio = signalToNoiseDb(trace, amplitudePercent);
  if (isHalf(trace)) {
    const none = notMeasurable('half-wave');
    return { height: none, sensitivity: none, 'signal-to-noise': none };
  }
  const levelDb = 20 * log10(amplitudePercent / 100);
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
  return hypot(uDb, 20 / Math.LN10 / Math.sqrt(2 * Math.max(1, samples)));
}
