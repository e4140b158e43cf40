import type { Capture } from '../../core/capture/capture.ts';
import type { AmplitudeUnit, Waveform } from '../../core/capture/waveform.ts';
import { type ConditioningRecipe, condition, defaultRecipe, type Trace } from '../../core/signal/conditioning.ts';
import { normal } from './random.ts';

/** A tone burst with a Gaussian envelope: A · exp(−(t − t0)² / 2σ²) · cos(2π f (t − t0) + phase). */
export interface Burst {
  readonly timeUs: number;
  readonly amplitudePercent: number;
  readonly frequencyMHz?: number;
  /** Bandwidth at half amplitude as a share of the frequency; σ = 0.37478125 / (share · f). */
  readonly bandwidthPercent?: number;
  readonly phaseDeg?: number;
}

/**
 * A trace described in words, in % of full screen height. Each word gives a new description; nothing is made until one of the last three is called.
 *
 *     trace().burst({ timeUs: 61.5, amplitudePercent: 80 }).noise(0.3).capture()
 *
 * Order of the physics, whatever the order of the words: bursts, main bang, noise, then the screen or converter (clipping, then quantisation), then
 * rectification, then the amplitude unit.
 */
export interface TraceInWords {
  burst(burst: Burst): TraceInWords;
  /** A ringing main bang from time 0, clipped by `clippedAt` or not, that decays by a factor e in `decayUs`. */
  mainBang(bang: { amplitudePercent: number; decayUs: number; frequencyMHz?: number }): TraceInWords;
  /** White noise of this standard deviation in % FSH; the seed makes it repeatable. */
  noise(percent: number, seed?: number): TraceInWords;
  /** First sample in µs and number of samples (0 µs and 10,000 samples unless said). */
  record(startUs: number, samples: number): TraceInWords;
  /** Sampling rate (100 MHz unless said). */
  sampledAt(rateMHz: number): TraceInWords;
  /** Nothing exceeds ± this height. */
  clippedAt(percent: number): TraceInWords;
  /** A converter of this many bits over ± 100 %. */
  quantised(bits: number): TraceInWords;
  rectified(how: 'full' | 'positive' | 'negative'): TraceInWords;
  /** Written in another unit, with the amplitude that is 100 %. */
  in(unit: AmplitudeUnit, fullScreen: number): TraceInWords;
  at(positionMm: number): TraceInWords;
  gain(gainDb: number): TraceInWords;
  takenAt(instant: string): TraceInWords;
  named(file: string): TraceInWords;

  waveform(): Waveform;
  capture(): Capture;
  /** Conditioned by the project's own conditioning. */
  conditioned(recipe?: ConditioningRecipe): Trace;
}

interface Description {
  readonly bursts: readonly Burst[];
  readonly bang: { readonly amplitudePercent: number; readonly decayUs: number; readonly frequencyMHz?: number } | null;
  readonly noisePercent: number;
  readonly seed: number;
  readonly startUs: number;
  readonly count: number;
  readonly rateMHz: number;
  readonly clipPercent: number | null;
  readonly bits: number | null;
  readonly rectification: Waveform['rectification'];
  readonly unit: AmplitudeUnit;
  readonly fullScreen: number;
  readonly positionMm: number | null;
  readonly gainDb: number | null;
  readonly takenAt: string | null;
  readonly file: string;
}

export function trace(): TraceInWords {
  return inWords({
    bursts: [],
    bang: null,
    noisePercent: 0,
    seed: 1,
    startUs: 0,
    count: 10_000,
    rateMHz: 100,
    clipPercent: null,
    bits: null,
    rectification: 'rf',
    unit: 'percent',
    fullScreen: 100,
    positionMm: null,
    gainDb: null,
    takenAt: null,
    file: 'built.csv',
  });
}

