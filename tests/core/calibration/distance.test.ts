import { describe, expect, it } from 'vitest';
import {
  type CalibrationPoint,
  type DistanceCalibration,
  fitDistance,
  pathFromTime,
  timeFromPath,
} from '../../../core/calibration/distance.ts';
import type { Outcome } from '../../../core/outcome.ts';

function point(distanceMm: number, timeUs: number, uTimeUs: number | null = null, uDistanceMm = 0): CalibrationPoint {
  return { distanceMm, uDistanceMm, timeUs, uTimeUs, amplitudePercent: null, captureId: null, from: null, flags: [] };
}

function fitted(outcome: Outcome<DistanceCalibration>): DistanceCalibration {
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.sentence).join('; '));
  return outcome.value;
}

describe('fitDistance refuses', () => {
  it.each([
    { what: 'no point', points: [], code: 'too-few-reflectors', says: 'no reflector was found' },
    { what: 'one point', points: [point(100, 69)], code: 'too-few-reflectors', says: 'only one reflector' },
    { what: 'a distance of 0', points: [point(0, 7), point(50, 40)], code: 'distance-not-positive', says: '0 mm' },
    {
      what: 'a negative distance',
      points: [point(-25, 7), point(50, 40)],
      code: 'distance-not-positive',
      says: '-25 mm',
    },
    { what: 'a time that is NaN', points: [point(25, Number.NaN), point(50, 40)], code: 'not-a-number', says: '25 mm' },
    {
      what: 'an infinite distance',
      points: [point(25, 7), point(Number.POSITIVE_INFINITY, 40)],
      code: 'not-a-number',
      says: 'not a number',
    },
    {
      what: 'an uncertainty that is NaN',
      points: [point(25, 7, Number.NaN), point(50, 40)],
      code: 'not-a-number',
      says: '25 mm',
    },
    {
      what: 'a negative uncertainty',
      points: [point(25, 7, 0.01, -0.1), point(50, 40)],
      code: 'uncertainty-negative',
      says: 'negative',
    },
    {
      what: 'the same distance twice',
      points: [point(25, 7), point(50, 40), point(25, 8)],
      code: 'distance-twice',
      says: '25 mm is given twice',
    },
    {
      what: 'a time that falls',
      points: [point(50, 7), point(25, 40)],
      code: 'time-not-rising',
      says: '50 mm reflector (7 µs)',
    },
    {
      what: 'the same time twice',
      points: [point(25, 7), point(50, 7)],
      code: 'time-not-rising',
      says: 'does not come after',
    },
  ])('$what as $code', ({ points, code, says }) => {
    const outcome = fitDistance(points);
    expect(outcome.ok).toBe(false);
    if (outcome.ok) return;
    expect(outcome.problems.map((p) => p.code)).toEqual([code]);
    expect(outcome.problems[0].sentence).toContain(says);
  });

  it('every bad point by its own sentence, at the capture it came from', () => {
    const outcome = fitDistance([
      { ...point(0, 1), captureId: 'a.csv#1' },
      { ...point(-1, 2), captureId: 'b.csv#1' },
    ]);
    expect(outcome.ok ? [] : outcome.problems.map((p) => p.place.file)).toEqual(['a.csv#1', 'b.csv#1']);
  });
});

