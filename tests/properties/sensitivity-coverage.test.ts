import { describe, expect, it } from 'vitest';
import { evaluate } from '../../core/evaluate.ts';
import { emptyReview } from '../../core/review/review.ts';
import { apparentAttenuation } from '../../core/sensitivity/apparent-attenuation.ts';
import { fitAttenuationLaw, lawAt } from '../../core/sensitivity/attenuation-law.ts';
import { curveDifference } from '../../core/sensitivity/distance-amplitude-curve.ts';
import { holdAgainstCurve } from '../../core/sensitivity/hold-against-curve.ts';
import { referenceLevel } from '../../core/sensitivity/reference-level.ts';
import { normal } from '../build/random.ts';
import { calibrationGiven, curveDecision, curvePoint, holeCapture, sensitivityOf } from '../build/sensitivity.ts';

const distances = [40, 60, 80, 100, 120];
const lossDbPerMm = 0.015;
const lawDb = (mm: number) => -30 * Math.log10(mm / 40) - 2 * lossDbPerMm * (mm - 40);

/** Of so many simulated curves, the share in which each figure lay within its interval. */
function shares<Name extends string>(
  runs: number,
  run: (random: () => number) => Readonly<Record<Name, boolean>>,
  seed: number,
): Record<Name, number> {
  const random = normal(seed);
  const held = {} as Record<Name, number>;
  for (let i = 0; i < runs; i++) {
    const one = run(random);
    for (const name of Object.keys(one) as Name[]) held[name] = (held[name] ?? 0) + (one[name] ? 1 / runs : 0);
  }
  return held;
}
/** Three standard deviations of the share that 2,000 runs at 95 % give: ±1.5 %. */
const about95 = (share: number) => {
  expect(share).toBeGreaterThan(0.935);
  expect(share).toBeLessThan(0.965);
};

