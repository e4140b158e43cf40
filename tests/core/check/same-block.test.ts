import { describe, expect, it } from 'vitest';
import { judgeDrift } from '../../../core/check/drift.ts';
import { type CalibratedReflector, sameBlock } from '../../../core/check/same-block.ts';
import { calibrated } from '../../build/calibration.ts';

const reflector = (distanceMm: number, rest: Partial<CalibratedReflector> = {}): CalibratedReflector => ({
  distanceMm,
  uDistanceMm: 0.06,
  timeUs: 7.3 + (2000 * distanceMm) / 3240,
  uTimeUs: 0.002,
  amplitudePercent: 80,
  gainDb: 40,
  block: 'block 3',
  ...rest,
});
const two = [reflector(100), reflector(225)];

describe('a check on the block of the calibration', () => {
  it.each<[string, string | null, readonly CalibratedReflector[]]>([
    ['no block is named by the check', null, two],
    ['an empty name is no name', ' ', two],
    ['another block is named', 'block 4', two],
    ['one capture of the calibration names another', 'block 3', [two[0], reflector(225, { block: 'block 4' })]],
    ['one names none', 'block 3', [two[0], reflector(225, { block: null })]],
    ['nothing is known of the calibration’s reflectors', 'block 3', []],
    ['its times are not told', 'block 3', [two[0], reflector(225, { timeUs: null })]],
    ['their uncertainty is not', 'block 3', [two[0], reflector(225, { uTimeUs: null })]],
    ['its tolerance is not', 'block 3', [two[0], reflector(225, { uDistanceMm: null })]],
    ['the line falls', 'block 3', [reflector(100, { timeUs: 200 }), reflector(225)]],
  ])('is not known where %s', (_, block, reflectors) => expect(sameBlock(block, reflectors)).toBeNull());

  it('is known by the name, whatever its capitals and spaces', () => {
    expect(sameBlock(' Block 3', two)).toMatchObject({ block: 'Block 3', reflectors: two });
  });
});

describe('how sure the calibration’s line is on its own block', () => {
  const uOffset = (reflectors: readonly CalibratedReflector[]) =>
    Math.sqrt(sameBlock('block 3', reflectors)!.variance.intercept);
  const third = (laterUs: number) => reflector(350, { timeUs: 7.3 + laterUs + (2000 * 350) / 3240 });

  it('follows from the timing while timing and tolerance explain the residuals', () => {
    expect(uOffset([...two, third(0.03)])).toBeCloseTo(uOffset([...two, third(0)]), 12);
  });

  it('follows from the residuals where they do not: nobody knows whose they are', () => {
    expect(uOffset([...two, third(0.5)])).toBeGreaterThan(20 * uOffset([...two, third(0)]));
  });
});

describe('the tolerance of a distance', () => {
  const checkAt = (distancesMm: readonly number[], block: string | null) => {
    const outcome = judgeDrift({
      checks: [
        {
          captureId: 'check',
          takenAt: null,
          gainDb: 40,
          block,
          reflectors: distancesMm.map((distanceMm) => ({
            distanceMm,
            uDistanceMm: 0.06,
            timeUs: { value: 7.3 + (2000 * distanceMm) / 3240, standardUncertainty: 0.002 },
            amplitudePercent: 80,
            signalToNoiseDb: 60,
            flags: [],
            from: null,
          })),
        },
      ],
      calibration: calibrated(3240, 7.3),
      calibrated: two,
      reference: [],
      rule: null,
      rangeMm: null,
    });
    if (!outcome.ok) throw new Error(outcome.problems[0].sentence);
    return outcome.value.checks[0];
  };

  it('is left out of errors and line on the same block, by name', () => {
    const check = checkAt([100, 225], 'block 3');
    expect(check.sameBlock).toBe('block 3');
    expect(check.reflectors.map((r) => r.sameBlock)).toEqual(['block 3', 'block 3']);
    // 2 ns in the check, 2 ns in the calibration, as a path: √2 · 0.002 · 1.62 mm/µs.
    expect(check.reflectors[0].distanceErrorMm!.standardUncertainty).toBeCloseTo(Math.SQRT2 * 0.002 * 1.62, 6);
  });

  it('counts on a reflector that the calibration was not made on, and in the line through it', () => {
    const check = checkAt([100, 350], 'block 3');
    expect(check.reflectors.map((r) => r.sameBlock)).toEqual(['block 3', null]);
    expect(check.reflectors[1].distanceErrorMm!.standardUncertainty).toBeGreaterThan(0.06);
    expect(check.sameBlock).toBeNull();
  });

  it('counts on a block that is not named', () => {
    const check = checkAt([100, 225], null);
    expect(check.reflectors.map((r) => r.sameBlock)).toEqual([null, null]);
    for (const { distanceErrorMm } of check.reflectors)
      expect(distanceErrorMm!.standardUncertainty).toBeGreaterThan(0.06);
  });
});
