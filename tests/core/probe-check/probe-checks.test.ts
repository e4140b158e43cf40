import { describe, expect, it } from 'vitest';
import { expectedAngle, pmmaPerDegreeMPerS, velocityAt } from '../../../core/probe-check/expected-angle.ts';
import { indexPoint } from '../../../core/probe-check/index-point.ts';
import { concludeProbeChecks } from '../../../core/probe-check/probe-checks.ts';
import { frontToEndFor, iso2400Holes, refractedAngle } from '../../../core/probe-check/refracted-angle.ts';
import { publishedProbeRules } from '../../../core/probe-check/rule.ts';
import { readLength } from '../../../core/probe-check/ruler.ts';
import type { ProbeChecks } from '../../../core/review/part-decision.ts';
import { partOf } from '../../build/part.ts';

const q = (value: number, standardUncertainty: number | null = 0) => ({ value, standardUncertainty });
const checksOf = (given: Partial<ProbeChecks> = {}): ProbeChecks => ({
  index: null,
  angle: null,
  elsewhere: null,
  decision: 'with-uncertainty',
  rule: { kind: 'published', name: 'iso-22232-2' },
  ...given,
});
const { probe } = partOf({ probe: { indexToFrontMm: 16, uIndexMm: 0.5, angleDeg: 45 } });

describe('what leaves no number', () => {
  it.each<[string, Partial<ProbeChecks>, Partial<typeof probe>, string]>([
    [
      'no reading of the radius',
      { index: { radiusMm: 100, frontToEndMm: [], uRulerMm: 0.3 } },
      {},
      'no-reading-of-ruler',
    ],
    [
      'a reading longer than the radius',
      { index: { radiusMm: 100, frontToEndMm: [104], uRulerMm: 0.3 } },
      {},
      'index-beyond-wedge',
    ],
    [
      'no reading of the hole',
      { angle: { fromEndMm: 35, depthMm: 70, frontToEndMm: [], uRulerMm: 0.3 } },
      {},
      'no-reading-of-ruler',
    ],
    [
      'no index point to work with',
      { angle: { fromEndMm: 35, depthMm: 70, frontToEndMm: [91], uRulerMm: 0.3 } },
      { indexToFrontMm: null },
      'index-not-known',
    ],
    [
      'a probe before the hole',
      { angle: { fromEndMm: 35, depthMm: 70, frontToEndMm: [10], uRulerMm: 0.3 } },
      {},
      'probe-before-reflector',
    ],
    [
      'another material beyond the critical angle',
      { elsewhere: { velocityMPerS: 3255, inVelocityMPerS: 5000, wedge: null } },
      {},
      'beyond-critical-angle',
    ],
    ['a rule that nobody published', { rule: { kind: 'published', name: 'yesterday' } }, {}, 'no-such-rule'],
  ])('%s', (_, given, stated, code) => {
    const made = concludeProbeChecks(checksOf(given), { ...probe, ...stated });
    expect(made.problems.map((found) => found.code)).toEqual([code]);
    expect(made.indexToFrontMm).toBeNull();
    expect(made.angleDeg).toBeNull();
    expect(made.elsewhere?.against ?? null).toBeNull();
  });
});

describe('the index point', () => {
  it('is the radius less the reading, its uncertainty the ruler’s and the scatter’s', () => {
    expect(indexPoint(100, q(84, 0.3))).toEqual(q(16, 0.3));
    expect(readLength([], 0.3)).toBeNull();
    expect(readLength([84], 0.3)).toEqual(q(84, 0.3));
    const three = readLength([83.5, 84, 84.5], 0.3)!;
    expect(three.value).toBeCloseTo(84, 12);
    expect(three.standardUncertainty).toBeCloseTo(Math.hypot(0.3, 0.5 / Math.sqrt(3)), 12);
  });

  it.each([
    ['within', [84.2], 0.2, 'pass'],
    ['on the limit, without an uncertainty', [85], 0, 'pass'],
    ['beyond', [86.5], 0.2, 'fail'],
    ['about the limit', [84.9], 0.2, 'inconclusive'],
  ] as const)('is held against ± 1 mm: %s', (_, readings, uRulerMm, outcome) => {
    const made = concludeProbeChecks(
      checksOf({ index: { radiusMm: 100, frontToEndMm: [...readings], uRulerMm } }),
      probe,
    );
    expect(made.indexToFrontMm).toMatchObject({
      stated: 16,
      limits: { lower: -1, upper: 1 },
      verdict: { outcome, unit: 'mm' },
    });
  });

  it('has no verdict where nothing is stated, or the rule limits nothing', () => {
    const index = { radiusMm: 100, frontToEndMm: [84], uRulerMm: 0.2 };
    const of = (rule: ProbeChecks['rule'], indexToFrontMm: number | null) =>
      concludeProbeChecks(checksOf({ index, rule }), { ...probe, indexToFrontMm }).indexToFrontMm!;
    expect(of({ kind: 'published', name: 'iso-22232-2' }, null)).toMatchObject({ deviation: null, verdict: null });
    expect(of({ kind: 'published', name: 'aws-d1.1' }, 16)).toMatchObject({ limits: null, verdict: null });
    expect(of(null, 16)).toMatchObject({ deviation: { value: 0 }, verdict: null });
  });
});

