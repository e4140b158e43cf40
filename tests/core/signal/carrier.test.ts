import { describe, expect, it } from 'vitest';
import { carrierOf } from '../../../core/signal/carrier.ts';
import { envelopeOf } from '../../../core/signal/envelope.ts';
import { rectify } from '../../../core/signal/rectify.ts';
import { trace } from '../../build/trace.ts';

const rf = (bandwidthPercent: number, rateMHz = 100) =>
  trace()
    .record(0, 2048)
    .sampledAt(rateMHz)
    .burst({ timeUs: 1024 / rateMHz, amplitudePercent: 80, bandwidthPercent, phaseDeg: 40 })
    .waveform().samples;
const worst = (a: Float64Array, b: Float64Array) =>
  a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i])), 0);

describe('rectification', () => {
  it.each([
    { kind: 'full' as const, samples: [1, -2, 0], rectified: [1, 2, 0] },
    { kind: 'positive' as const, samples: [1, -2, 0], rectified: [1, 0, 0] },
    { kind: 'negative' as const, samples: [1, -2, 0], rectified: [0, 2, 0] },
    { kind: 'full' as const, samples: [], rectified: [] },
  ])('$kind of $samples', ({ kind, samples, rectified }) => {
    expect([...rectify(Float64Array.from(samples), kind)].map((s) => s + 0)).toEqual(rectified);
  });
});

describe('the carrier of a rectified record', () => {
  it.each(['full', 'positive', 'negative'] as const)(
    '%s: empty, silent and constant records give what they are',
    (kind) => {
      expect(carrierOf(new Float64Array(0), kind)).toHaveLength(0);
      expect([...carrierOf(new Float64Array(50), kind)].every((s) => s === 0)).toBe(true);
      expect(carrierOf(new Float64Array(50).fill(7), kind).every(Number.isFinite)).toBe(true);
    },
  );

  it.each([30, 60, 80])('full, %d %% bandwidth: the RF’s envelope to 0.2 %% FSH', (bandwidth) => {
    const samples = rf(bandwidth);
    expect(worst(envelopeOf(carrierOf(rectify(samples, 'full'), 'full')), envelopeOf(samples))).toBeLessThan(0.2);
  });

  it('full, five samples to the period: within 1 % FSH', () => {
    const samples = rf(40, 20);
    expect(worst(envelopeOf(carrierOf(rectify(samples, 'full'), 'full')), envelopeOf(samples))).toBeLessThan(1);
  });

  // Half of what was there is missing: measured, and it grows with the bandwidth.
  it.each([
    { bandwidth: 30, percent: 0.3 },
    { bandwidth: 40, percent: 2 },
    { bandwidth: 60, percent: 10 },
  ])('half waves, $bandwidth % bandwidth: the RF’s envelope to $percent % FSH', ({ bandwidth, percent }) => {
    const samples = rf(bandwidth);
    for (const kind of ['positive', 'negative'] as const) {
      expect(worst(envelopeOf(carrierOf(rectify(samples, kind), kind)), envelopeOf(samples))).toBeLessThan(percent);
    }
  });
});
