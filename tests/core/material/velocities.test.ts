import { describe, expect, it } from 'vitest';
import {
  materialNames,
  materialsOfVelocity,
  nominalVelocity,
  velocityTables,
} from '../../../core/material/velocities.ts';

describe('nominalVelocity', () => {
  it.each(['', 'unobtainium', 'polystyrene foam'])('knows no "%s"', (material) => {
    expect(nominalVelocity(material, 'longitudinal')).toBeNull();
  });

  it.each([
    { material: 'block steel', mode: 'longitudinal', velocity: 5920, tolerance: 30, source: 'ISO 2400' },
    { material: 'block steel', mode: 'transverse', velocity: 3255, tolerance: 15, source: 'ISO 2400' },
    { material: 'steel', mode: 'longitudinal', velocity: 5900, tolerance: 118, source: 'ASTM E494' },
    { material: 'steel', mode: 'transverse', velocity: 3230, tolerance: 64.6, source: 'ASTM E494' },
    { material: 'Aluminum', mode: 'longitudinal', velocity: 6300, tolerance: 126, source: 'ASTM E494' },
    { material: 'nickel', mode: 'longitudinal', velocity: 5630, tolerance: 410, source: 'ASTM E494' },
    { material: 'cast iron', mode: 'longitudinal', velocity: 4550, tolerance: 1050, source: 'ASTM E494' },
    { material: 'polystyrene', mode: 'transverse', velocity: 1120, tolerance: 22.4, source: 'from memory' },
  ] as const)(
    '$material, $mode: $velocity ± $tolerance m/s ($source)',
    ({ material, mode, velocity, tolerance, source }) => {
      const nominal = nominalVelocity(material, mode)!;
      expect(nominal.velocityMPerS).toBe(velocity);
      expect(nominal.toleranceMPerS).toBeCloseTo(tolerance, 10);
      expect(nominal.source).toContain(source);
    },
  );

  it('has both modes of every material it names', () => {
    for (const name of materialNames) {
      expect(nominalVelocity(name, 'transverse')!.velocityMPerS).toBeLessThan(
        nominalVelocity(name, 'longitudinal')!.velocityMPerS,
      );
    }
  });
});

describe('the tables', () => {
  it('say where they come from and how sure they are', () => {
    expect(velocityTables.map((t) => [t.source.slice(0, 10), t.certainty])).toEqual([
      ['ASTM E494,', 'read'],
      ['Handbook o', 'memory'],
    ]);
  });

  it.each(velocityTables.map((t) => [t.source, t] as const))(
    '%s: each material once, shear waves between 0.3 and 0.72 of longitudinal ones',
    (_, t) => {
      expect(new Set(t.rows.map((row) => row.material)).size).toBe(t.rows.length);
      for (const { longitudinalMPerS: l, transverseMPerS: s } of t.rows) {
        // Poisson's ratio between 0 and 0.45 bounds the ratio by elasticity; typing errors leave this band
        if (typeof l !== 'number' || typeof s !== 'number') continue;
        expect(s / l).toBeGreaterThan(0.3);
        expect(s / l).toBeLessThan(Math.SQRT1_2 + 0.01);
      }
    },
  );
});

describe('materialsOfVelocity', () => {
  it('finds nothing at 9000 m/s', () => expect(materialsOfVelocity(9000)).toEqual([]));

  it('finds steel first at 5925 m/s, and what else it could be', () => {
    const found = materialsOfVelocity(5925);
    expect(found[0]).toMatchObject({ material: 'block steel', mode: 'longitudinal' });
    expect(found.map((n) => n.material)).toContain('stainless steel 410');
  });

  it('finds the transverse wave of steel at 3250 m/s', () => {
    expect(materialsOfVelocity(3250).map((n) => `${n.material} ${n.mode}`)).toContain('block steel transverse');
  });
});
