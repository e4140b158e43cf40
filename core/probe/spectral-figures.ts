import type { SampleRange } from '../capture/waveform.ts';
import type { Trace } from '../signal/conditioning.ts';
import { type AmplitudeSpectrum, amplitudeSpectrum } from './amplitude-spectrum.ts';
import type { ProbeFigure } from './figures.ts';
import { frequencyLimits, fromLimits, type LimitsOutcome, spectrumPeak } from './frequency-limits.ts';
import type { Hindrance } from './hindrance.ts';
import { type Measured, notMeasurable } from './measured.ts';
import type { NoiseForm } from './noise-form.ts';
import type { SpectrumSettings } from './window.ts';

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

/** More than one pair of crossings of a spectrum at its level; the outermost are taken. */
export interface MultiLobed {
  readonly at6Db: boolean;
  readonly at20Db: boolean;
}

type Spectral = Record<(typeof spectralNames)[number], Measured>;

/** What the spectrum of a gated echo gives; on a rectified record nothing. */
export function spectralFigures(
  trace: Trace,
  range: SampleRange,
  settings: SpectrumSettings,
  noise: NoiseForm | null,
): {
  readonly figures: Spectral;
  readonly multiLobed: MultiLobed;
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
