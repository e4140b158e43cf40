import { describe, expect, it } from 'vitest';
import { blockByName } from '../../core/block/block-by-name.ts';

const inch = 25.4;

describe('the echo series of reference blocks', () => {
  it.each([
    // Two radii on one centre: d = R1 + n(R1 + R2) (derived); radii of ISO 7963 second-hand, of inch blocks from memory
    { name: 'iso-7963/25', series: [25, 100, 175, 250], source: 'ISO 7963, derived' },
    { name: 'iso-7963/50', series: [50, 125, 200, 275], source: 'ISO 7963, derived' },
    { name: 'two-radius-1in-3in/1in', series: [1, 5, 9, 13].map((n) => n * inch), source: 'AWS D1.1, derived' },
    { name: 'two-radius-1in-3in/3in', series: [3, 7, 11, 15].map((n) => n * inch), source: 'AWS D1.1, derived' },
    {
      name: 'inch-quadrant/4in-return-1in',
      series: [4, 9, 14, 19].map((n) => n * inch),
      source: 'inch block No. 1, derived',
    },
    { name: 'iso-2400/quadrant-return-25', series: [100, 225, 350, 475], source: 'ISO 2400 type, derived' },
    { name: 'two-radius-1in-2in/1in', series: [1, 4, 7, 10].map((n) => n * inch), source: 'AWS D1.1, derived' },
    { name: 'two-radius-1in-2in/2in', series: [2, 5, 8, 11].map((n) => n * inch), source: 'AWS D1.1, derived' },
    { name: 'iso-2400/quadrant-slot', series: [100, 200, 300], source: 'ISO 2400, from memory' },
    { name: 'iso-2400/quadrant-plain', series: [100], source: 'ISO 2400, from memory' },
    { name: 'iso-2400/thickness', series: [25, 50, 75, 100], source: 'ISO 2400, second-hand' },
    { name: 'iso-2400/steps', series: [85, 91, 100], source: 'ISO 2400, from memory' },
    { name: 'plate/12.5mm', series: [12.5, 25, 37.5, 50], source: 'derived' },
  ])('$name ($source)', ({ name, series }) => {
    const block = blockByName(name)!;
    expect(block.distancesMm.slice(0, series.length)).toEqual(series.map((d) => expect.closeTo(d, 10)));
  });

  it.each([
    { name: 'iso-2400/quadrant-slot', velocity: 3255, tolerance: 15 },
    { name: 'iso-2400/thickness', velocity: 5920, tolerance: 30 },
    { name: 'iso-7963/25', velocity: 3255, tolerance: 15 },
  ])(
    '$name is of steel of $velocity ± $tolerance m/s (ISO 2400:2012, from memory)',
    ({ name, velocity, tolerance }) => {
      expect(blockByName(name)!.nominal).toMatchObject({ velocityMPerS: velocity, toleranceMPerS: tolerance });
    },
  );
});