describe('fitDistance of two points', () => {
  // Check value C17: v = 2(d2 − d1)/(t2 − t1), t0 = (t1·d2 − t2·d1)/(d2 − d1) (derived, GUM 5.1.2)
  const exact = fitted(fitDistance([point(50, 31.2, 0.01), point(125, 77.28, 0.01)]));

  it('is exact, and says so', () => {
    expect(exact.velocityMPerS.value).toBeCloseTo(3255.2083, 4);
    expect(exact.zeroOffsetUs.value).toBeCloseTo(0.48, 12);
    expect(exact.flags).toEqual(['exact-fit']);
    expect(exact.residualSdUs).toBeNull();
    expect(exact.degreesOfFreedom).toBe(0);
    for (const p of exact.points) expect(Math.abs(p.residualMm)).toBeLessThan(1e-12);
  });

  it('takes its uncertainties from the timing', () => {
    expect(exact.velocityMPerS.standardUncertainty).toBeCloseTo(0.999, 3);
    expect(exact.zeroOffsetUs.standardUncertainty).toBeCloseTo((0.01 * Math.hypot(50, 125)) / 75, 12);
    expect(exact.velocityHalfWidth95MPerS! / exact.velocityMPerS.standardUncertainty!).toBeCloseTo(1.96, 3);
  });

  it('and from the distances: u(d) 0.05 mm each makes u(v) 3.228 m/s', () => {
    const fit = fitted(fitDistance([point(50, 31.2, 0.01, 0.05), point(125, 77.28, 0.01, 0.05)]));
    expect(fit.velocityMPerS.standardUncertainty).toBeCloseTo(3.228, 3);
    // u²(t0) = [d2²u²(t1) + d1²u²(t2)]/(d2−d1)² + (2/v)²[d2²u²(d1) + d1²u²(d2)]/(d2−d1)²
    const expected = Math.hypot(0.01, 0.6144 * 0.05) * (Math.hypot(50, 125) / 75);
    expect(fit.zeroOffsetUs.standardUncertainty).toBeCloseTo(expected, 10);
  });

  it('knows no uncertainty where a timing has none', () => {
    const fit = fitted(fitDistance([point(50, 31.2, 0.01), point(125, 77.28)]));
    expect(fit.velocityMPerS.standardUncertainty).toBeNull();
    expect(fit.zeroOffsetUs.standardUncertainty).toBeNull();
    expect(fit.covarianceUsUsPerMm).toBeNull();
    expect(fit.velocityHalfWidth95MPerS).toBeNull();
  });

  it('does not care for the order they come in', () => {
    expect(fitDistance([point(125, 77.28, 0.01), point(50, 31.2, 0.01)])).toEqual(
      fitDistance([point(50, 31.2, 0.01), point(125, 77.28, 0.01)]),
    );
  });
});

describe('fitDistance of more points', () => {
  // Check values C22 and C23: four points, recomputed from JCGM 100:2008 (GUM) H.3 (derived)
  const four = fitted(fitDistance([point(25, 8.8), point(50, 17.24), point(75, 25.69), point(100, 34.13)]));

  it('is least squares of time on distance, with standard errors and their covariance', () => {
    expect(four.velocityMPerS.value).toBeCloseTo(5921.3643, 4);
    expect(four.zeroOffsetUs.value).toBeCloseTo(0.355, 10);
    expect(four.velocityMPerS.standardUncertainty).toBeCloseTo(0.99172, 5);
    expect(four.zeroOffsetUs.standardUncertainty).toBeCloseTo(0.00387298, 8);
    expect(four.covarianceUsUsPerMm).toBeCloseTo(-2e-7, 12);
    expect(four.residualSdUs).toBeCloseTo(0.00316228, 8);
    expect(four.degreesOfFreedom).toBe(2);
    expect(four.flags).toEqual([]);
    expect(four.points.map((p) => p.residualMm * 0.33776)).toEqual(
      [0.001, -0.003, 0.003, -0.001].map((r) => expect.closeTo(r, 6)),
    );
  });

  it('has Student’s t for its intervals where no timing uncertainty is stated', () => {
    expect(four.velocityHalfWidth95MPerS! / four.velocityMPerS.standardUncertainty!).toBeCloseTo(4.302653, 5);
    expect(four.zeroOffsetHalfWidth95Us! / four.zeroOffsetUs.standardUncertainty!).toBeCloseTo(4.302653, 5);
  });

  it('gives a path with the covariance in its uncertainty', () => {
    const path = pathFromTime(four, 20, four.residualSdUs);
    expect(path.value).toBeCloseTo(58.162601, 6);
    expect(path.standardUncertainty).toBeCloseTo(0.0104928, 6);
  });

  it('is never surer than the timing allows, however small the residuals are by luck', () => {
    const lucky = fitted(fitDistance([point(25, 8, 0.01), point(50, 16, 0.01), point(75, 24, 0.01)]));
    expect(lucky.residualSdUs).toBeCloseTo(0, 12);
    // u(b) = u(t)/√Sxx with Sxx = 1250 mm²
    expect(lucky.velocityMPerS.standardUncertainty).toBeCloseTo(((6250 / 0.32) * 0.01) / Math.sqrt(1250), 8);
    expect(lucky.velocityHalfWidth95MPerS! / lucky.velocityMPerS.standardUncertainty!).toBeCloseTo(1.96, 3);
  });

  it('contains the distances’ tolerance even where the timing’s uncertainty is unknown', () => {
    const fit = fitted(fitDistance([point(25, 8, null, 0.05), point(50, 16, null, 0.05), point(75, 24, null, 0.05)]));
    expect(fit.velocityMPerS.standardUncertainty).toBeCloseTo((6250 * 0.05) / Math.sqrt(1250), 8);
  });

  it('and its interval is never narrower than what is known, however small the residuals are by luck', () => {
    const lucky = fitted(fitDistance([point(25, 8, null, 0.05), point(50, 16, null, 0.05), point(75, 24, null, 0.05)]));
    expect(lucky.velocityHalfWidth95MPerS! / lucky.velocityMPerS.standardUncertainty!).toBeCloseTo(1.96, 3);
  });

  it('knows no uncertainty where nothing is stated and the points lie exactly on a line', () => {
    const fit = fitted(fitDistance([point(25, 8), point(50, 16), point(75, 24)]));
    expect(fit.residualSdUs).toBe(0);
    expect(fit.velocityMPerS.standardUncertainty).toBeNull();
    expect(fit.velocityHalfWidth95MPerS).toBeNull();
  });

  it('takes an uncertainty stated as 0 at its word', () => {
    const fit = fitted(fitDistance([point(25, 8, 0), point(50, 16, 0), point(75, 24, 0)]));
    expect(fit.velocityMPerS.standardUncertainty).toBe(0);
    expect(fit.velocityHalfWidth95MPerS).toBe(0);
  });

  it('believes the residuals where they scatter more than twice as wide as stated', () => {
    const wide = fitted(fitDistance([point(25, 8, 0.001), point(50, 16.02, 0.001), point(75, 24, 0.001)]));
    expect(wide.velocityHalfWidth95MPerS! / wide.velocityMPerS.standardUncertainty!).toBeCloseTo(12.7062, 4);
  });
});

