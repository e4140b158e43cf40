import type { CaptureId } from '../capture/capture.ts';
import { comparableSeconds } from '../capture/order-in-time.ts';
import { isDoubtfulEcho } from '../flag.ts';
import { type Problem, problem } from '../outcome.ts';
import type { Quantity } from '../units/quantity.ts';
import { type ControlChart, controlChart } from './control-chart.ts';
import type { DriftCheck } from './drift.ts';
import { type ReadingInTime, type Reexamination, toReexamine } from './reexamine.ts';
import { type Trend, trendOf } from './trend.ts';

/** What a capture was taken with, as its file, its manifest or the person says. */
export interface TakenWith {
  readonly instrument: string | null;
  readonly probe: string | null;
}

export interface DriftOverTimeInput {
  /** In order of time, those without a usable time last, as `judgeDrift` gives them. */
  readonly checks: readonly DriftCheck[];
  readonly takenWith: ReadonlyMap<CaptureId, TakenWith>;
  /** Captures of the part that were read, each once. */
  readonly readings: readonly ReadingInTime[];
}

/** One check on a chart. */
export interface ChartPoint {
  readonly captureId: CaptureId;
  readonly takenAt: string | null;
  /** On one scale for all points of a group. */
  readonly seconds: number;
  readonly value: Quantity;
  /** Whether it counts in centre, limits and trend: not where its echo is doubtful. */
  readonly counted: boolean;
  /** Out of control: counted, and outside the control limits. */
  readonly outside: boolean;
  /** Counted, and farther from the counted one before than one step is expected to be. */
  readonly jump: boolean;
}

/** One figure at one reflector, over all checks of a group. */
export interface ChartSeries {
  readonly figure: 'distance-error' | 'amplitude-change';
  readonly unit: 'mm' | 'dB';
  readonly distanceMm: number;
  readonly points: readonly ChartPoint[];
  /** Checks that have a time, but no figure here: no echo, a crest cut off, no reference. */
  readonly missing: readonly CaptureId[];
  readonly chart: ControlChart;
  /** `null` with fewer than three counted points, or all at one time. */
  readonly trend: Trend | null;
}

/** A check among those of its instrument and probe. */
export interface CheckInGroup {
  readonly captureId: CaptureId;
  readonly takenAt: string | null;
  readonly verdict: DriftCheck['verdict'];
  /** `null` for the first, and where a time is not known. */
  readonly hoursSinceCheck: number | null;
  /** Since the last passing check before it; `null` where there is none, or no rule. */
  readonly hoursSincePassing: number | null;
}

/** All checks of one instrument with one probe. */
export interface DriftGroup {
  readonly takenWith: TakenWith;
  readonly checks: readonly CheckInGroup[];
  /** Checks without a usable time: on no chart. */
  readonly unplaced: readonly CaptureId[];
  readonly lastPassing: CaptureId | null;
  readonly longestHoursBetweenChecks: number | null;
  /** Distance errors, then amplitude changes, by distance. */
  readonly series: readonly ChartSeries[];
  readonly reexaminations: readonly Reexamination[];
  /** Readings later than the last check of all: no check after them says yet that they were taken well. */
  readonly notYetConfirmed: readonly ReadingInTime[];
}

export interface DriftOverTime {
  readonly groups: readonly DriftGroup[];
  readonly warnings: readonly Problem[];
}

/**
 * How the checks of each instrument and probe go over time: a control chart and a trend of each figure, the intervals, and which readings must be looked at
 * again. Names of instrument and probe are compared as they are written. Checks that name no instrument or no probe make a group of their own, and a warning
 * `taken-with-not-stated` says so. A reading belongs to a group where neither names another instrument or probe.
 * Sources: `controlChart`, `trendOf`, `toReexamine`.
 */
export function driftOverTime({ checks, takenWith, readings }: DriftOverTimeInput): DriftOverTime {
  const withOf = (captureId: CaptureId): TakenWith => {
    const { instrument = null, probe = null } = takenWith.get(captureId) ?? {};
    return { instrument, probe };
  };
  const byName = new Map<string, DriftCheck[]>();
  for (const check of checks) {
    const key = JSON.stringify([withOf(check.captureId).instrument, withOf(check.captureId).probe]);
    const members = byName.get(key);
    if (members === undefined) byName.set(key, [check]);
    else members.push(check);
  }
  const groups = [...byName.values()].map((members) => {
    const own = withOf(members[0].captureId);
    return groupOf(
      own,
      members,
      readings.filter((reading) => mayBelong(own, withOf(reading.captureId))),
    );
  });
  const nameless = groups.filter(({ takenWith: own }) => own.instrument === null || own.probe === null);
  return {
    groups,
    warnings: nameless.map(({ takenWith: own, checks: members }) =>
      problem('taken-with-not-stated', { file: 'drift' }, notStated(own, members.length)),
    ),
  };
}

function notStated({ instrument, probe }: TakenWith, count: number): string {
  const what = instrument !== null ? 'no probe' : probe !== null ? 'no instrument' : 'neither instrument nor probe';
  return `${count === 1 ? 'one check names' : `${count} checks name`} ${what}: they are put on one chart as if taken with the same; name it in the files, in a manifest (columns ‘instrument’ and ‘probe’) or in the facts`;
}

