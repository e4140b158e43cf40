import { describe, expect, it } from 'vitest';
import type { DynamicPoint } from '../../core/scan/echo-dynamic.ts';
import { lengthOf, type SizingBy } from '../../core/sizing/length.ts';
import { nearestOfReflector, pointAt, shareOnReflector } from '../build/echo-dynamic.ts';
import { normal, uniform } from '../build/random.ts';

const sigmaMm = 3;
/** Full width of a Gaussian profile at a part of its height: 2σ·√(2·ln(1/part)). */
const widthAt = (part: number) => 2 * sigmaMm * Math.sqrt(2 * Math.log(1 / part));
const plain: SizingBy = {
  sizing: { kind: 'drop-6-db' },
  beamWidthMm: null,
  uBeamWidthMm: 0,
  uPositionMm: 0,
  curveDbAt: () => null,
};

interface Case {
  readonly stepMm: number;
  readonly noisePercent: number;
  readonly shortestMm: number;
}

/** Of 1,000 reflectors of random length and place, the share whose true length lies within ± 2 u, and the mean u. */
function coverage(
  { stepMm, noisePercent, shortestMm }: Case,
  profile: typeof shareOnReflector,
  by: SizingBy,
  seed: number,
): { share: number; meanU: number } {
  const random = normal(seed);
  const even = uniform(seed + 1000);
  const runs = 1000;
  let [held, sumU, sized] = [0, 0, 0];
  for (let run = 0; run < runs; run++) {
    const lengthMm = shortestMm + 25 * even();
    const fromMm = 30 + stepMm * even();
    const reflector = { fromMm, toMm: fromMm + lengthMm };
    const points: DynamicPoint[] = [];
    for (let at = 0; at <= 110; at += stepMm) {
      const height = 80 * profile(at, reflector, sigmaMm);
      const read = Math.abs(height + noisePercent * random());
      const lost = noisePercent > 0 && read < 6 * noisePercent;
      points.push(pointAt(at, Math.max(read, 1e-6), { noisePercent, state: lost ? 'missing' : 'read' }));
    }
    const own = { first: 0, last: points.length - 1 };
    const result = lengthOf(points, own, by);
    if (result.lengthMm === null || result.lengthMm.standardUncertainty === null || result.atLeast) continue;
    sized++;
    const error = result.lengthMm.value - lengthMm;
    sumU += result.lengthMm.standardUncertainty;
    if (Math.abs(error) <= 2 * result.lengthMm.standardUncertainty) held++;
  }
  return { share: held / sized, meanU: sumU / sized };
}

describe('lengths by the 6 dB drop lie within ± 2 u of the truth, the echo being the share of a Gaussian beam that falls on the reflector', () => {
  // Reflectors from two and a half times the beam's width at −6 dB (7.1 mm) on: on shorter ones the beam is never wholly on the reflector, and the method is long.
  it.each([
    { stepMm: 0.5, noisePercent: 0.3 },
    { stepMm: 1, noisePercent: 0.3 },
    { stepMm: 1, noisePercent: 1 },
    { stepMm: 2, noisePercent: 0.3 },
    { stepMm: 2, noisePercent: 1 },
    { stepMm: 3, noisePercent: 0.5 },
    { stepMm: 5, noisePercent: 0.5 },
    { stepMm: 5, noisePercent: 2 },
  ])('step $stepMm mm, noise $noisePercent %', ({ stepMm, noisePercent }) => {
    const { share, meanU } = coverage({ stepMm, noisePercent, shortestMm: 18 }, shareOnReflector, plain, 7);
    expect(share).toBeGreaterThan(0.94);
    // Never wider than both ends' whole brackets, wherever in them the crossing lies.
    expect(meanU).toBeLessThan(stepMm * Math.sqrt(2 / 3) + 0.2);
  });
});

describe('lengths by the 20 dB drop, the beam’s width taken off, the echo being that of the reflector’s nearest point', () => {
  const by: SizingBy = { ...plain, sizing: { kind: 'drop-20-db' }, beamWidthMm: widthAt(0.1) };
  it.each([
    { stepMm: 0.5, noisePercent: 0.3 },
    { stepMm: 1, noisePercent: 0.3 },
    { stepMm: 2, noisePercent: 0.3 },
    { stepMm: 5, noisePercent: 0.3 },
  ])('step $stepMm mm, noise $noisePercent %', ({ stepMm, noisePercent }) => {
    const { share, meanU } = coverage({ stepMm, noisePercent, shortestMm: 3 }, nearestOfReflector, by, 11);
    expect(share).toBeGreaterThan(0.94);
    expect(meanU).toBeLessThan(stepMm * Math.sqrt(2 / 3) + 0.2);
  });
});