describe('an error that all distances share', () => {
  const points = [25, 50, 75, 100].map((d) => point(d, 0.3 + d / 3, 0.001));
  const shared = { uScale: 0.1 / Math.sqrt(3) / 25, uShiftMm: 0, covarianceMm: 0 };

  it('a thickness of 25 ± 0.1 mm bounds the velocity, however many multiples are used', () => {
    const alone = fitted(fitDistance(points)).velocityMPerS.standardUncertainty!;
    const whole = fitted(fitDistance(points, shared)).velocityMPerS.standardUncertainty!;
    expect(whole).toBeCloseTo(Math.hypot(alone, 6000 * shared.uScale), 8);
    expect(whole).toBeGreaterThan(13.8);
  });

  it('a shift common to all goes to the zero offset alone', () => {
    const shifted = fitted(fitDistance(points, { uScale: 0, uShiftMm: 0.05, covarianceMm: 0 }));
    const alone = fitted(fitDistance(points));
    expect(shifted.zeroOffsetUs.standardUncertainty).toBeCloseTo(
      Math.hypot(alone.zeroOffsetUs.standardUncertainty!, 0.05 / 3),
      10,
    );
    expect(shifted.velocityMPerS).toEqual(alone.velocityMPerS);
  });
});

describe('a wrong label', () => {
  const time = (d: number) => 0.0253 + d * 0.3372;

  it('among four shows at its own reflector, not at its neighbours', () => {
    const fit = fitted(
      fitDistance([point(10, time(10)), point(15, time(15)), point(20, time(15) + 0.002), point(25, time(25))]),
    );
    expect(fit.points.filter((p) => p.flags.includes('residuals-too-large')).map((p) => p.distanceMm)).toEqual([20]);
    expect(fit.flags).toContain('residuals-too-large');
  });

  it('among three shows, but cannot be told from the others', () => {
    const fit = fitted(fitDistance([point(10, time(10)), point(20, time(15)), point(25, time(25))]));
    expect(fit.points.filter((p) => p.flags.includes('residuals-too-large')).map((p) => p.distanceMm)).toEqual([
      10, 20, 25,
    ]);
  });

  it('keeps the flags that a point came with', () => {
    const outcome = fitDistance([
      { ...point(10, time(10)), flags: ['saturated'] },
      point(20, time(15)),
      point(25, time(25)),
    ]);
    expect(fitted(outcome).points[0].flags).toEqual(['saturated', 'residuals-too-large']);
  });

  it('is not seen in honest points within timing and tolerance', () => {
    const u = 0.1 / Math.sqrt(3);
    const fit = fitted(
      fitDistance([
        point(10, time(10.1), 0.01, u),
        point(15, time(15), 0.01, u),
        point(20, time(19.9), 0.01, u),
        point(25, time(25), 0.01, u),
      ]),
    );
    expect(fit.flags).toEqual([]);
  });

  it('gives an interval wide enough to hold the truth', () => {
    const fit = fitted(
      fitDistance([point(10, time(10), 0.002), point(20, time(15), 0.002), point(25, time(25), 0.002)]),
    );
    expect(Math.abs(fit.velocityMPerS.value - 5931)).toBeLessThan(fit.velocityHalfWidth95MPerS!);
  });
});

