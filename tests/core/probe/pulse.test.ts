import { describe, expect, it } from 'vitest';
import type { Waveform } from '../../../core/capture/waveform.ts';
import type { ProbeFigure } from '../../../core/probe/figures.ts';
import { type CapturePulse, measurePulse, type PulseSettings } from '../../../core/probe/pulse.ts';
import { defaultSpectrumSettings } from '../../../core/probe/window.ts';
import { condition, defaultRecipe, type Trace } from '../../../core/signal/conditioning.ts';
import { normal } from '../../build/random.ts';
import { trace } from '../../build/trace.ts';

const settings: PulseSettings = {
  gate: { fromUs: 18.5, toUs: 21.5 },
  spectrum: defaultSpectrumSettings,
  elementMm: 10,
  velocityMPerS: 5920,
  curves: false,
};

const pulseOf = (made: Trace, gainDb: number | null = 40, by: Partial<PulseSettings> = {}): CapturePulse =>
  measurePulse('a.csv', made, gainDb, { ...settings, ...by });

function value(pulse: CapturePulse, figure: ProbeFigure): number {
  const { quantity, hindrance } = pulse.figures[figure];
  if (quantity === null) throw new Error(`${figure}: ${hindrance}`);
  return quantity.value;
}

/** An echo at 20 µs of any shape, as a conditioned trace; white noise of a seed. */
function echoOf(shape: (t: number) => number, rateMHz: number, noisePercent = 0, seed = 1, count = 4000): Trace {
  const random = normal(seed);
  const startUs = 10;
  const waveform: Waveform = {
    startUs,
    stepUs: 1 / rateMHz,
    samples: Float64Array.from(
      { length: count },
      (_, i) => shape(startUs + i / rateMHz - 20) + noisePercent * random(),
    ),
    amplitudeUnit: 'percent',
    fullScreen: 100,
    zeroLevel: 0,
    rectification: 'rf',
  };
  const outcome = condition(waveform, { ...defaultRecipe, baseline: 'none' });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

const gaussian =
  (sigmaUs: number, frequencyMHz: number, phase = 0) =>
  (t: number) =>
    80 * Math.exp(-0.5 * (t / sigmaUs) ** 2) * Math.cos(2 * Math.PI * frequencyMHz * t + phase);

describe('a Gaussian pulse, x = A·exp(−t²/2σ²)·cos(2πft): closed forms', () => {
  // Source of each row: derived, |X| ∝ exp(−2π²σ²(f − f0)²); width at −L dB 2σ·√(2·ln 10^(L/20)).
  const cases = [
    { name: '5 MHz, 60 %', f0: 5, sigma: 0.1249271, half: 0.18706976 / 0.1249271, iso: 0.536179 },
    { name: '5 MHz, σ 0.2 µs', f0: 5, sigma: 0.2, half: 0.18706976 / 0.2, iso: 0.858386 },
    {
      name: '2.25 MHz, 45 %',
      f0: 2.25,
      sigma: 0.37478125 / (0.45 * 2.25),
      half: 0.18706976 / (0.37478125 / (0.45 * 2.25)),
      iso: 4.29193 * (0.37478125 / (0.45 * 2.25)),
    },
  ];
  it.each(cases)('$name: limits, both centres, bandwidths, duration at 10 %', ({ f0, sigma, half, iso }) => {
    const wide = { gate: { fromUs: 20 - 8 * sigma, toUs: 20 + 8 * sigma } };
    const pulse = pulseOf(echoOf(gaussian(sigma, f0), 100), 40, wide);
    expect(value(pulse, 'peak-frequency')).toBeCloseTo(f0, 3);
    expect(value(pulse, 'lower-limit-6-db')).toBeCloseTo(f0 - half, 3);
    expect(value(pulse, 'upper-limit-6-db')).toBeCloseTo(f0 + half, 3);
    expect(value(pulse, 'centre-frequency-e1065')).toBeCloseTo(f0, 3);
    expect(value(pulse, 'centre-frequency-iso')).toBeCloseTo(Math.sqrt((f0 - half) * (f0 + half)), 3);
    expect(value(pulse, 'bandwidth-6-db')).toBeCloseTo(2 * half, 3);
    // Twice the logarithm, √2 times as far: √(20/6).
    expect(value(pulse, 'bandwidth-20-db')).toBeCloseTo(2 * half * Math.sqrt(20 / 6), 2);
    expect(value(pulse, 'duration-iso') / iso).toBeCloseTo(1, 2);
  });

  it('half-amplitude limits of 3.5 and 6.5 MHz lie at −6.0206 dB, 5 kHz outside those at −6 dB', () => {
    const pulse = pulseOf(echoOf(gaussian(0.1249271, 5), 100));
    expect(Math.abs(value(pulse, 'lower-limit-6-db') - 3.5)).toBeLessThan(0.005);
    expect(Math.abs(value(pulse, 'upper-limit-6-db') - 6.5)).toBeLessThan(0.005);
  });

  it('limits of 3 and 7 MHz: arithmetic 5 MHz and 80 %, geometric 4.582576 MHz and 87.287 %', () => {
    // −6 dB limits at 5 ± 2 MHz; below 0 MHz such a spectrum reaches by e^−34.
    const sigma = 0.18706976 / 2;
    const pulse = pulseOf(echoOf(gaussian(sigma, 5), 200));
    expect(value(pulse, 'centre-frequency-e1065')).toBeCloseTo(5, 2);
    expect(value(pulse, 'relative-bandwidth-e1065')).toBeCloseTo(80, 0);
    expect(value(pulse, 'centre-frequency-iso')).toBeCloseTo(4.582576, 2);
    expect(value(pulse, 'relative-bandwidth-iso')).toBeCloseTo(87.287, 0);
  });

  it.each([
    [14, 'duration-e1065-14-db', 0.448599],
    [20, 'duration-e1065-20-db', 0.536179],
    [40, 'duration-e1065-40-db', 0.758271],
  ] as const)(
    '−%i dB: the unrectified echo is shorter than its envelope by up to half a period at each end',
    (_, figure, envelope) => {
      for (let phase = 0; phase < 2 * Math.PI; phase += 0.5) {
        const found = value(pulseOf(echoOf(gaussian(0.1249271, 5, phase), 100)), figure);
        expect(found).toBeLessThan(envelope * 1.01);
        expect(found).toBeGreaterThan(envelope - 0.1 * 2);
      }
    },
  );

  it('counts the half waves whose crest exceeds a tenth', () => {
    // cos at t = k/2f: crests exp(−t²/2σ²) ≥ 0.1 for |t| ≤ 0.26809 µs: k = −2 … 2 at 0.1 µs each.
    expect(value(pulseOf(echoOf(gaussian(0.1249271, 5), 100)), 'half-cycles')).toBe(5);
  });

  it('near field and beam spread follow from the centre frequency', () => {
    // D 10 mm, 5 MHz, 5920 m/s: N 21.11486 mm; −6 dB 3.487°, −20 dB 5.908° (k 0.51367 and 0.86942).
    const pulse = pulseOf(echoOf(gaussian(0.1249271, 5), 100));
    expect(value(pulse, 'near-field')).toBeCloseTo(21.11486, 1);
    expect(value(pulse, 'beam-half-angle-6-db')).toBeCloseTo(3.487, 2);
    expect(value(pulse, 'beam-half-angle-20-db')).toBeCloseTo(5.908, 2);
  });

  it('takes the gain out of the sensitivity: 80 % at 40 dB is −41.938 dB', () => {
    expect(value(pulseOf(echoOf(gaussian(0.2, 5), 100)), 'sensitivity')).toBeCloseTo(-41.938, 2);
  });
});

describe('a damped sine, x = A·exp(−t/τ)·sin(2πft) from t = 0: closed forms', () => {
  // |X|² = A²ω₀²/((α² + ω₀² − ω²)² + 4α²ω²), α = 1/τ: peak at ω² = ω₀² − α², level −L dB at
  // ω² = ω₀² − α² ± 2αω₀·√(10^(L/10) − 1); level by 8.6859/τ dB/µs; decrement 1/(f·τ). Source: derived.
  it.each([
    { f0: 5, tau: 0.4, within: 0.05 },
    { f0: 4, tau: 0.3, within: 0.06 },
    { f0: 2, tau: 1, within: 0.05 },
  ])('$f0 MHz, τ $tau µs', ({ f0, tau, within }) => {
    const shape = (t: number) => (t < 0 ? 0 : 80 * Math.exp(-t / tau) * Math.sin(2 * Math.PI * f0 * t));
    const made = echoOf(shape, 400, 0, 1, 16_000);
    const pulse = pulseOf(made, 40, {
      gate: { fromUs: 18, toUs: 20 + 10 * tau },
      spectrum: { window: { kind: 'rectangular' }, padding: 8 },
    });
    const w0 = 2 * Math.PI * f0;
    const alpha = 1 / tau;
    const at = (levelDb: number, side: number) =>
      Math.sqrt(w0 ** 2 - alpha ** 2 + side * 2 * alpha * w0 * Math.sqrt(10 ** (levelDb / 10) - 1)) / (2 * Math.PI);
    expect(value(pulse, 'peak-frequency') / at(0, 0)).toBeCloseTo(1, 3);
    expect(value(pulse, 'lower-limit-6-db') / at(6, -1)).toBeCloseTo(1, 3);
    expect(value(pulse, 'upper-limit-6-db') / at(6, 1)).toBeCloseTo(1, 3);
    // The envelope of so short a pulse leans on its own tail below zero frequency: within 6 % at 1.2 periods.
    expect(Math.abs(value(pulse, 'decay-rate') / (20 / Math.LN10 / tau) - 1)).toBeLessThan(within);
    const centre = (at(6, -1) + at(6, 1)) / 2;
    expect(Math.abs(value(pulse, 'logarithmic-decrement') * centre * tau - 1)).toBeLessThan(within);
  });
});

describe('what cannot be measured has its reason and no figure', () => {
  const burst = { timeUs: 20, amplitudePercent: 80, frequencyMHz: 5 };
  const clean = trace().burst(burst).noise(0.2);
  const gate = (fromUs: number, toUs: number) => ({ gate: { fromUs, toUs } });
  const rows: readonly [string, () => CapturePulse, string][] = [
    ['the gate ends before the record begins', () => pulseOf(clean.conditioned(), 40, gate(-5, -1)), 'outside-record'],
    ['the gate reaches beyond the record', () => pulseOf(clean.conditioned(), 40, gate(90, 120)), 'outside-record'],
    ['the gate holds a handful of samples', () => pulseOf(clean.conditioned(), 40, gate(20, 20.1)), 'too-few-samples'],
    [
      'the echo is clipped by the screen',
      () =>
        pulseOf(
          trace()
            .burst({ ...burst, amplitudePercent: 140 })
            .noise(0.2)
            .clippedAt(100)
            .conditioned(),
        ),
      'saturated',
    ],
    [
      'the echo is clipped below the screen',
      () => pulseOf(trace().burst(burst).clippedAt(60).quantised(12).conditioned()),
      'saturated',
    ],
    ['nothing but noise in the gate', () => pulseOf(clean.conditioned(), 40, gate(60, 63)), 'buried-in-noise'],
    [
      'an echo of four times the noise',
      () =>
        pulseOf(
          trace()
            .burst({ ...burst, amplitudePercent: 8 })
            .noise(2)
            .conditioned(),
        ),
      'buried-in-noise',
    ],
    [
      'the gate begins in the middle of the echo',
      () => pulseOf(clean.conditioned(), 40, gate(20.02, 23)),
      'cut-by-gate',
    ],
    ['the gate cuts the echo’s flank', () => pulseOf(clean.conditioned(), 40, gate(19.85, 23)), 'cut-by-gate'],
    ['the gate cuts the echo’s end', () => pulseOf(clean.conditioned(), 40, gate(18, 20.2)), 'cut-by-gate'],
    [
      'two echoes in the gate',
      () =>
        pulseOf(
          trace()
            .burst(burst)
            .burst({ ...burst, timeUs: 22, amplitudePercent: 60 })
            .noise(0.2)
            .conditioned(),
          40,
          gate(18, 24),
        ),
      'ambiguous-echo',
    ],
    [
      'the main bang rings in the gate',
      () => pulseOf(trace().mainBang({ amplitudePercent: 95, decayUs: 3 }).noise(0.2).conditioned(), 40, gate(0.2, 6)),
      'in-dead-zone',
    ],
  ];
  it.each(rows)('%s', (_, make, reason) => {
    const pulse = make();
    expect(pulse.hindrance).toBe(reason);
    for (const figure of Object.values(pulse.figures)) expect(figure).toEqual({ quantity: null, hindrance: reason });
  });

  it.each(['full', 'positive', 'negative'] as const)(
    'a record rectified (%s) has no spectrum and no unrectified duration',
    (how) => {
      const { figures } = pulseOf(
        trace()
          .burst({ ...burst, bandwidthPercent: 40 })
          .noise(0.2)
          .rectified(how)
          .conditioned(),
      );
      expect(figures['centre-frequency-e1065'].hindrance).toBe('rectified');
      expect(figures['duration-e1065-20-db'].hindrance).toBe('rectified');
      expect(figures['half-cycles'].hindrance).toBe('rectified');
      expect(figures['duration-iso'].hindrance).toBe(how === 'full' ? null : 'half-wave');
    },
  );

  it('a level that lies in the noise has no width, the higher ones have', () => {
    const { figures } = pulseOf(trace().burst(burst).noise(1).conditioned());
    expect(figures['duration-e1065-20-db'].hindrance).toBeNull();
    expect(figures['duration-e1065-40-db'].hindrance).toBe('level-in-noise');
    expect(figures['bandwidth-6-db'].hindrance).toBeNull();
  });

  it('no gain, no element, no velocity: each figure that needs it says so', () => {
    const pulse = pulseOf(clean.conditioned(), null, { elementMm: null });
    expect(pulse.figures.sensitivity.hindrance).toBe('gain-not-stated');
    expect(pulse.figures['near-field'].hindrance).toBe('element-not-stated');
    expect(pulseOf(clean.conditioned(), 40, { velocityMPerS: null }).figures['near-field'].hindrance).toBe(
      'velocity-not-stated',
    );
    expect(pulse.figures.height.quantity?.value).toBeCloseTo(80, 0);
  });

  it('a spectrum that does not fall below −6 dB before half the sampling rate has no upper limit', () => {
    const { figures } = pulseOf(echoOf(gaussian(0.04, 9), 20, 0.1));
    expect(figures['upper-limit-6-db'].hindrance).toBe('level-not-crossed');
  });
});

describe('more than one pair of crossings', () => {
  it('takes the outermost and says so', () => {
    // Two tones in one burst, the upper 4 dB lower: two lobes 3 MHz apart, each 0.75 MHz wide.
    const shape = (t: number) => 0.6 * gaussian(0.5, 4)(t) + 0.38 * gaussian(0.5, 7)(t);
    const pulse = pulseOf(echoOf(shape, 100), 40, { gate: { fromUs: 16, toUs: 24 } });
    if (pulse.hindrance !== null) throw new Error(pulse.hindrance);
    expect(pulse.multiLobed.at6Db).toBe(true);
    expect(pulse.flags).toContain('ambiguous-echo');
    expect(value(pulse, 'lower-limit-6-db')).toBeLessThan(4);
    expect(value(pulse, 'upper-limit-6-db')).toBeGreaterThan(7);
  });
});