describe('figures lie within their intervals as often as these say', () => {
  it('attenuation of a law, heights of unknown uncertainty: Student’s t in 95 of 100', () => {
    const { attenuation } = shares(
      2000,
      (random) => {
        const points = distances.map((mm) => curvePoint(mm, lawDb(mm) + 0.5 * random(), { uDb: null }));
        const law = fitAttenuationLaw(points, 1.5);
        return {
          attenuation: Math.abs(law.attenuationDbPerMm.value - lossDbPerMm) <= law.attenuationHalfWidth95DbPerMm!,
        };
      },
      1,
    );
    about95(attenuation);
  });

  it('attenuation of a law, heights of known uncertainty: at least 95 of 100', () => {
    const held = shares(
      2000,
      (random) => {
        const points = distances.map((mm) => curvePoint(mm, lawDb(mm) + 0.5 * random(), { uDb: 0.5 }));
        const law = fitAttenuationLaw(points, 1.5);
        const there = lawAt(law, 70)!;
        return {
          attenuation: Math.abs(law.attenuationDbPerMm.value - lossDbPerMm) <= law.attenuationHalfWidth95DbPerMm!,
          level: Math.abs(there.value - lawDb(70)) <= 1.96 * there.standardUncertainty!,
        };
      },
      2,
    );
    expect(held.attenuation).toBeGreaterThan(0.945);
    expect(held.attenuation).toBeLessThan(0.995);
    expect(held.level).toBeGreaterThan(0.935);
  });

  it('attenuation from two back-wall echoes, with distances that are not exact', () => {
    const { attenuation } = shares(
      2000,
      (random) => {
        const echo = (mm: number) => {
          const trueMm = mm + 0.4 * random();
          return {
            distanceMm: mm,
            uDistanceMm: 0.4,
            levelDb: {
              value: -20 * Math.log10(trueMm) - 2 * lossDbPerMm * trueMm + 0.1 * random(),
              standardUncertainty: 0.1,
            },
          };
        };
        const found = apparentAttenuation(echo(20), echo(40)).attenuationDbPerMm;
        return { attenuation: Math.abs(found.value - lossDbPerMm) <= 1.96 * found.standardUncertainty! };
      },
      3,
    );
    about95(attenuation);
  });

  it.each(['db', 'percent'] as const)(
    'a reading against a curve straight in %s, and a difference on it',
    (straightIn) => {
      const reference = referenceLevel([{ amplitudePercent: 80, gainDb: 40 }], { percent: 80, gainDb: null });
      const trueCurve = { straightIn, points: distances.map((mm) => curvePoint(mm, lawDb(mm))) };
      const held = shares(
        2000,
        (random) => {
          const curve = {
            straightIn,
            points: distances.map((mm) => curvePoint(mm, lawDb(mm) + 0.4 * random(), { uDb: 0.4 })),
          };
          // At a point, where no doubt about the line between two adds to it.
          const pathMm = 80 + 0.5 * random();
          const amplitudePercent = 40 * 10 ** ((0.3 * random()) / 20);
          const toCurve = holdAgainstCurve(
            {
              captureId: 'c',
              gate: 'g',
              soundPathMm: { value: pathMm, standardUncertainty: 0.5 },
              amplitudePercent,
              signalToNoiseDb: 300,
              gainDb: 40,
              flags: [],
            },
            {
              curve,
              reference,
              levels: [],
              decision: 'with-uncertainty',
              transferDb: { value: 1 + 0.2 * random(), standardUncertainty: 0.2 },
              errors: { uCouplingDb: 0.3, uGainDb: 0 },
            },
          ).toCurveDb!;
          const truth = 20 * Math.log10(0.5) + 1 - lawDb(80);
          const difference = curveDifference(curve, 50, 70)!;
          return {
            toCurve: Math.abs(toCurve.value - truth) <= 1.96 * toCurve.standardUncertainty!,
            difference:
              Math.abs(difference.value - curveDifference(trueCurve, 50, 70)!.value) <=
              1.96 * difference.standardUncertainty!,
          };
        },
        4,
      );
      expect(held.toCurve).toBeGreaterThan(0.935);
      expect(held.toCurve).toBeLessThan(0.975);
      about95(held.difference);
    },
  );

  it('what lies between two points by the law is within the uncertainty that is told, wherever between', () => {
    const reference = referenceLevel([{ amplitudePercent: 80, gainDb: 40 }], { percent: 80, gainDb: null });
    const curve = { straightIn: 'db' as const, points: distances.map((mm) => curvePoint(mm, lawDb(mm))) };
    for (let mm = 40; mm <= 120; mm += 0.5) {
      const amplitudePercent = 80 * 10 ** (lawDb(mm) / 20);
      const { toCurveDb } = holdAgainstCurve(
        {
          captureId: 'c',
          gate: 'g',
          soundPathMm: { value: mm, standardUncertainty: 0 },
          amplitudePercent,
          signalToNoiseDb: 300,
          gainDb: 40,
          flags: [],
        },
        {
          curve,
          reference,
          levels: [],
          decision: 'with-uncertainty',
          transferDb: { value: 0, standardUncertainty: 0 },
          errors: { uCouplingDb: 0, uGainDb: 0 },
        },
      );
      expect(Math.abs(toCurveDb!.value), `${mm} mm`).toBeLessThanOrEqual(2 * toCurveDb!.standardUncertainty! + 1e-9);
    }
  });
});

describe('from waveforms with noise', () => {
  it('heights scatter no wider than their uncertainty says', () => {
    const runs = 40;
    const levels = Array.from({ length: runs }, (_, seed) => {
      const holes = [30, 50, 70].map((mm, i) =>
        holeCapture(mm, { gainDb: 40 + 6 * i, noise: 1, seed: 1 + 3 * seed + i }),
      );
      const sensitivity = sensitivityOf(curveDecision([30, 50, 70], { referenceGainDb: 40 }));
      return evaluate(
        { ...emptyReview, calibration: calibrationGiven, sensitivity },
        holes,
      ).sensitivity!.curve!.points.map(({ levelDb }) => levelDb);
    });
    [0, 1, 2].forEach((i) => {
      const values = levels.map((points) => points[i].value);
      const mean = values.reduce((sum, value) => sum + value, 0) / runs;
      const scatter = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (runs - 1));
      const told = levels.reduce((sum, points) => sum + points[i].standardUncertainty!, 0) / runs;
      // χ² over 39 degrees of freedom lets an honest u be exceeded by a factor of 1.3 once in 1,000 times.
      expect(scatter).toBeLessThan(1.3 * told);
      expect(scatter).toBeGreaterThan(0.3 * told);
    });
  });
});
