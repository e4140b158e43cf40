import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { blockByName } from '../../core/block/block-by-name.ts';
import { matchSeries } from '../../core/block/match-series.ts';
import { publishedBlocks } from '../../core/block/published-blocks.ts';
import { type CalibrationPoint, fitDistance, pathFromTime, timeFromPath } from '../../core/calibration/distance.ts';
import type { Echo } from '../../core/signal/echoes.ts';

const velocity = fc.double({ min: 1000, max: 7000, noNaN: true });
const zeroOffset = fc.double({ min: -1, max: 40, noNaN: true });
const distances = fc
  .uniqueArray(fc.integer({ min: 1, max: 400 }), { minLength: 2, maxLength: 8 })
  .map((list) => list.sort((a, b) => a - b));

function points(list: readonly number[], velocityMPerS: number, zeroOffsetUs: number): CalibrationPoint[] {
  return list.map((distanceMm) => ({
    distanceMm,
    uDistanceMm: 0,
    timeUs: zeroOffsetUs + (2000 * distanceMm) / velocityMPerS,
    uTimeUs: 0.005,
    amplitudePercent: null,
    captureId: null,
    from: null,
    flags: [],
  }));
}

function fitted(list: readonly CalibrationPoint[]) {
  const outcome = fitDistance(list);
  if (!outcome.ok) throw new Error(outcome.problems[0].sentence);
  return outcome.value;
}

describe('a distance calibration', () => {
  it('gives back the velocity and zero offset that the times were made with', () => {
    fc.assert(
      fc.property(distances, velocity, zeroOffset, (list, v, t0) => {
        const { velocityMPerS, zeroOffsetUs, flags } = fitted(points(list, v, t0));
        expect(velocityMPerS.value / v).toBeCloseTo(1, 9);
        expect(zeroOffsetUs.value).toBeCloseTo(t0, 6);
        expect(flags).toEqual(list.length === 2 ? ['exact-fit'] : []);
      }),
    );
  });

  it('shifted in time shifts its zero offset alone', () => {
    fc.assert(
      fc.property(
        distances,
        velocity,
        zeroOffset,
        fc.double({ min: 0, max: 50, noNaN: true }),
        (list, v, t0, shift) => {
          const a = fitted(points(list, v, t0));
          const b = fitted(points(list, v, t0).map((p) => ({ ...p, timeUs: p.timeUs + shift })));
          expect(b.velocityMPerS.value / a.velocityMPerS.value).toBeCloseTo(1, 9);
          expect(b.zeroOffsetUs.value - a.zeroOffsetUs.value).toBeCloseTo(shift, 6);
        },
      ),
    );
  });

  it('path → time → path is the identity', () => {
    fc.assert(
      fc.property(
        distances,
        velocity,
        zeroOffset,
        fc.double({ min: 0, max: 500, noNaN: true }),
        (list, v, t0, pathMm) => {
          const calibration = fitted(points(list, v, t0));
          expect(pathFromTime(calibration, timeFromPath(calibration, pathMm), null).value).toBeCloseTo(pathMm, 7);
        },
      ),
    );
  });

  it('a path is surest near the middle of the calibrated distances', () => {
    fc.assert(
      fc.property(distances, velocity, zeroOffset, (list, v, t0) => {
        const calibration = fitted(points(list, v, t0));
        const middle = list.reduce((a, b) => a + b, 0) / list.length;
        const u = (pathMm: number) =>
          pathFromTime(calibration, timeFromPath(calibration, pathMm), 0.005).standardUncertainty!;
        expect(u(middle)).toBeLessThanOrEqual(u(list[0]) * (1 + 1e-9));
        expect(u(middle)).toBeLessThanOrEqual(u(list[list.length - 1]) * (1 + 1e-9));
      }),
    );
  });

  it('is never surer than its timing allows', () => {
    fc.assert(
      fc.property(
        distances,
        fc.array(fc.double({ min: -0.02, max: 0.02, noNaN: true }), { minLength: 8, maxLength: 8 }),
        (list, noise) => {
          const noisy = points(list, 5920, 1).map((p, i) => ({ ...p, timeUs: p.timeUs + noise[i] }));
          const middle = list.reduce((a, b) => a + b, 0) / list.length;
          const sxx = list.reduce((sum, d) => sum + (d - middle) ** 2, 0);
          const { velocityMPerS, velocityHalfWidth95MPerS } = fitted(noisy);
          const least = (velocityMPerS.value ** 2 / 2000) * (0.005 / Math.sqrt(sxx));
          expect(velocityMPerS.standardUncertainty!).toBeGreaterThan(least * (1 - 1e-9));
          expect(velocityHalfWidth95MPerS!).toBeGreaterThan(1.95 * velocityMPerS.standardUncertainty!);
        },
      ),
    );
  });
});

/** Echoes of a series at some heights, some of them missing, with noise echoes of a few per cent between. */
const scene = fc.record({
  block: fc.constantFrom(
    ...publishedBlocks.filter((b) => b.shared !== null && b.distancesMm.length > 2 && b.nominal.mode === 'transverse'),
  ),
  factor: fc.double({ min: 0.97, max: 1.03, noNaN: true }),
  zeroOffsetUs: fc.double({ min: 2, max: 14, noNaN: true }),
  missing: fc.option(fc.integer({ min: 0, max: 2 })),
  noise: fc.array(
    fc.record({
      at: fc.double({ min: 0.5, max: 150, noNaN: true }),
      height: fc.double({ min: 1, max: 3, noNaN: true }),
    }),
    { maxLength: 12 },
  ),
});

describe('matching echoes to a block', () => {
  it('finds the series whatever is missing and whatever grain stands between', () => {
    fc.assert(
      fc.property(scene, ({ block, factor, zeroOffsetUs, missing, noise }) => {
        const slope = 2000 / (block.nominal.velocityMPerS * factor);
        const present = block.distancesMm.slice(0, 3).filter((_, i) => i !== missing);
        const echoes: Echo[] = [
          ...present.map((d, i) => ({ timeUs: zeroOffsetUs + slope * d, height: 80 * 0.6 ** i })),
          ...noise.map(({ at, height }) => ({ timeUs: at, height })),
        ]
          .sort((a, b) => a.timeUs - b.timeUs)
          .map(({ timeUs, height }) => ({
            timeUs,
            uTimeUs: 0.003,
            onsetUs: null,
            flank: null,
            amplitudePercent: height,
            prominencePercent: height,
            signalToNoiseDb: null,
            flags: [],
            from: { first: 0, last: 0 },
          }));
        const { matches } = matchSeries(echoes, blockByName(block.name)!);
        for (const d of present) {
          const match = matches.find((m) => m.distanceMm === d);
          expect(match && echoes[match.echo].timeUs).toBeCloseTo(zeroOffsetUs + slope * d, 9);
        }
      }),
      { seed: 20260302, numRuns: 200 },
    );
  });
});
