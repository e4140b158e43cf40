import { describe, expect, it } from 'vitest';
import { blockByName } from '../../core/block/block-by-name.ts';
import { type CalibrationPoint, fitDistance } from '../../core/calibration/distance.ts';
import { doubtsAbout } from '../../core/calibration/plausibility.ts';

function fitted(points: readonly (readonly [distanceMm: number, timeUs: number])[]) {
  const outcome = fitDistance(
    points.map(
      ([distanceMm, timeUs]): CalibrationPoint => ({
        distanceMm,
        uDistanceMm: 0,
        timeUs,
        uTimeUs: null,
        amplitudePercent: null,
        captureId: null,
        from: null,
        flags: [],
      }),
    ),
  );
  if (!outcome.ok) throw new Error(outcome.problems[0].sentence);
  return outcome.value;
}

// Round trips in a stepped block of 1018 steel, 5 MHz, read by cross-correlation with SciPy from openly published recordings
// (open-hardware pulser board, TAPR licence); thicknesses are nominal
describe('steps of 10, 15 and 25 mm in steel: round trips 3.372, 5.057, 8.400 µs', () => {
  const steps = [
    [10, 3.372],
    [15, 5.057],
    [25, 8.4],
  ] as const;

  it('two of them: 5935 m/s and a zero offset of 2 ns', () => {
    const fit = fitted(steps.slice(0, 2));
    expect(fit.velocityMPerS.value).toBeCloseTo(5934.7, 1);
    expect(Math.abs(fit.velocityMPerS.value - 5930)).toBeLessThan(40);
    expect(fit.zeroOffsetUs.value).toBeCloseTo(0.002, 3);
  });

  it('all three: 5969 m/s, standard error 11.6 m/s, and with one degree of freedom ± 148 m/s', () => {
    const fit = fitted(steps);
    expect(2000 / fit.velocityMPerS.value).toBeCloseTo(0.335063, 4);
    expect(Math.abs(fit.velocityMPerS.value - 5969)).toBeLessThan(1);
    expect(Math.abs(fit.velocityMPerS.standardUncertainty! - 11.6)).toBeLessThan(0.4);
    expect(Math.abs(fit.velocityHalfWidth95MPerS! - 148)).toBeLessThan(5);
    expect(fit.zeroOffsetUs.value).toBeCloseTo(0.0253, 2);
    expect(Math.abs(fit.zeroOffsetUs.standardUncertainty! - 0.0116)).toBeLessThan(0.001);
    expect(fit.flags).toEqual([]);
  });

  it('with the 15 mm step once more under the label 20 mm, that label stands out alone', () => {
    const fit = fitted([...steps, [20, 5.0575]]);
    expect(fit.points.filter((p) => p.flags.includes('residuals-too-large')).map((p) => p.distanceMm)).toEqual([20]);
    const doubts = doubtsAbout(fit, { nominal: null, block: blockByName('steps/10mm,15mm,20mm,25mm') });
    expect(doubts.map((d) => d.flag)).toContain('residuals-too-large');
  });

  it('with the second echo of the 25 mm record taken under the water’s (7.885 µs), the velocity is doubted', () => {
    const fit = fitted([
      [10, 3.372],
      [25, 7.885],
    ]);
    const doubts = doubtsAbout(fit, { nominal: blockByName('steps/10mm,25mm')!.nominal, block: null });
    expect(doubts.map((d) => d.flag)).toContain('velocity-implausible');
  });
});

// Back walls of 40 mm aluminium, 5 MHz contact, medians over 64 elements of an openly published recording (MIT licence)
describe('two back walls of 40 mm aluminium at 12.936 and 25.419 µs', () => {
  const fit = fitted([
    [40, 12.936],
    [80, 25.419],
  ]);

  it('give 6409 m/s and a zero offset of 0.45 µs', () => {
    expect(fit.velocityMPerS.value).toBeCloseTo(6408.7, 1);
    expect(fit.zeroOffsetUs.value).toBeCloseTo(0.453, 3);
  });

  it('that aluminium of the tables may have', () => {
    expect(doubtsAbout(fit, { nominal: blockByName('plate/40mm/aluminium')!.nominal, block: null })).toEqual([]);
  });
});
