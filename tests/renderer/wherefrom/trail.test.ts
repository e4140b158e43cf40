import { describe, expect, it } from 'vitest';
import type { FigureAsked } from '../../../core/origin.ts';
import { backTo, deeper, trailFor } from '../../../renderer/wherefrom/trail.ts';

const depth: FigureAsked = { kind: 'reading', captureId: 'a', gate: 'root', figure: 'depth' };
const path: FigureAsked = { kind: 'reading', captureId: 'a', gate: 'root', figure: 'sound-path' };
const velocity: FigureAsked = { kind: 'calibration', figure: 'velocity' };

describe('the way from a figure to what it was made from', () => {
  it('grows by each input that is asked', () => {
    expect(deeper(deeper([depth], path), velocity)).toEqual([depth, path, velocity]);
  });
  it('does not go in circles: a figure already passed is gone back to', () => {
    expect(deeper([depth, path, velocity], { ...path })).toEqual([depth, path]);
  });
  it.each([
    [0, [depth]],
    [1, [depth, path]],
    [-1, [depth]],
    [9, [depth, path, velocity]],
  ])('back to step %d', (index, expected) => {
    expect(backTo([depth, path, velocity], index)).toEqual(expected);
  });
  it('begins anew where another figure is asked, and stays where the same one is', () => {
    const trail = [depth, path];
    expect(trailFor(trail, { ...path })).toBe(trail);
    expect(trailFor(trail, velocity)).toEqual([velocity]);
    expect(trailFor([], depth)).toEqual([depth]);
  });
  it('a proposed velocity is another figure than the one in force', () => {
    expect(trailFor([velocity], { ...velocity, proposed: true })).toHaveLength(1);
    expect(deeper([velocity], { ...velocity, proposed: true })).toHaveLength(2);
  });
});