describe('the angle', () => {
  const angle = { fromEndMm: 35, depthMm: 70, frontToEndMm: [91], uRulerMm: 0.3 };

  it('takes the index point that was measured before the stated one', () => {
    const made = concludeProbeChecks(checksOf({ angle, index: { radiusMm: 100, frontToEndMm: [84], uRulerMm: 0.3 } }), {
      ...probe,
      indexToFrontMm: 20,
    });
    expect(made.angleDeg!.measured.value).toBeCloseTo(45.80693, 5);
    expect(made.remarks).toEqual([expect.stringContaining('as measured here')]);
    expect(concludeProbeChecks(checksOf({ angle }), probe).angleDeg!.measured.value).toBeCloseTo(45.80693, 5);
  });

  it('has the uncertainty that small changes of the readings make', () => {
    const h = 1e-4;
    const at = (mm: number) => refractedAngle(angle, q(mm), q(16))!.value;
    const slope = (at(91 + h) - at(91 - h)) / (2 * h);
    const made = refractedAngle(angle, q(91, 0.3), q(16, 0.4))!;
    expect(made.standardUncertainty).toBeCloseTo(slope * 0.5, 6);
    expect(refractedAngle(angle, q(91, null), q(16))!.standardUncertainty).toBeNull();
  });

  it.each([45, 60, 70, 78])('of %i° is given back by the place of the probe that shows it', (deg) => {
    for (const hole of iso2400Holes)
      expect(refractedAngle(hole, q(frontToEndFor(deg, hole, 16)), q(16))!.value).toBeCloseTo(deg, 9);
  });

  it('is held against ± 2° with its expanded uncertainty', () => {
    const of = (statedDeg: number) =>
      concludeProbeChecks(checksOf({ angle }), { ...probe, angleDeg: statedDeg }).angleDeg!.verdict!.outcome;
    expect(of(45)).toBe('pass');
    expect(of(43.6)).toBe('inconclusive');
    expect(of(40)).toBe('fail');
  });
});

describe('the angle elsewhere', () => {
  it('is the same in the same material with the same wedge', () => {
    expect(expectedAngle(q(60, 0.5), 3255, 3255, { velocityMPerS: 2730, thenMPerS: 2730 })).toMatchObject({
      angleDeg: { value: expect.closeTo(60, 9), standardUncertainty: expect.closeTo(0.5, 9) },
    });
  });

  it('is flatter behind a warmer wedge, whose sound is slower', () => {
    const thenMPerS = velocityAt(2730, { fromC: 20, toC: 40 }, pmmaPerDegreeMPerS);
    expect(thenMPerS).toBe(2680);
    const made = expectedAngle(q(60), 3255, 3255, { velocityMPerS: 2730, thenMPerS });
    // In the wedge asin(sin 60° · 2730 / 3255); then out of it at 2680 m/s.
    const wanted = (Math.asin(Math.sin(Math.PI / 3) * (2730 / 2680)) * 180) / Math.PI;
    expect(made).toMatchObject({ angleDeg: { value: expect.closeTo(wanted, 9) } });
    expect(wanted).toBeGreaterThan(60);
  });

  it('names the wedge where that takes it beyond the critical angle', () => {
    const made = expectedAngle(q(80), 3255, 3255, { velocityMPerS: 2730, thenMPerS: 2500 });
    expect(made).toMatchObject({ kind: 'none', reason: expect.stringContaining('2500 m/s in place of 2730 m/s') });
  });
});

describe('the published rules', () => {
  // Figures: the angle read second-hand in two training texts, the index point from memory; none for the index point of AWS D1.1.
  it.each([
    ['iso-22232-2', 1, 2],
    ['iso-22232-3', 1, 2],
    ['aws-d1.1', null, 2],
  ])('%s: %s mm, %i°', (name, indexMm, angleDeg) => {
    const rule = publishedProbeRules.find((one) => one.name === name)!;
    expect(rule).toMatchObject({ indexMm, angleDeg });
    expect(rule.source).toMatch(/[Ff]rom memory/);
  });
});
