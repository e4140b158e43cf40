import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../core/capture/capture.ts';
import { spectrumOverlay, timeOverlay } from '../../../core/compare/overlays.ts';
import { evaluate } from '../../../core/evaluate.ts';
import { defaultSpectrumSettings } from '../../../core/probe/window.ts';
import type { ProbesDecision } from '../../../core/review/probes-decision.ts';
import { emptyReview } from '../../../core/review/review.ts';
import { trace } from '../../build/trace.ts';

const capture = (probe: string, timeUs: number, amplitudePercent: number, gainDb: number | null): Capture => {
  const built = trace()
    .record(10, 2500)
    .burst({ timeUs, amplitudePercent, frequencyMHz: 5, bandwidthPercent: 55 })
    .noise(0.1, 7)
    .named(`${probe}.csv`);
  return { ...(gainDb === null ? built : built.gain(gainDb)).capture(), probe };
};

function resultOf(captures: readonly Capture[], changes: Partial<ProbesDecision> = {}) {
  const probes: ProbesDecision = {
    captures: captures.map(({ id }) => id),
    gate: { fromUs: 18, toUs: 22 },
    spectrum: defaultSpectrumSettings as ProbesDecision['spectrum'],
    elementMm: null,
    velocityMPerS: null,
    probes: [],
    reference: null,
    align: 'cross-correlation',
    normalised: true,
    significance: 0.05,
    decision: 'with-uncertainty',
    rule: null,
    ...changes,
  };
  const { probes: result, captures: facts } = evaluate({ ...emptyReview, probes }, captures);
  if (result === null) throw new Error('nothing was evaluated');
  return { result, gainDbOf: (id: string) => facts.find(({ captureId }) => captureId === id)?.gainDb ?? null };
}

const early = capture('early', 20, 80, 40);
const late = capture('late', 20.3, 40, 40);
const lessGain = capture('less gain', 20, 40, 34);
const noEcho: Capture = {
  ...trace().record(10, 2500).noise(0.1, 9).gain(40).named('silent.csv').capture(),
  probe: 'silent',
};

const peakOf = ({ startUs, stepUs, values }: { startUs: number; stepUs: number; values: Float64Array }) => {
  const at = values.reduce((most, value, i) => (Math.abs(value) > Math.abs(values[most]) ? i : most), 0);
  return { timeUs: startUs + at * stepUs, height: Math.abs(values[at]) };
};

describe('echoes laid over one another in time', () => {
  it('are shifted onto the reference, and the shift is told', () => {
    const overlay = timeOverlay(resultOf([early, late], { reference: 'early' }).result, true);
    const [reference, other] = overlay.lines;
    expect(overlay.reference).toBe('early');
    expect(reference.shiftUs).toBe(0);
    expect(other.shiftUs).toBeCloseTo(0.3, 3);
    expect(other.correlation).toBeGreaterThan(0.99);
    expect(peakOf(other).timeUs).toBeCloseTo(peakOf(reference).timeUs, 2);
    // Closed form: both were made of one pulse, so that nothing but noise parts them once each has its own height.
    expect(peakOf(other).height).toBeCloseTo(peakOf(reference).height, 1);
  });

  it('keep their heights where they are not normalised', () => {
    const overlay = timeOverlay(resultOf([early, late], { reference: 'early', normalised: false }).result, false);
    const [reference, other] = overlay.lines.map(peakOf);
    expect(other.height / reference.height).toBeCloseTo(0.5, 1);
  });

  it('count from their own envelope’s peak where there is no reference', () => {
    const overlay = timeOverlay(resultOf([early, late]).result, true);
    expect(overlay.reference).toBeNull();
    for (const line of overlay.lines) expect(Math.abs(peakOf(line).timeUs)).toBeLessThan(0.11);
    expect(overlay.lines[1].shiftUs - overlay.lines[0].shiftUs).toBeCloseTo(0.3, 2);
  });

  it('name the probes of which there is nothing to draw', () => {
    expect(timeOverlay(resultOf([early, noEcho]).result, true).without).toEqual(['silent']);
  });
});

describe('spectra laid over one another', () => {
  it.each([
    ['normalised: each has its own 0 dB', true, late, 0],
    ['half the height at one gain: −6 dB', false, late, -6.02],
    ['half the height at 6 dB less gain: as sensitive', false, lessGain, -0.02],
  ] as const)('%s', (_name, normalised, other, expectedDb) => {
    const { result, gainDbOf } = resultOf([early, other], { reference: 'early' });
    const overlay = spectrumOverlay(result, normalised, gainDbOf);
    const highest = overlay.lines.map(({ db }) => Math.max(...db));
    expect(highest[0]).toBeCloseTo(0, 6);
    expect(highest[1]).toBeCloseTo(expectedDb, 1);
    expect(overlay.zeroOf).toBe(normalised ? null : 'early');
    expect(overlay.gainsKnown).toBe(true);
  });

  it('count gains as alike where one is not stated, and say so', () => {
    const { result, gainDbOf } = resultOf([early, capture('no gain', 20, 40, null)], { reference: 'early' });
    const overlay = spectrumOverlay(result, false, gainDbOf);
    expect(overlay.gainsKnown).toBe(false);
    expect(Math.max(...overlay.lines[1].db)).toBeCloseTo(-6.02, 1);
  });

  it('reach as far as one of them stands within 40 dB of its peak', () => {
    const { result, gainDbOf } = resultOf([early]);
    const { toMHz } = spectrumOverlay(result, true, gainDbOf);
    // A Gaussian of 55 % bandwidth at −6 dB falls to −40 dB at √(40/6.02) of its half width: 5 · (1 + 0.275 · 2.578).
    expect(toMHz).toBeCloseTo(8.54, 0);
  });

  it('there are none where nothing was measured', () => {
    const { result, gainDbOf } = resultOf([noEcho]);
    expect(spectrumOverlay(result, false, gainDbOf)).toEqual({
      zeroOf: null,
      lines: [],
      toMHz: 0,
      gainsKnown: true,
      without: ['silent'],
    });
  });
});
