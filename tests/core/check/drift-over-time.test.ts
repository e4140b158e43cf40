import { describe, expect, it } from 'vitest';
import { type CheckCapture, judgeDrift } from '../../../core/check/drift.ts';
import { driftOverTime, type TakenWith } from '../../../core/check/drift-over-time.ts';
import type { ReadingInTime } from '../../../core/check/reexamine.ts';
import { publishedRules } from '../../../core/check/rule.ts';
import type { Flag } from '../../../core/flag.ts';
import { calibrated } from '../../build/calibration.ts';

const iso = publishedRules.find((rule) => rule.name === 'iso-17640')!;
const four: TakenWith = { instrument: 'instrument 4', probe: 'probe 5' };

interface Given {
  readonly shiftMm?: number;
  readonly percent?: number;
  readonly flags?: readonly Flag[];
}

/** A check at one reflector, 100 mm: its path longer by `shiftMm`, its height `percent` where 80 was. */
function check(captureId: string, takenAt: string | null, given: Given = {}): CheckCapture {
  const { shiftMm = 0, percent = 80, flags = [] } = given;
  const reflector = {
    distanceMm: 100,
    timeUs: { value: 7.3 + 2 * (100 + shiftMm) * (1 / 3.24), standardUncertainty: 0.002 },
    amplitudePercent: percent,
    signalToNoiseDb: 60,
    flags,
    from: null,
  };
  return { captureId, takenAt, gainDb: 40, reflectors: [reflector] };
}

function overTime(
  checks: readonly CheckCapture[],
  takenWith: Readonly<Record<string, TakenWith>> | null = null,
  readings: readonly ReadingInTime[] = [],
) {
  const outcome = judgeDrift({
    checks,
    calibration: calibrated(3240, 7.3),
    reference: [{ distanceMm: 100, amplitudePercent: 80, gainDb: 40 }],
    rule: iso,
    rangeMm: 250,
  });
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.sentence).join('; '));
  const names = takenWith ?? Object.fromEntries(checks.map(({ captureId }) => [captureId, four]));
  return driftOverTime({ checks: outcome.value.checks, takenWith: new Map(Object.entries(names)), readings });
}

const morning = (day: number) => `2026-04-${String(day).padStart(2, '0')}T07:00:00Z`;

describe('driftOverTime', () => {
  it('charts each figure at each reflector in order of time, whatever the order of the files', () => {
    const days = [3, 1, 9, 5, 7, 2, 8, 4, 6];
    const { groups, warnings } = overTime(
      days.map((day) => check(`day ${day}`, morning(day), { shiftMm: 0.01 * day + (day % 2) * 0.002 })),
    );
    expect(warnings).toEqual([]);
    expect(groups).toHaveLength(1);
    const [distance, amplitude] = groups[0].series;
    expect(distance.points.map((point) => point.captureId)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9].map((d) => `day ${d}`));
    expect(distance.trend!.perDay.value).toBeCloseTo(0.01, 3);
    expect(distance.trend!.significant).toBe(true);
    expect(distance.chart.limits).not.toBeNull();
    expect(amplitude).toMatchObject({ figure: 'amplitude-change', unit: 'dB', distanceMm: 100 });
    expect(amplitude.chart.withoutLimits).toBe('no-spread');
  });

  it('keeps instruments and probes apart', () => {
    const checks = [1, 2, 3, 4].map((day) => check(`day ${day}`, morning(day)));
    const other = { instrument: 'instrument 4', probe: 'probe 6' };
    const { groups } = overTime(checks, { 'day 1': four, 'day 2': other, 'day 3': four, 'day 4': other });
    expect(groups.map((group) => group.checks.map(({ captureId }) => captureId))).toEqual([
      ['day 1', 'day 3'],
      ['day 2', 'day 4'],
    ]);
  });

  it('puts checks that name no probe on a chart of their own, and says so', () => {
    const checks = [1, 2, 3].map((day) => check(`day ${day}`, morning(day)));
    const { groups, warnings } = overTime(checks, {
      'day 1': four,
      'day 2': { instrument: 'instrument 4', probe: null },
    });
    expect(groups).toHaveLength(3);
    expect(warnings.map((warning) => warning.code)).toEqual(['taken-with-not-stated', 'taken-with-not-stated']);
    expect(warnings[0].sentence).toContain('names no probe');
    expect(warnings[1].sentence).toContain('neither instrument nor probe');
  });

  it('tells the hours since the last check and since the last good one', () => {
    const at = (time: string) => `2026-04-01T${time}:00Z`;
    const { groups } = overTime([
      check('a', at('06:00')),
      check('b', at('08:00'), { shiftMm: 30 }),
      check('c', at('11:30'), { shiftMm: 30 }),
      check('d', at('12:00')),
    ]);
    expect(groups[0].checks.map((c) => [c.verdict, c.hoursSinceCheck, c.hoursSincePassing])).toEqual([
      ['pass', null, null],
      ['fail', 2, 2],
      ['fail', 3.5, 5.5],
      ['pass', 0.5, 6],
    ]);
    expect(groups[0]).toMatchObject({ lastPassing: 'd', longestHoursBetweenChecks: 3.5 });
  });

  it('leaves a doubtful echo out of limits and trend, and a check without a figure out of the points, but keeps both', () => {
    const { groups } = overTime([
      ...[1, 2, 3, 4, 5, 6, 7, 8].map((day) => check(`day ${day}`, morning(day), { percent: 80 + (day % 3) })),
      check('doubtful', morning(9), { percent: 20, flags: ['ambiguous-echo'] }),
      check('cut off', morning(10), { percent: 100, flags: ['saturated'] }),
    ]);
    const amplitude = groups[0].series[1];
    expect(amplitude.chart.count).toBe(8);
    expect(amplitude.points.find((point) => point.captureId === 'doubtful')).toMatchObject({
      counted: false,
      outside: false,
    });
    expect(amplitude.missing).toEqual(['cut off']);
  });

  it('keeps checks without a time on the list, and on no chart', () => {
    const { groups } = overTime([check('a', morning(1)), check('b', null), check('c', morning(2))]);
    expect(groups[0].unplaced).toEqual(['b']);
    expect(groups[0].checks.map(({ captureId }) => captureId)).toEqual(['a', 'c', 'b']);
    expect(groups[0].series[0].points).toHaveLength(2);
  });

  it('asks to look again only at readings that may have been taken with this instrument and probe', () => {
    const names = {
      a: four,
      b: four,
      own: four,
      unnamed: { instrument: null, probe: null },
      other: { instrument: 'instrument 9', probe: 'probe 5' },
    };
    const readings = ['own', 'unnamed', 'other'].map((captureId) => ({ captureId, takenAt: '2026-04-01T09:00:00Z' }));
    const { groups } = overTime([check('a', morning(1)), check('b', morning(2), { shiftMm: 30 })], names, readings);
    expect(groups[0].reexaminations).toHaveLength(1);
    expect(groups[0].reexaminations[0].readings.map(({ captureId }) => captureId)).toEqual(['own', 'unnamed']);
  });

  it('names the readings that no later check has confirmed', () => {
    const readings = [
      { captureId: 'early', takenAt: '2026-04-01T09:00:00Z' },
      { captureId: 'late', takenAt: '2026-04-03T09:00:00Z' },
    ];
    const { groups } = overTime(
      [check('a', morning(1)), check('b', morning(2))],
      { a: four, b: four, early: four, late: four },
      readings,
    );
    expect(groups[0].notYetConfirmed.map(({ captureId }) => captureId)).toEqual(['late']);
  });
});
