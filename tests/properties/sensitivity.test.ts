import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apparentAttenuation } from '../../core/sensitivity/apparent-attenuation.ts';
import { fitAttenuationLaw } from '../../core/sensitivity/attenuation-law.ts';
import {
  curveAt,
  curveDifference,
  type DistanceAmplitudeCurve,
} from '../../core/sensitivity/distance-amplitude-curve.ts';
import { holdAgainstCurve } from '../../core/sensitivity/hold-against-curve.ts';
import { levelAboveReference, referenceLevel } from '../../core/sensitivity/reference-level.ts';
import { timeCorrectedGain } from '../../core/sensitivity/time-corrected-gain.ts';
import { curvePoint } from '../build/sensitivity.ts';

const exact = { uCouplingDb: 0, uGainDb: 0 };
const level = fc.double({ min: -60, max: 20, noNaN: true });
/** Three to eight points, at least 1 mm apart. */
const curve = fc
  .array(fc.record({ step: fc.double({ min: 1, max: 60, noNaN: true }), level }), { minLength: 3, maxLength: 8 })
  .chain((steps) =>
    fc.constantFrom('db' as const, 'percent' as const).map((straightIn): DistanceAmplitudeCurve => {
      const points = steps.map(({ level: levelDb }, i) => {
        const distanceMm = steps.slice(0, i + 1).reduce((sum, { step }) => sum + step, 0);
        return curvePoint(distanceMm, levelDb, { uDb: 0.1 });
      });
      return { straightIn, points };
    }),
  );

describe('a curve', () => {
  it('goes through its points', () => {
    fc.assert(
      fc.property(curve, (drawn) => {
        for (const { distanceMm, levelDb } of drawn.points) {
          const there = curveAt(drawn, distanceMm)!.levelDb;
          // 0 and −0 are one level.
          expect(there.value + 0).toBe(levelDb.value + 0);
          expect(there.standardUncertainty).toBeCloseTo(0.1, 9);
        }
      }),
    );
  });

  it('rises or falls without a turn between two points, and stays between their levels', () => {
    fc.assert(
      fc.property(
        curve,
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 2, maxLength: 6 }),
        (drawn, parts) => {
          const places = [...parts].sort((a, b) => a - b);
          drawn.points.slice(1).forEach((to, i) => {
            const from = drawn.points[i];
            const levels = places.map(
              (part) =>
                curveAt(drawn, Math.min(from.distanceMm + part * (to.distanceMm - from.distanceMm), to.distanceMm))!
                  .levelDb.value,
            );
            const sign = Math.sign(to.levelDb.value - from.levelDb.value);
            const [low, high] = [from.levelDb.value, to.levelDb.value].sort((a, b) => a - b);
            levels.forEach((value, k) => {
              expect(value).toBeGreaterThanOrEqual(low - 1e-9);
              expect(value).toBeLessThanOrEqual(high + 1e-9);
              if (k > 0) expect(sign * (value - levels[k - 1])).toBeGreaterThanOrEqual(-1e-9);
            });
          });
        },
      ),
    );
  });

  it('is never surer of a difference than the levels allow, nor less sure than both apart', () => {
    fc.assert(
      fc.property(
        curve,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (drawn, p, q) => {
          const first = drawn.points[0].distanceMm;
          const span = drawn.points.at(-1)!.distanceMm - first;
          const [a, b] = [first + p * span, first + q * span];
          const difference = curveDifference(drawn, a, b);
          if (difference === null) return;
          const apart = Math.hypot(...[a, b].map((mm) => curveAt(drawn, mm)!.levelDb.standardUncertainty!));
          expect(difference.standardUncertainty!).toBeLessThanOrEqual(apart + 1e-9);
          expect(difference.value).toBeCloseTo(curveAt(drawn, b)!.levelDb.value - curveAt(drawn, a)!.levelDb.value, 9);
        },
      ),
    );
  });

  it('with its gain added is flat', () => {
    fc.assert(
      fc.property(curve, (drawn) => {
        const at = drawn.points[1].distanceMm;
        for (const row of timeCorrectedGain(drawn, at))
          expect(row.curveLevelDb.value + row.addedGainDb.value).toBeCloseTo(drawn.points[1].levelDb.value, 9);
      }),
    );
  });
});

