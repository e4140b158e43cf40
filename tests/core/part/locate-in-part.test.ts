import { describe, expect, it } from 'vitest';
import { type BeamInPart, ellipseOf, locateInPart } from '../../../core/part/locate-in-part.ts';
import { sectionOf } from '../../../core/part/section.ts';
import { locate } from '../../../core/part/sound-path.ts';

const plate = (thicknessMm: number) => sectionOf({ kind: 'plate', thicknessMm, uThicknessMm: 0 });
const q = (value: number, standardUncertainty: number | null = 0) => ({ value, standardUncertainty });
const beam = (given: Partial<BeamInPart> = {}): BeamInPart => ({
  angleDeg: q(60, 0.5),
  sectionWith: plate,
  thicknessMm: q(25, 0.1),
  indexToFrontMm: 14,
  uIndexMm: 0.3,
  ...given,
});

describe('a place in a plate', () => {
  it.each([
    { pathMm: 30, leg: 1 },
    { pathMm: 60, leg: 2 },
    { pathMm: 130, leg: 3 },
    { pathMm: 180, leg: 4 },
  ])('at $pathMm mm of path has the closed form’s figures and uncertainties (leg $leg)', ({ pathMm, leg }) => {
    const path = q(pathMm, 0.2);
    const place = locateInPart(path, beam(), null);
    const closed = locate(path, { angleDeg: 60, thicknessMm: 25, uThicknessMm: 0.1 }, 0.5)!;
    expect(place.leg).toBe(leg);
    expect(place.depthMm.value).toBeCloseTo(closed.depthMm.value, 9);
    expect(place.depthMm.standardUncertainty).toBeCloseTo(closed.depthMm.standardUncertainty!, 6);
    expect(place.surfaceDistanceMm.value).toBeCloseTo(closed.surfaceDistanceMm.value, 9);
    expect(place.surfaceDistanceMm.standardUncertainty).toBeCloseTo(closed.surfaceDistanceMm.standardUncertainty!, 6);
    expect(place.fromFrontMm!.value).toBeCloseTo(closed.surfaceDistanceMm.value - 14, 9);
    expect(place.fromFrontMm!.standardUncertainty).toBeCloseTo(
      Math.hypot(closed.surfaceDistanceMm.standardUncertainty!, 0.3),
      6,
    );
  });

  it('counts the thickness as often as the beam has passed it: 2 thicknesses on leg 2 and on leg 3', () => {
    const exactBut = beam({ angleDeg: q(60, 0), thicknessMm: q(25, 0.1) });
    expect(locateInPart(q(30), exactBut, null).depthMm.standardUncertainty).toBeCloseTo(0, 9);
    expect(locateInPart(q(60), exactBut, null).depthMm.standardUncertainty).toBeCloseTo(0.2, 6);
    expect(locateInPart(q(130), exactBut, null).depthMm.standardUncertainty).toBeCloseTo(0.2, 6);
    expect(locateInPart(q(180), exactBut, null).depthMm.standardUncertainty).toBeCloseTo(0.4, 6);
  });

  it('is mirrored where the probe stands on the other side', () => {
    const from = (side: 'left' | 'right') => locateInPart(q(60, 0.2), beam(), { side, offsetMm: 40, uOffsetMm: 0.4 });
    const [left, right] = [from('left'), from('right')];
    expect(left.acrossMm!.value).toBeCloseTo(60 * Math.sin(Math.PI / 3) - 40, 9);
    expect(right.acrossMm!.value).toBeCloseTo(-left.acrossMm!.value, 12);
    expect(right.ellipse!.tiltDeg).toBeCloseTo(-left.ellipse!.tiltDeg, 9);
    expect(right.ellipse!.semiMajorMm).toBeCloseTo(left.ellipse!.semiMajorMm, 12);
    expect(left.acrossMm!.standardUncertainty).toBeCloseTo(
      Math.hypot(left.surfaceDistanceMm.standardUncertainty!, 0.4, 0.3),
      9,
    );
  });

  it.each<[string, Partial<BeamInPart>, number | null]>([
    ['the angle’s', { angleDeg: q(60, null) }, 0.2],
    ['the path’s', {}, null],
    ['the thickness’s', { thicknessMm: q(25, null) }, 0.2],
  ])('has no ellipse where %s uncertainty is not known, and keeps its figures', (_, given, uPath) => {
    const place = locateInPart(q(60, uPath), beam(given), { side: 'left', offsetMm: 40, uOffsetMm: 0 });
    expect(place.ellipse).toBeNull();
    expect(place.depthMm).toEqual({ value: expect.closeTo(20, 9), standardUncertainty: null });
    expect(place.acrossMm!.standardUncertainty).toBeNull();
  });

  it('says where the leg is in doubt: near a surface within its uncertainty', () => {
    const remarks = (pathMm: number) => locateInPart(q(pathMm, 0.2), beam(), null).remarks;
    expect(remarks(49.9)).toEqual([expect.stringContaining('far surface: leg 1 or 2')]);
    expect(remarks(50.1)).toEqual([expect.stringContaining('far surface: leg 1 or 2')]);
    expect(remarks(99.9)).toEqual([expect.stringContaining('scanned surface: leg 2 or 3')]);
    expect(remarks(100.1)).toEqual([expect.stringContaining('scanned surface: leg 2 or 3')]);
    expect(remarks(70)).toEqual([]);
    expect(remarks(0.1)).toEqual([]);
  });
});

