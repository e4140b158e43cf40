import { describe, expect, it } from 'vitest';
import { beamEdges, halfAngleDeg } from '../../../core/part/beam.ts';
import { criticalAngleDeg, criticalAngles, refract } from '../../../core/part/refraction.ts';

const q = (value: number, standardUncertainty: number | null = 0) => ({ value, standardUncertainty });

describe('no refracted wave', () => {
  it.each([
    ['beyond the critical angle', 60, 2730, 3255],
    ['exactly at it', (Math.asin(0.5) * 180) / Math.PI, 1500, 3000],
    ['at 90° into the same velocity', 90, 3255, 3255],
    ['no number at all', Number.NaN, 2730, 3255],
  ])('is a reason in words and never a number: %s', (_, angle, from, to) => {
    const made = refract(q(angle), from, to);
    expect(made.kind).toBe('none');
    expect(made).not.toHaveProperty('angleDeg');
    expect(made.kind === 'none' && made.reason).toMatch(/no refracted wave/);
  });

  it('has a critical angle only into what is faster', () => {
    expect(criticalAngleDeg(3255, 2730)).toBeNull();
    expect(criticalAngleDeg(3255, 3255)).toBeNull();
    expect(criticalAngles(6000, 5920, 3255)).toEqual({ firstDeg: null, secondDeg: null });
  });
});

describe('Snell’s law', () => {
  it('carries the angle’s uncertainty as its derivative has it, unknown where it is not known', () => {
    const h = 1e-4;
    const at = (deg: number) => {
      const made = refract(q(deg), 2730, 3255);
      if (made.kind === 'none') throw new Error(made.reason);
      return made.angleDeg;
    };
    const slope = (at(45 + h).value - at(45 - h).value) / (2 * h);
    const made = refract(q(45, 0.2), 2730, 3255);
    expect(made.kind === 'refracted' && made.angleDeg.standardUncertainty).toBeCloseTo(0.2 * slope, 6);
    expect(refract(q(45, null), 2730, 3255)).toMatchObject({ angleDeg: { standardUncertainty: null } });
  });
});

describe('a beam’s spread', () => {
  const beam = { angleDeg: 60, elementMm: 10, frequencyMHz: 4, velocityMPerS: 3255, wedgeVelocityMPerS: 2730 };

  it('is none for an element smaller than its waves', () => {
    expect(halfAngleDeg('first-zero', 10, 10)).toBeNull();
    expect(beamEdges('pulse-echo-minus-20-db', { ...beam, elementMm: 0.1 })).toBeNull();
  });

  it('is none where no wedge makes such a beam', () => {
    expect(beamEdges('pulse-echo-minus-6-db', { ...beam, angleDeg: 80, wedgeVelocityMPerS: 3400 })).toBeNull();
  });

  it('lies evenly about a beam whose wedge is not known', () => {
    const edges = beamEdges('pulse-echo-minus-6-db', { ...beam, wedgeVelocityMPerS: null })!;
    expect(60 - edges.steepestDeg).toBeCloseTo(edges.flattestDeg - 60, 12);
  });

  it('reaches farther on the flat side behind a wedge, and runs along the surface beyond the critical angle', () => {
    const edges = beamEdges('pulse-echo-minus-6-db', beam)!;
    expect(60 - edges.steepestDeg).toBeGreaterThan(2);
    expect(edges.flattestDeg - 60).toBeGreaterThan(60 - edges.steepestDeg);
    expect(beamEdges('first-zero', { ...beam, angleDeg: 75, elementMm: 4 })!.flattestDeg).toBe(90);
  });
});
