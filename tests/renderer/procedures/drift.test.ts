import { describe, expect, it } from 'vitest';
import { judgeDrift } from '../../../core/check/drift.ts';
import { publishedRules } from '../../../core/check/rule.ts';
import { distinctLimits, driftRange, driftSeries, withoutOverlap } from '../../../renderer/procedures/drift-chart.ts';
import {
  chosenRule,
  nothingToCheck,
  reflectorsOf,
  ruleOf,
  ruleOptions,
} from '../../../renderer/procedures/drift-decision.ts';
import { calibrated } from '../../build/calibration.ts';

const calibration = calibrated(3240, 7.3);
const asme = publishedRules.find(({ name }) => name === 'asme-v-t-466')!;
const checks = [0, 3.4].map((shiftUs, i) => ({
  captureId: `check-${i}.csv`,
  takenAt: `2026-05-11T0${6 + i}:00:00Z`,
  gainDb: 42,
  reflectors: [100, 225].map((distanceMm) => ({
    distanceMm,
    timeUs:
      i === 1 && distanceMm === 225
        ? null
        : { value: 7.3 + shiftUs + (2000 * distanceMm) / 3240, standardUncertainty: 0.002 },
    amplitudePercent: i === 1 && distanceMm === 225 ? null : 80,
    signalToNoiseDb: 40,
    flags: [],
    from: null,
  })),
}));
const judged = judgeDrift({
  checks,
  calibration,
  reference: [100, 225].map((distanceMm) => ({ distanceMm, amplitudePercent: 80, gainDb: 42 })),
  rule: asme,
  rangeMm: 50,
});
if (!judged.ok) throw new Error('no drift');
const result = judged.value;

describe('the chart of a deviation', () => {
  it('each reflector has its points in order of time; what was not measured has none', () => {
    const series = driftSeries(result.checks, 'distance-error');
    expect(series.map(({ distanceMm, points }) => [distanceMm, points.map(({ index }) => index)])).toEqual([
      [100, [0, 1]],
      [225, [0]],
    ]);
    expect(series[0]!.points[1]!.value).toBeCloseTo((3.4 * 3.24) / 2, 6);
  });
  it('limits in per cent of the reading differ by reflector, and stand once each', () => {
    // 10 % of the reading of 100 and 225 mm; 5 % of the range is less.
    const limits = distinctLimits(driftSeries(result.checks, 'distance-error'));
    expect(limits.map(({ upper }) => upper)).toEqual([10, 22.5]);
    expect(distinctLimits(driftSeries(result.checks, 'amplitude-change'))).toHaveLength(1);
  });
  it('everything that is to be seen lies within the range', () => {
    const series = driftSeries(result.checks, 'distance-error');
    const { from, to } = driftRange(series);
    expect(from).toBeLessThan(-22.5);
    expect(to).toBeGreaterThan(22.5);
  });
  it('no checks: no series, and a range all the same', () => {
    expect(driftSeries([], 'distance-error')).toEqual([]);
    const { from, to } = driftRange([]);
    expect(to).toBeGreaterThan(from);
  });
  it('labels do not lie on one another; the first ones stay', () => {
    const label = (x: number, y: number) => ({ x, y, text: '5.54 mm' });
    expect(withoutOverlap([label(0, 0), label(30, 4), label(30, 20), label(60, 0)])).toEqual([
      label(0, 0),
      label(30, 20),
      label(60, 0),
    ]);
  });
});

describe('what the checks are held against', () => {
  it('the reflectors of the calibration, each about its time then, in whichever capture', () => {
    const [near] = reflectorsOf(calibration);
    const timeUs = calibration.points[0]!.timeUs;
    expect(near?.capture).toBeNull();
    expect(near!.fromUs).toBeLessThan(timeUs - 3.5);
    expect(near!.toUs).toBeGreaterThan(timeUs + 3.5);
  });
  it('no rule, a published one, one of one’s own', () => {
    const own = { ...asme, name: 'yard', title: 'The yard’s rule' };
    const ownDecision = { ...nothingToCheck, rule: { kind: 'own', rule: own } } as typeof nothingToCheck;
    const published = { ...nothingToCheck, rule: { kind: 'published', name: 'iso-17640' } } as typeof nothingToCheck;
    expect([chosenRule(nothingToCheck), chosenRule(published), chosenRule(ownDecision)]).toEqual([
      'none',
      'iso-17640',
      'own yard',
    ]);
    expect([ruleOf(nothingToCheck), ruleOf(published)?.name, ruleOf(ownDecision)?.name]).toEqual([
      null,
      'iso-17640',
      'yard',
    ]);
    expect(ruleOptions(own).map(({ id }) => id)).toEqual([
      'none',
      ...publishedRules.map(({ name }) => name),
      'own yard',
    ]);
  });
});