describe('a place in a pipe', () => {
  const pipe = (thicknessMm: number) =>
    sectionOf({ kind: 'pipe', outsideRadiusMm: 100, thicknessMm, uThicknessMm: 0, from: 'outside' });

  it('follows what small changes of path, angle and thickness do', () => {
    const at = (pathMm: number, angleDeg: number, thicknessMm: number) =>
      locateInPart(q(pathMm), beam({ angleDeg: q(angleDeg), thicknessMm: q(thicknessMm), sectionWith: pipe }), null);
    const h = 1e-3;
    const changes = [
      [(at(20 + h, 45, 10).depthMm.value - at(20 - h, 45, 10).depthMm.value) / (2 * h), 0.2],
      [(at(20, 45 + h, 10).depthMm.value - at(20, 45 - h, 10).depthMm.value) / (2 * h), 0.5],
      [(at(20, 45, 10 + h).depthMm.value - at(20, 45, 10 - h).depthMm.value) / (2 * h), 0.1],
    ];
    const expected = Math.hypot(...changes.map(([slope, u]) => slope! * u!));
    const place = locateInPart(
      q(20, 0.2),
      beam({ angleDeg: q(45, 0.5), thicknessMm: q(10, 0.1), sectionWith: pipe }),
      null,
    );
    expect(place.leg).toBe(2);
    expect(place.depthMm.standardUncertainty).toBeCloseTo(expected, 5);
  });

  it('has no uncertainty where the beam grazes the bore within that of its angle', () => {
    const wall = 100 * (1 - Math.sin((60 * Math.PI) / 180));
    const place = locateInPart(q(30, 0.2), beam({ thicknessMm: q(wall * 0.99, 0.1), sectionWith: pipe }), null);
    expect(place.ellipse).toBeNull();
    expect(place.depthMm.standardUncertainty).toBeNull();
    expect(place.remarks).toEqual([expect.stringContaining('grazes the bore')]);
  });

  it('says that a beam misses the bore', () => {
    const place = locateInPart(q(30, 0.2), beam({ thicknessMm: q(40, 0.1), sectionWith: pipe }), null);
    expect(place.remarks).toEqual([expect.stringContaining('misses the bore')]);
    expect(place.ellipse).not.toBeNull();
  });
});

describe('an ellipse', () => {
  it.each([
    [{ along: 4, depth: 1, both: 0 }, 4, 2, 0],
    [{ along: 1, depth: 4, both: 0 }, 4, 2, 90],
    [{ along: 1, depth: 1, both: 0 }, 2, 2, 0],
    [{ along: 2.5, depth: 2.5, both: 1.5 }, 4, 2, 45],
    [{ along: 2.5, depth: 2.5, both: -1.5 }, 4, 2, -45],
    [{ along: 1, depth: 1, both: 1 }, 2 * Math.SQRT2, 0, 45],
    [{ along: 0, depth: 0, both: 0 }, 0, 0, 0],
  ])('of %o has semi-axes %f and %f at %i°', (covariance, major, minor, tilt) => {
    const ellipse = ellipseOf(covariance);
    expect(ellipse.semiMajorMm).toBeCloseTo(major, 9);
    expect(ellipse.semiMinorMm).toBeCloseTo(minor, 9);
    expect(ellipse.tiltDeg).toBeCloseTo(tilt, 9);
  });
});
