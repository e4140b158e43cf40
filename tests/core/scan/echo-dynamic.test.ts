import { describe, expect, it } from 'vitest';
import { echoDynamic, highestPoint, peakEnvelope } from '../../../core/scan/echo-dynamic.ts';
import { pointAt, readingOf } from '../../build/echo-dynamic.ts';

const station = (positionMm: number) => ({ captureId: `c${positionMm}`, positionMm, acrossMm: null });

describe('heights of one indication at one gain', () => {
  it('come to the gain of the highest; 6.02 dB more gain is twice as high (definition of the decibel)', () => {
    const dynamic = echoDynamic([
      { station: station(0), reading: readingOf('c0', { amplitudePercent: 40 }), gainDb: 50 },
      { station: station(5), reading: readingOf('c5', { amplitudePercent: 60 }), gainDb: 50 + 20 * Math.log10(2) },
    ]);
    expect(dynamic.gainDb).toBe(50);
    expect(dynamic.points.map(({ levelDb }) => 10 ** (levelDb! / 20))).toEqual([
      expect.closeTo(40, 9),
      expect.closeTo(30, 9),
    ]);
    expect(dynamic.remarks).toEqual([]);
  });

  it('stay as read where only some captures state their gain, and a sentence says so', () => {
    const dynamic = echoDynamic([
      { station: station(0), reading: readingOf('c0', { amplitudePercent: 40 }), gainDb: 50 },
      { station: station(5), reading: readingOf('c5', { amplitudePercent: 60 }), gainDb: null },
    ]);
    expect(dynamic.gainDb).toBeNull();
    expect(dynamic.remarks[0]).toMatch(/Only some captures state their gain/);
  });

  it.each([
    { name: 'a plain reading', told: { amplitudePercent: 40 }, state: 'read' },
    {
      name: 'a crest that is cut off',
      told: { amplitudePercent: 100, flags: ['saturated' as const] },
      state: 'cut-off',
    },
    {
      name: 'nothing over the noise',
      told: { amplitudePercent: 2, flags: ['low-signal-to-noise' as const] },
      state: 'missing',
    },
    {
      name: 'the flank of another echo',
      told: { amplitudePercent: 30, flags: ['cut-by-gate' as const] },
      state: 'missing',
    },
    { name: 'no sample in the gate', told: {}, state: 'missing' },
  ])('$name is $state', ({ told, state }) => {
    expect(echoDynamic([{ station: station(0), reading: readingOf('c0', told), gainDb: null }]).points[0].state).toBe(
      state,
    );
  });
});

describe('the peak envelope over a raster', () => {
  const raster = [
    pointAt(0, 10, { acrossMm: 20 }),
    pointAt(0.2, 30, { acrossMm: 22 }),
    pointAt(5, 50, { acrossMm: 20 }),
    pointAt(5, 90, { acrossMm: 22, state: 'missing' }),
  ];
  it('along: the highest across at each position; what is missing gives way', () => {
    expect(peakEnvelope(raster, 'along', 0.5).map(({ amplitudePercent }) => amplitudePercent)).toEqual([30, 50]);
  });
  it('across: the highest along on each line', () => {
    expect(peakEnvelope(raster, 'across', 1e-6).map(({ amplitudePercent }) => amplitudePercent)).toEqual([50, 30]);
  });
  it('the highest of some captures, never a missing one', () => {
    expect(highestPoint(raster, new Set(['at 0, 20 across', 'at 5, 22 across']))?.amplitudePercent).toBe(10);
    expect(highestPoint(raster, new Set(['at 5, 22 across']))).toBeNull();
  });
});