describe('pathFromTime and timeFromPath', () => {
  const given: DistanceCalibration = {
    ...fitted(fitDistance([point(50, 31.2, 0.01), point(125, 77.28, 0.01)])),
    points: [],
  };

  it('are inverse to one another', () => {
    expect(pathFromTime(given, timeFromPath(given, 73.5), null).value).toBeCloseTo(73.5, 10);
  });

  it('know no uncertainty where the timing or the calibration has none', () => {
    expect(pathFromTime(given, 50, null).standardUncertainty).toBeNull();
    const bare = { ...given, velocityMPerS: { value: 3255, standardUncertainty: null } };
    expect(pathFromTime(bare, 50, 0.01).standardUncertainty).toBeNull();
  });

  it('reproduce a calibration point with the timing’s uncertainty doubled in variance: once for the point, once for the reading', () => {
    expect(pathFromTime(given, 31.2, 0.01).standardUncertainty).toBeCloseTo((0.01 * Math.SQRT2) / 0.6144, 8);
  });

  it('without a covariance err to the large side', () => {
    const without = { ...given, covarianceUsUsPerMm: null };
    expect(pathFromTime(without, 54, 0.01).standardUncertainty).toBeGreaterThan(
      pathFromTime(given, 54, 0.01).standardUncertainty!,
    );
  });

  it.each([
    // Check values C08, C09 (derived): round trips at block velocity without a zero offset
    { source: 'C08', pathMm: 25, velocityMPerS: 5920, timeUs: 8.445946 },
    { source: 'C09', pathMm: 100, velocityMPerS: 3255, timeUs: 61.443932 },
    { source: 'section 1.2', pathMm: 85, velocityMPerS: 5920, timeUs: 28.716216 },
    { source: 'section 1.2', pathMm: 91, velocityMPerS: 5920, timeUs: 30.743243 },
    { source: 'section 1.2', pathMm: 50, velocityMPerS: 3255, timeUs: 30.721966 },
  ])(
    '$pathMm mm at $velocityMPerS m/s is a round trip of $timeUs µs ($source)',
    ({ pathMm, velocityMPerS, timeUs }) => {
      const plain = {
        ...given,
        velocityMPerS: { value: velocityMPerS, standardUncertainty: 0 },
        zeroOffsetUs: { value: 0, standardUncertainty: 0 },
      };
      expect(timeFromPath(plain, pathMm)).toBeCloseTo(timeUs, 6);
    },
  );

  it('91 mm longitudinal reads as 50 mm transverse: the reason for the 91 mm step', () => {
    const speed = (velocityMPerS: number) => ({
      ...given,
      velocityMPerS: { value: velocityMPerS, standardUncertainty: 0 },
      zeroOffsetUs: { value: 0, standardUncertainty: 0 },
    });
    expect(pathFromTime(speed(3255), timeFromPath(speed(5920), 91), 0).value).toBeCloseTo(50.034628, 6);
  });
});
