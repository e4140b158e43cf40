import { describe, expect, it } from 'vitest';
import { astmE494, blockSteel, physicsHandbook } from '../../core/material/velocities.ts';

describe('velocities of ASTM E494, table X3.1 (read): longitudinal and transverse, m/s', () => {
  it.each([
    ['aluminium', 6300, 3130],
    ['brass', 4370, 2100],
    ['copper', 4700, 2260],
    ['acrylic resin', 2670, 1120],
    ['stainless steel 347', 5790, 3100],
    ['stainless steel 410', 5900, 3300],
    ['steel', 5900, 3230],
    ['titanium', 6240, 3215],
    ['zirconium', 4310, 1960],
  ])('%s: %i, %i', (material, longitudinalMPerS, transverseMPerS) => {
    expect(astmE494.rows.find((row) => row.material === material)).toMatchObject({
      longitudinalMPerS,
      transverseMPerS,
    });
  });

  it('has its 32 materials', () => expect(astmE494.rows.length).toBe(32));
});

describe('sources disagree', () => {
  it('by 60 m/s on steel and 120 m/s on aluminium', () => {
    const difference = (material: string) => {
      const [a, b] = [astmE494, physicsHandbook].map(
        (t) => t.rows.find((row) => row.material === material)!.longitudinalMPerS as number,
      );
      return Math.abs(a - b);
    };
    expect(difference('steel')).toBe(60);
    expect(difference('aluminium')).toBe(120);
  });

  it('block steel is 5920 ± 30 and 3255 ± 15 m/s (ISO 2400:2012, from memory)', () => {
    expect(blockSteel.longitudinal).toMatchObject({ velocityMPerS: 5920, toleranceMPerS: 30 });
    expect(blockSteel.transverse).toMatchObject({ velocityMPerS: 3255, toleranceMPerS: 15 });
  });
});
