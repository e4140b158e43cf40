import { describe, expect, it } from 'vitest';
import { referAmplitude, type ScanReference, scanReferences } from '../../../core/rating/amplitude.ts';
import type { ScanDecision } from '../../../core/review/scan-decision.ts';
import { readingOf } from '../../build/echo-dynamic.ts';

const decision: ScanDecision = {
  captures: [],
  fromMm: 20,
  toMm: 60,
  level: { kind: 'screen', percent: 20 },
  scanningGainDb: null,
  sizing: { kind: 'drop-6-db' },
  beamWidthMm: null,
  uBeamWidthMm: 0,
  uPositionMm: 0,
  reference: { percent: 80, gainDb: 44, uGainDb: 0 },
  rating: null,
  indications: [],
};
const reading = readingOf('c', {
  amplitudePercent: 40,
  signalToNoiseDb: 40,
  soundPathMm: { value: 50, standardUncertainty: 0.1 },
});
const referenceOf = (told: Partial<ScanDecision> = {}): ScanReference | null =>
  scanReferences({ ...decision, ...told }, null, null).level;

describe('amplitude against the reference level, scanning gain taken out', () => {
  it.each([
    { name: 'at the reference gain', gainDb: 44, scanningGainDb: null, levelDb: -6.0206, takenOutDb: 0, remark: null },
    {
      name: 'with 6 dB more, stated by the capture',
      gainDb: 50,
      scanningGainDb: null,
      levelDb: -12.0206,
      takenOutDb: 6,
      remark: null,
    },
    {
      name: 'with 6 dB more, stated by both alike',
      gainDb: 50,
      scanningGainDb: 6,
      levelDb: -12.0206,
      takenOutDb: 6,
      remark: null,
    },
    {
      name: 'stated otherwise for the scan: the capture’s own gain holds',
      gainDb: 50,
      scanningGainDb: 8,
      levelDb: -12.0206,
      takenOutDb: 6,
      remark: /6 dB above.*8 dB are stated/,
    },
    {
      name: 'stated for the scan alone',
      gainDb: null,
      scanningGainDb: 6,
      levelDb: -12.0206,
      takenOutDb: 6,
      remark: /states no gain: 6 dB/,
    },
  ])('$name', ({ gainDb, scanningGainDb, levelDb, takenOutDb, remark }) => {
    const referred = referAmplitude(reading, gainDb, referenceOf({ scanningGainDb }));
    expect(referred.held!.levelDb!.value).toBeCloseTo(levelDb, 4);
    expect(referred.takenOutDb).toBe(takenOutDb);
    expect(referred.unreferenced).toBeNull();
    if (remark === null) expect(referred.remarks).toEqual([]);
    else expect(referred.remarks.join(' ')).toMatch(remark);
  });

  it('the same echo at any gain stands at the same level (gain shift invariance)', () => {
    for (const shiftDb of [-12, -3.3, 0.5, 9]) {
      const shifted = { ...reading, amplitudePercent: 40 * 10 ** (shiftDb / 20) };
      expect(referAmplitude(shifted, 50 + shiftDb, referenceOf()).held!.levelDb!.value).toBeCloseTo(-12.0206, 4);
    }
  });
});

describe('without a reference an amplitude is unreferenced, and says why', () => {
  it('only a distance calibration', () => {
    const referred = referAmplitude(reading, 50, referenceOf({ reference: null }));
    expect(referred).toMatchObject({ held: null, flags: ['unreferenced'] });
    expect(referred.unreferenced).toMatch(/only a distance calibration.*gets no rating/);
  });
  it('a capture without a gain where the reference has one', () => {
    const referred = referAmplitude(reading, null, referenceOf());
    expect(referred.held!.levelDb).toBeNull();
    expect(referred).toMatchObject({ flags: ['unreferenced'], takenOutDb: null });
    expect(referred.unreferenced).toMatch(/gain of this capture is not stated/);
  });
});
