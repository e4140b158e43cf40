import { describe, expect, it } from 'vitest';
import { blockByName, readBlock, similarBlocks } from '../../../core/block/block-by-name.ts';
import { publishedBlocks } from '../../../core/block/published-blocks.ts';

describe('readBlock refuses', () => {
  it.each([
    { name: '', code: 'unknown-block', says: 'no block is called' },
    { name: 'iso-7963', code: 'unknown-block', says: 'nearest are iso-7963/25, iso-7963/50' },
    { name: 'iso 7963 25', code: 'unknown-block', says: 'nearest are iso-7963/25' },
    { name: 'steps', code: 'block-not-readable', says: 'length' },
    { name: 'steps/10,15', code: 'block-not-readable', says: 'has no unit' },
    { name: 'steps/10mm,,15mm', code: 'block-not-readable', says: 'length' },
    { name: 'steps/10mm,10mm', code: 'block-not-readable', says: 'stands twice' },
    { name: 'steps/-10mm', code: 'block-not-readable', says: 'greater than 0' },
    { name: 'plate/0mm', code: 'block-not-readable', says: 'greater than 0' },
    { name: 'plate/10mm,20mm', code: 'block-not-readable', says: 'one thickness' },
    { name: 'plate/25mm/cheese', code: 'block-not-readable', says: '"cheese" is neither' },
    { name: 'plate/25mm/+-0.05', code: 'block-not-readable', says: 'has no unit' },
    { name: 'distances/50mm,125mm', code: 'block-not-readable', says: 'must say its mode' },
  ])('"$name" as $code', ({ name, code, says }) => {
    const outcome = readBlock(name);
    expect(outcome.ok ? null : outcome.problems[0].code).toBe(code);
    expect(outcome.ok ? '' : outcome.problems[0].sentence).toContain(says);
    expect(blockByName(name)).toBeNull();
  });
});

describe('readBlock', () => {
  it('finds every published block by its name, whatever the case', () => {
    for (const block of publishedBlocks) expect(blockByName(` ${block.name.toUpperCase()} `)).toBe(block);
  });

  it('offers the nearest names for a wrong one', () => {
    expect(similarBlocks('iso2400 quadrant')[0]).toContain('iso-2400/quadrant');
    expect(similarBlocks('two radius 1 3')).toEqual(
      expect.arrayContaining(['two-radius-1in-3in/1in', 'two-radius-1in-3in/3in']),
    );
  });

  it('reads steps with their further echoes as features, but not one that is a step itself', () => {
    const steps = blockByName('steps/10mm,30mm,20mm')!;
    expect(steps.distancesMm).toEqual([10, 20, 30]);
    expect(steps.features.map((f) => f.distanceMm)).toEqual([40, 40, 60, 80, 60, 90, 120]);
    expect(steps.nominal).toMatchObject({ material: 'block steel', mode: 'longitudinal', velocityMPerS: 5920 });
    expect(steps.shared).toBeNull();
  });

  it('reads tolerance, material and mode in any order, and inches', () => {
    const own = blockByName('distances/1in, 50mm /transverse/aluminium/±0.05mm')!;
    expect(own).toMatchObject({
      distancesMm: [25.4, 50],
      toleranceMm: 0.05,
      nominal: { material: 'aluminium', mode: 'transverse' },
    });
    expect(own.title).toBe('distances of 25.4, 50 mm, aluminium, transverse');
  });

  it('gives a plate’s tolerance to all its multiples at once', () => {
    const own = blockByName('plate/25mm/+-0.1mm')!;
    expect(own.toleranceMm).toBe(0);
    expect(own.shared!.uScale).toBeCloseTo(0.1 / Math.sqrt(3) / 25, 12);
  });
});
