import type { ChartSeries, DriftGroup, DriftOverTime } from '../check/drift-over-time.ts';
import type { Reexamination } from '../check/reexamine.ts';
import { type CaptureLookup, placeOf, rounded } from './document.ts';

const orNull = (value: number | null): number | null => (value === null ? null : rounded(value));

/** The checks over time, by instrument and probe. Units stand in `unit`, for a series is in mm or in dB. */
export function overTimeDocument(overTime: DriftOverTime, captures: CaptureLookup) {
  return overTime.groups.map((group) => groupDocument(group, captures));
}

function groupDocument(group: DriftGroup, captures: CaptureLookup) {
  const place = (captureId: string) => placeOf(captureId, captures);
  return {
    instrument: group.takenWith.instrument,
    probe: group.takenWith.probe,
    checks: group.checks.map((check) => ({
      ...place(check.captureId),
      taken_at: check.takenAt,
      verdict: check.verdict,
      hours_since_check: orNull(check.hoursSinceCheck),
      hours_since_passing: orNull(check.hoursSincePassing),
    })),
    without_time: group.unplaced.map(place),
    last_passing: group.lastPassing === null ? null : place(group.lastPassing),
    longest_hours_between_checks: orNull(group.longestHoursBetweenChecks),
    series: group.series.map((series) => seriesDocument(series, captures)),
    to_reexamine: group.reexaminations.map((found) => reexaminationDocument(found, captures)),
    not_yet_confirmed: group.notYetConfirmed.map(({ captureId, takenAt }) => ({
      ...place(captureId),
      taken_at: takenAt,
    })),
  };
}

function seriesDocument(
  { figure, unit, distanceMm, points, missing, chart, trend }: ChartSeries,
  captures: CaptureLookup,
) {
  return {
    figure,
    unit,
    distance_mm: rounded(distanceMm),
    points: points.map((point) => ({
      ...placeOf(point.captureId, captures),
      taken_at: point.takenAt,
      value: rounded(point.value.value),
      u_value: orNull(point.value.standardUncertainty),
      counted: point.counted,
      out_of_control: point.outside,
      jump: point.jump,
    })),
    without_figure: missing.map((captureId) => placeOf(captureId, captures)),
    counted: chart.count,
    centre: orNull(chart.centre),
    standard_deviation: orNull(chart.standardDeviation),
    mean_moving_range: orNull(chart.meanMovingRange),
    lower_limit: orNull(chart.limits?.lower ?? null),
    upper_limit: orNull(chart.limits?.upper ?? null),
    without_limits: chart.withoutLimits,
    largest_step: orNull(chart.largestStep),
    trend: trend && {
      per_day: rounded(trend.perDay.value),
      u_per_day: orNull(trend.perDay.standardUncertainty),
      over_all: rounded(trend.overAll.value),
      days: rounded(trend.days),
      t: Number.isFinite(trend.t) ? rounded(trend.t) : null,
      degrees_of_freedom: trend.degreesOfFreedom,
      // Twelve decimals: a small p is not none.
      p: Number(trend.p.toFixed(12)),
      significant: trend.significant,
      serial_correlation: orNull(trend.serialCorrelation),
      serially_correlated: trend.seriallyCorrelated,
    },
  };
}

function reexaminationDocument(found: Reexamination, captures: CaptureLookup) {
  const place = (captureId: string) => placeOf(captureId, captures);
  return {
    because: found.because,
    checks: found.checks.map(place),
    after: found.after === null ? null : place(found.after),
    before: found.before === null ? null : place(found.before),
    readings: found.readings.map(({ captureId, takenAt, placing }) => ({
      ...place(captureId),
      taken_at: takenAt,
      placing,
    })),
  };
}