describe('gain', () => {
  const height = fc.double({ min: 1, max: 100, noNaN: true });
  const gain = fc.double({ min: 0, max: 100, noNaN: true });

  it('a shift of every gain by the same number of dB changes no level', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(height, gain), { minLength: 1, maxLength: 6 }), gain, (heights, shift) => {
        const levels = (by: number) => {
          const read = heights.map(([amplitudePercent, gainDb]) => ({
            amplitudePercent,
            gainDb: gainDb + by,
            signalToNoiseDb: null,
          }));
          const reference = referenceLevel(read, { percent: 80, gainDb: null });
          return read.map((one) => levelAboveReference(one, reference, exact).value);
        };
        const shifted = levels(shift);
        levels(0).forEach((value, i) => {
          expect(shifted[i]).toBeCloseTo(value, 9);
        });
      }),
    );
  });

  it('more gain that draws the same echo higher changes nothing against the curve', () => {
    fc.assert(
      fc.property(
        curve,
        height,
        gain,
        gain,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (drawn, percent, gainDb, more, part) => {
          const first = drawn.points[0].distanceMm;
          const soundPathMm = {
            value: first + part * (drawn.points.at(-1)!.distanceMm - first),
            standardUncertainty: 0,
          };
          const by = {
            curve: drawn,
            reference: referenceLevel([{ amplitudePercent: 80, gainDb: 40 }], { percent: 80, gainDb: null }),
            levels: [],
            decision: 'with-uncertainty',
            transferDb: { value: 0, standardUncertainty: 0 },
            errors: exact,
          } as const;
          const held = (amplitudePercent: number, at: number) =>
            holdAgainstCurve(
              { captureId: 'c', gate: 'g', soundPathMm, amplitudePercent, signalToNoiseDb: 60, gainDb: at, flags: [] },
              by,
            );
          const [one, other] = [held(percent, gainDb), held(percent * 10 ** (more / 20), gainDb + more)];
          expect(other.toCurveDb!.value).toBeCloseTo(one.toCurveDb!.value, 8);
        },
      ),
    );
  });
});

describe('attenuation', () => {
  const alpha = fc.double({ min: -0.2, max: 0.5, noNaN: true });
  const exponent = fc.constantFrom(1, 1.5, 2);

  it('is found by the fitted law, whatever the spreading and the distances', () => {
    fc.assert(
      fc.property(
        alpha,
        exponent,
        fc.uniqueArray(fc.integer({ min: 5, max: 400 }), { minLength: 3, maxLength: 7 }),
        level,
        (lossDbPerMm, spreading, distances, offset) => {
          const points = distances.map((mm) =>
            curvePoint(mm, offset - 20 * spreading * Math.log10(mm) - 2 * lossDbPerMm * mm),
          );
          expect(fitAttenuationLaw(points, spreading).attenuationDbPerMm.value).toBeCloseTo(lossDbPerMm, 8);
        },
      ),
    );
  });

  it('is found from two back-wall echoes', () => {
    fc.assert(
      fc.property(
        alpha,
        fc.integer({ min: 5, max: 400 }),
        fc.integer({ min: 1, max: 400 }),
        (lossDbPerMm, near, farther) => {
          const echo = (distanceMm: number) => ({
            distanceMm,
            uDistanceMm: 0,
            levelDb: { value: -20 * Math.log10(distanceMm) - 2 * lossDbPerMm * distanceMm, standardUncertainty: 0.1 },
          });
          const found = apparentAttenuation(echo(near), echo(near + farther)).attenuationDbPerMm;
          expect(found.value).toBeCloseTo(lossDbPerMm, 8);
          expect(found.standardUncertainty).toBeCloseTo(Math.hypot(0.1, 0.1) / (2 * farther), 9);
        },
      ),
    );
  });
});
