import { describe, expect, it } from 'vitest';
import { locate } from '../../core/part/sound-path.ts';

describe('angle-beam geometry in a flat plate (plane geometry, derived; the same relations stand in public teaching pages)', () => {
  it.each([
    { pathMm: 25, angleDeg: 45, thicknessMm: 20, surface: 17.678, leg: 1, depth: 17.678, decimals: 3 },
    { pathMm: 50, angleDeg: 45, thicknessMm: 20, surface: 35.355, leg: 2, depth: 4.645, decimals: 3 },
    { pathMm: 60, angleDeg: 60, thicknessMm: 25, surface: 51.9615, leg: 2, depth: 20, decimals: 4 },
    { pathMm: 80, angleDeg: 70, thicknessMm: 15, surface: 75.1754, leg: 2, depth: 2.6384, decimals: 4 },
    { pathMm: 65, angleDeg: 70, thicknessMm: 12, surface: 61.08, leg: 2, depth: 1.769, decimals: 3 },
    { pathMm: 50, angleDeg: 60, thicknessMm: 25, surface: 43.3013, leg: 1, depth: 25, decimals: 4 },
    { pathMm: 100, angleDeg: 60, thicknessMm: 25, surface: 86.6025, leg: 2, depth: 0, decimals: 4 },
    // 3.0, 0.75, 2.8191 and 0.4739 in
    { pathMm: 76.2, angleDeg: 70, thicknessMm: 19.05, surface: 71.6046, leg: 2, depth: 12.0379, decimals: 3 },
  ])('path $pathMm mm, $angleDeg°, plate $thicknessMm mm: surface $surface, leg $leg, depth $depth', (row) => {
    const at = locate({ value: row.pathMm, standardUncertainty: 0 }, row, 0)!;
    expect(at.surfaceDistanceMm.value).toBeCloseTo(row.surface, row.decimals);
    expect(at.leg).toBe(row.leg);
    expect(at.depthMm.value).toBeCloseTo(row.depth, row.decimals);
  });
});