function inWords(d: Description): TraceInWords {
  return {
    burst: (burst) => inWords({ ...d, bursts: [...d.bursts, burst] }),
    mainBang: (bang) => inWords({ ...d, bang }),
    noise: (noisePercent, seed = d.seed) => inWords({ ...d, noisePercent, seed }),
    record: (startUs, count) => inWords({ ...d, startUs, count }),
    sampledAt: (rateMHz) => inWords({ ...d, rateMHz }),
    clippedAt: (clipPercent) => inWords({ ...d, clipPercent }),
    quantised: (bits) => inWords({ ...d, bits }),
    rectified: (rectification) => inWords({ ...d, rectification }),
    in: (unit, fullScreen) => inWords({ ...d, unit, fullScreen }),
    at: (positionMm) => inWords({ ...d, positionMm }),
    gain: (gainDb) => inWords({ ...d, gainDb }),
    takenAt: (takenAt) => inWords({ ...d, takenAt }),
    named: (file) => inWords({ ...d, file }),
    waveform: () => waveformOf(d),
    capture: () => captureOf(d),
    conditioned(recipe = defaultRecipe) {
      const outcome = condition(waveformOf(d), recipe);
      if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.sentence).join('; '));
      return outcome.value;
    },
  };
}

function waveformOf(d: Description): Waveform {
  const stepUs = 1 / d.rateMHz;
  const samples = new Float64Array(d.count);
  for (const burst of d.bursts) addBurst(samples, d.startUs, stepUs, burst);
  if (d.bang !== null) addBang(samples, d.startUs, stepUs, d.bang);
  const random = normal(d.seed);
  const scale = d.fullScreen / 100;
  for (let i = 0; i < samples.length; i++) {
    if (d.noisePercent > 0) samples[i] += d.noisePercent * random();
    samples[i] = scale * rectified(throughScreen(samples[i], d), d.rectification);
  }
  return {
    startUs: d.startUs,
    stepUs,
    samples,
    amplitudeUnit: d.unit,
    fullScreen: d.fullScreen,
    zeroLevel: 0,
    rectification: d.rectification,
  };
}

function addBurst(samples: Float64Array, startUs: number, stepUs: number, burst: Burst): void {
  const { timeUs, amplitudePercent, frequencyMHz = 4, bandwidthPercent = 60, phaseDeg = 0 } = burst;
  const sigmaUs = 0.37478125 / ((bandwidthPercent / 100) * frequencyMHz);
  const reach = 9 * sigmaUs;
  const first = Math.max(0, Math.ceil((timeUs - reach - startUs) / stepUs));
  const last = Math.min(samples.length - 1, Math.floor((timeUs + reach - startUs) / stepUs));
  for (let i = first; i <= last; i++) {
    const t = startUs + i * stepUs - timeUs;
    samples[i] +=
      amplitudePercent *
      Math.exp(-0.5 * (t / sigmaUs) ** 2) *
      Math.cos(2 * Math.PI * frequencyMHz * t + (phaseDeg * Math.PI) / 180);
  }
}

function addBang(samples: Float64Array, startUs: number, stepUs: number, bang: NonNullable<Description['bang']>): void {
  const { amplitudePercent, decayUs, frequencyMHz = 4 } = bang;
  for (let i = 0; i < samples.length; i++) {
    const t = startUs + i * stepUs;
    if (t >= 0) samples[i] += amplitudePercent * Math.exp(-t / decayUs) * Math.cos(2 * Math.PI * frequencyMHz * t);
  }
}

function throughScreen(percent: number, { clipPercent, bits }: Description): number {
  const shown = clipPercent === null ? percent : Math.min(clipPercent, Math.max(-clipPercent, percent));
  if (bits === null) return shown;
  const step = 200 / 2 ** bits;
  return Math.min(100 - step, Math.max(-100, Math.round(shown / step) * step));
}

function rectified(percent: number, how: Waveform['rectification']): number {
  if (how === 'full') return Math.abs(percent);
  if (how === 'positive') return Math.max(0, percent);
  if (how === 'negative') return Math.max(0, -percent);
  return percent;
}

function captureOf(d: Description): Capture {
  return {
    id: d.file,
    file: d.file,
    trace: 'amplitude_pct',
    sha256: null,
    waveform: waveformOf(d),
    gainDb: d.gainDb,
    takenAt: d.takenAt,
    positionMm: d.positionMm,
    acrossMm: null,
    probe: null,
    instrument: null,
    block: null,
    temperatureC: null,
    metadata: [],
  };
}
