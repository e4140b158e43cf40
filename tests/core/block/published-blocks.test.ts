import { describe, expect, it } from 'vitest';
import { publishedBlocks } from '../../../core/block/published-blocks.ts';

describe('the published blocks', () => {
  it('have names of their own', () =>
    expect(new Set(publishedBlocks.map((b) => b.name)).size).toBe(publishedBlocks.length));

  it.each(publishedBlocks.map((b) => [b.name, b] as const))(
    '%s: rising distances, a source, and no feature where a reflector is',
    (_, block) => {
      expect(block.source.length).toBeGreaterThan(10);
      expect(block.distancesMm[0]).toBeGreaterThan(0);
      expect([...block.distancesMm].sort((a, b) => a - b)).toEqual(block.distancesMm);
      for (const { distanceMm } of block.features) {
        for (const d of block.distancesMm) expect(Math.abs(d - distanceMm)).toBeGreaterThan(1);
      }
    },
  );

  it.each(publishedBlocks.map((b) => [b.name, b] as const))(
    '%s: a tolerance, of each distance or shared by all',
    (_, block) => {
      expect(block.shared === null ? block.toleranceMm : block.shared.uScale).toBeGreaterThan(0);
      expect(block.shared === null || block.toleranceMm === 0).toBe(true);
    },
  );
});
