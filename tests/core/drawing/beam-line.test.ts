import { describe, expect, it } from 'vitest';
import { beamFan, rayLine } from '../../../core/drawing/beam-line.ts';
import { curved } from '../../../core/part/curved.ts';
import { flat } from '../../../core/part/flat.ts';

describe('a ray in a plate', () => {
  // Plane geometry: half skip 25 · tan 60° = 43.301 mm, leg 25 / cos 60° = 50 mm.
  it.each([
    [
      'ends on the first leg',
      20,
      [
        [0, 0],
        [17.3205, 10],
      ],
    ],
    [
      'ends at the far surface',
      50,
      [
        [0, 0],
        [43.3013, 25],
      ],
    ],
    [
      'skips and comes up',
      60,
      [
        [0, 0],
        [43.3013, 25],
        [51.9615, 20],
      ],
    ],
    [
      'skips twice',
      120,
      [
        [0, 0],
        [43.3013, 25],
        [86.6025, 0],
        [103.923, 10],
      ],
    ],
  ] as const)('%s', (_, toPathMm, corners) => {
    const line = rayLine(60, toPathMm, flat(25), null);
    expect(line).toHaveLength(corners.length);
    corners.forEach(([across, depth], i) => {
      expect(line[i]!.acrossMm).toBeCloseTo(across, 3);
      expect(line[i]!.depthMm).toBeCloseTo(depth, 6);
    });
  });

  it('from the right of the weld goes to the left', () => {
    const line = rayLine(45, 30, flat(50), { side: 'right', offsetMm: 12 });
    expect(line[0]).toEqual({ acrossMm: 12, depthMm: 0 });
    expect(line[1]!.acrossMm).toBeCloseTo(12 - 30 * Math.SQRT1_2, 9);
  });

  it('straight down stays below the index point', () => {
    for (const { acrossMm } of rayLine(0, 70, flat(20), null)) expect(acrossMm).toBeCloseTo(0, 9);
  });
});

describe('a ray in a pipe', () => {
  it('that misses the bore goes from the outside to the outside', () => {
    const line = rayLine(70, 150, curved(100, 60, 'outside'), null);
    expect(line[1]!.depthMm).toBeCloseTo(0, 9);
  });
});

describe('the fan of a beam', () => {
  it('lies between its edges on each leg, and has as many pieces as its steepest ray has legs', () => {
    const section = flat(16);
    const fan = beamFan({ steepestDeg: 54, flattestDeg: 68 }, 50, section, null);
    const steepest = rayLine(54, 50, section, null);
    const flattest = rayLine(68, 50, section, null);
    expect(fan).toHaveLength(steepest.length - 1);
    const atFarSurface = fan[0]!.filter(({ depthMm }) => depthMm > 15.999).map(({ acrossMm }) => acrossMm);
    expect(Math.min(...atFarSurface)).toBeCloseTo(steepest[1]!.acrossMm, 9);
    expect(Math.max(...atFarSurface)).toBeCloseTo(flattest[1]!.acrossMm, 9);
  });

  it('ends just below the surface where the flat edge runs along it', () => {
    for (const piece of beamFan({ steepestDeg: 60, flattestDeg: 90 }, 80, flat(20), null))
      for (const { acrossMm, depthMm } of piece) {
        expect(Number.isFinite(acrossMm) && depthMm >= -1e-9 && depthMm <= 20 + 1e-9).toBe(true);
      }
  });
});
