import { describe, expect, it } from 'vitest';
import { drawnEllipse, drawnLine, drawnOutline, drawnPlane, placeAtPoint } from '../../../core/drawing/drawn-plane.ts';
import type { Shape } from '../../../core/review/part-decision.ts';

const plate: Extract<Shape, { kind: 'plate' }> = { kind: 'plate', thicknessMm: 16, uThicknessMm: 0.1 };
const pipe = (from: 'outside' | 'inside'): Extract<Shape, { kind: 'pipe' }> => ({
  kind: 'pipe',
  outsideRadiusMm: 100,
  thicknessMm: 10,
  uThicknessMm: 0.1,
  from,
});

describe('a place on the drawing', () => {
  it('of a plate stands as it is told', () => {
    expect(drawnPlane(plate)({ acrossMm: -3, depthMm: 7 })).toEqual({ xMm: -3, yMm: 7 });
  });

  // By hand: a quarter of the way round is radius · π / 2 along the surface.
  it.each([
    ['over the middle, on the outside', 'outside', 0, 0, 0, 0],
    ['over the middle, at the bore', 'outside', 0, 10, 0, 10],
    ['a quarter round, on the outside', 'outside', 50 * Math.PI, 0, 100, 100],
    ['a quarter round, at the bore', 'outside', 50 * Math.PI, 10, 90, 100],
    ['over the middle, on the outside, seen from the bore', 'inside', 0, 10, 0, 10],
    ['a quarter round on the bore: above where the scan began', 'inside', 45 * Math.PI, 0, 90, -90],
    ['to the left is left', 'outside', -50 * Math.PI, 0, -100, 100],
  ] as const)('of a pipe, %s', (_, from, acrossMm, depthMm, xMm, yMm) => {
    const at = drawnPlane(pipe(from))({ acrossMm, depthMm });
    expect(at.xMm).toBeCloseTo(xMm, 9);
    expect(at.yMm).toBeCloseTo(yMm, 9);
  });

  it.each([
    ['plate', plate],
    ['pipe from outside', pipe('outside')],
    ['pipe from the bore', pipe('inside')],
  ] as const)('leads back to the place, in a %s', (_, shape) => {
    for (const acrossMm of [-120, -7, 0, 33])
      for (const depthMm of [-1, 0, 4.5, 10]) {
        const back = placeAtPoint(drawnPlane(shape)({ acrossMm, depthMm }), shape);
        expect(back.acrossMm).toBeCloseTo(acrossMm, 9);
        expect(back.depthMm).toBeCloseTo(depthMm, 9);
      }
  });

  it('keeps the distance to the pipe’s axis along its surface', () => {
    const line = drawnLine({ acrossMm: -30, depthMm: 4 }, { acrossMm: 30, depthMm: 4 }, pipe('outside'));
    expect(line.length).toBeGreaterThan(30);
    for (const { xMm, yMm } of line) expect(Math.hypot(xMm, 100 - yMm)).toBeCloseTo(96, 9);
  });
});

describe('an outline', () => {
  it('goes once through each corner and is left open for the line back', () => {
    const corners = [
      { acrossMm: -2, depthMm: 0 },
      { acrossMm: 2, depthMm: 0 },
      { acrossMm: 0, depthMm: 16 },
    ];
    expect(drawnOutline(corners, plate)).toEqual(corners.map((p) => ({ xMm: p.acrossMm, yMm: p.depthMm })));
  });
});

describe('an ellipse', () => {
  it('has its major axis where it is told, positive tilts going down to the right', () => {
    const line = drawnEllipse({ acrossMm: 5, depthMm: 8 }, { semiMajorMm: 2, semiMinorMm: 0.5, tiltDeg: 30 }, plate);
    const first = line[0]!;
    expect(first.xMm).toBeCloseTo(5 + 2 * Math.cos(Math.PI / 6), 9);
    expect(first.yMm).toBeCloseTo(9, 9);
    const farthest = Math.max(...line.map(({ xMm, yMm }) => Math.hypot(xMm - 5, yMm - 8)));
    expect(farthest).toBeCloseTo(2, 9);
  });
});
