import { describe, expect, it } from 'vitest';
import { partProblems } from '../../../core/part/part-problems.ts';
import type { Shape } from '../../../core/review/part-decision.ts';
import { partOf } from '../../build/part.ts';

const plate = (thicknessMm: number): Shape => ({ kind: 'plate', thicknessMm, uThicknessMm: 0 });
const pipe = (outsideRadiusMm: number, thicknessMm: number): Shape => ({
  kind: 'pipe',
  outsideRadiusMm,
  thicknessMm,
  uThicknessMm: 0,
  from: 'outside',
});
const step = (captures: string[], thicknessMm = 10) => ({ captures, thicknessMm, uThicknessMm: 0 });
const placement = (captures: string[]) => ({
  captures,
  side: 'left' as const,
  offsetMm: 20,
  uOffsetMm: 0,
  position: 'along' as const,
});
const outline = (...points: [number, number][]) => ({
  outline: points.map(([acrossMm, depthMm]) => ({ acrossMm, depthMm })),
  toleranceMm: 0.5,
});

describe('a part that cannot be used', () => {
  it.each<[string, Parameters<typeof partOf>[0], string, RegExp]>([
    ['a thickness of nought', { shape: plate(0) }, 'thickness-not-positive', /thickness of 0 mm cannot be/],
    ['a thickness below nought', { shape: plate(-3) }, 'thickness-not-positive', /-3 mm/],
    ['no thickness at all', { shape: plate(Number.NaN) }, 'thickness-not-positive', /NaN/],
    ['an angle of 90°', { probe: { angleDeg: 90 } }, 'angle-out-of-range', /90°/],
    ['an angle below 0°', { probe: { angleDeg: -10 } }, 'angle-out-of-range', /-10°/],
    [
      'an angle that no wedge makes: beyond the critical one',
      { probe: { angleDeg: 80, wedgeVelocityMPerS: 3400, velocityMPerS: 3255 } },
      'angle-beyond-critical',
      /no wedge of 3400 m\/s makes a beam of 80°/,
    ],
    ['a pipe without a radius', { shape: pipe(0, 10) }, 'radius-not-positive', /radius of 0 mm/],
    ['a wall as thick as the radius', { shape: pipe(50, 50) }, 'wall-thicker-than-radius', /leaves no bore/],
    ['a wall of nought', { shape: pipe(50, 0) }, 'thickness-not-positive', /0 mm/],
    ['a step block without a step', { shape: { kind: 'step-block', steps: [] } }, 'no-steps', /at least one step/],
    [
      'a capture on two steps',
      { shape: { kind: 'step-block', steps: [step(['a.csv']), step(['b.csv', 'a.csv'])] } },
      'step-twice',
      /a\.csv stands on two steps/,
    ],
    [
      'a step of nought',
      { shape: { kind: 'step-block', steps: [step(['a.csv'], 0)] } },
      'thickness-not-positive',
      /0 mm/,
    ],
    ['a weld of two points', { weld: outline([0, 0], [1, 16]) }, 'outline-too-short', /2 points is no area/],
    [
      'a weld that crosses itself',
      { weld: outline([0, 0], [5, 16], [5, 0], [0, 16]) },
      'outline-crosses-itself',
      /crosses itself/,
    ],
    [
      'two places for one capture',
      { placements: [placement(['a.csv']), placement(['a.csv'])] },
      'placement-twice',
      /a\.csv has two places/,
    ],
    ['a place for no capture', { placements: [placement([])] }, 'placement-without-captures', /name the captures/],
  ])('%s', (_, given, code, words) => {
    const [found, ...more] = partProblems(partOf(given), 'part');
    expect(more).toEqual([]);
    expect(found).toMatchObject({ code, place: { file: 'part' }, sentence: expect.stringMatching(words) });
  });

  it('tells all that is wrong at once', () => {
    const given = { shape: plate(0), probe: { angleDeg: 95 }, placements: [placement([])] };
    expect(partProblems(partOf(given), 'part')).toHaveLength(3);
  });

  it.each<[string, Parameters<typeof partOf>[0]]>([
    ['plate', {}],
    ['straight beam', { probe: { angleDeg: 0 } }],
    ['velocities not known', { probe: { velocityMPerS: null, wedgeVelocityMPerS: 3400, angleDeg: 80 } }],
    ['pipe', { shape: pipe(100, 10) }],
    ['weld', { weld: outline([-8, 0], [8, 0], [1, 16], [-1, 16]) }],
  ])('and one that can: %s', (_, given) => {
    expect(partProblems(partOf(given), 'part')).toEqual([]);
  });
});