function mayBelong(group: TakenWith, reading: TakenWith): boolean {
  const alike = (a: string | null, b: string | null) => a === null || b === null || a === b;
  return alike(group.instrument, reading.instrument) && alike(group.probe, reading.probe);
}

function groupOf(takenWith: TakenWith, members: readonly DriftCheck[], readings: readonly ReadingInTime[]): DriftGroup {
  const seconds = comparableSeconds(members.map((check) => check.takenAt));
  const placed = members.flatMap((check, i) => (seconds[i] === null ? [] : [{ check, seconds: seconds[i] }]));
  placed.sort((a, b) => a.seconds - b.seconds);
  const inOrder = checksInGroup(members, placed);
  const intervals = inOrder.flatMap((check) => (check.hoursSinceCheck === null ? [] : [check.hoursSinceCheck]));
  return {
    takenWith,
    checks: inOrder,
    unplaced: members.filter((_, i) => seconds[i] === null).map((check) => check.captureId),
    lastPassing: placed.findLast(({ check }) => check.verdict === 'pass')?.check.captureId ?? null,
    longestHoursBetweenChecks: intervals.length === 0 ? null : intervals.reduce((a, b) => Math.max(a, b)),
    series: [...seriesOf(placed, 'distance-error'), ...seriesOf(placed, 'amplitude-change')],
    reexaminations: toReexamine(inOrder, readings),
    notYetConfirmed: afterLastCheck(inOrder, readings),
  };
}

interface PlacedCheck {
  readonly check: DriftCheck;
  readonly seconds: number;
}

function checksInGroup(members: readonly DriftCheck[], placed: readonly PlacedCheck[]): CheckInGroup[] {
  let passing: number | null = null;
  const hours = (from: number | null, to: number) => (from === null ? null : (to - from) / 3600);
  const timed = placed.map(({ check, seconds }, i) => {
    const { captureId, takenAt, verdict } = check;
    const hoursSinceCheck = hours(placed[i - 1]?.seconds ?? null, seconds);
    const hoursSincePassing = hours(passing, seconds);
    if (verdict === 'pass') passing = seconds;
    return { captureId, takenAt, verdict, hoursSinceCheck, hoursSincePassing };
  });
  const known = new Set(timed.map(({ captureId }) => captureId));
  const others = members
    .filter((check) => !known.has(check.captureId))
    .map(({ captureId, takenAt, verdict }) => ({
      captureId,
      takenAt,
      verdict,
      hoursSinceCheck: null,
      hoursSincePassing: null,
    }));
  return [...timed, ...others];
}

function afterLastCheck(checks: readonly CheckInGroup[], readings: readonly ReadingInTime[]): ReadingInTime[] {
  const seconds = comparableSeconds([...checks, ...readings].map((entry) => entry.takenAt));
  const last = checks.reduce((latest, _, i) => Math.max(latest, seconds[i] ?? latest), Number.NEGATIVE_INFINITY);
  if (!Number.isFinite(last)) return [];
  return readings.filter((_, i) => (seconds[checks.length + i] ?? Number.NEGATIVE_INFINITY) > last);
}

function seriesOf(placed: readonly PlacedCheck[], figure: ChartSeries['figure']): ChartSeries[] {
  const distances = [...new Set(placed.flatMap(({ check }) => check.reflectors.map((r) => r.distanceMm)))];
  return distances.map((distanceMm) => oneSeries(placed, figure, distanceMm));
}

function oneSeries(placed: readonly PlacedCheck[], figure: ChartSeries['figure'], distanceMm: number): ChartSeries {
  const found = placed.map(({ check, seconds }) => {
    const reflector = check.reflectors.find((r) => r.distanceMm === distanceMm) ?? null;
    const value = (figure === 'distance-error' ? reflector?.distanceErrorMm : reflector?.amplitudeChangeDb) ?? null;
    const counted = !isDoubtfulEcho(reflector?.flags ?? []);
    return { captureId: check.captureId, takenAt: check.takenAt, seconds, value, counted };
  });
  const points = found.flatMap(({ value, ...point }) => (value === null ? [] : [{ ...point, value }]));
  const counted = points.filter((point) => point.counted);
  const values = counted.map((point) => point.value.value);
  const chart = controlChart(values);
  const marked = (marks: readonly boolean[]) =>
    new Set(counted.filter((_, i) => marks[i]).map((point) => point.captureId));
  const [outside, jumps] = [marked(chart.outside), marked(chart.jumps)];
  return {
    figure,
    unit: figure === 'distance-error' ? 'mm' : 'dB',
    distanceMm,
    points: points.map((point) => ({
      ...point,
      outside: outside.has(point.captureId),
      jump: jumps.has(point.captureId),
    })),
    missing: found.filter(({ value }) => value === null).map(({ captureId }) => captureId),
    chart,
    trend: trendOf(
      counted.map((point) => point.seconds),
      values,
    ),
  };
}
