import * as v from 'valibot';
import { readJson } from '../located-json.ts';
import { failure, type Outcome, success } from '../outcome.ts';
import type { CalibrationGiven } from '../review/review.ts';
import { issueAtPath, schemaProblems, thoroughness } from '../schema-problems.ts';

const finite = v.pipe(v.number(), v.finite());
const positive = v.pipe(finite, v.gtValue(0));

/** What is needed of a saved calibration; other keys of the document are left alone. */
const calibrationFile = v.object({
  velocity_m_per_s: positive,
  u_velocity_m_per_s: v.optional(v.nullable(v.pipe(finite, v.minValue(0))), null),
  zero_offset_us: finite,
  u_zero_offset_us: v.optional(v.nullable(v.pipe(finite, v.minValue(0))), null),
  covariance_us_us_per_mm: v.optional(v.nullable(finite), null),
  degrees_of_freedom: v.optional(v.pipe(v.number(), v.integer(), v.minValue(0)), 0),
  points: v.optional(
    v.array(
      v.object({
        distance_mm: positive,
        u_distance_mm: v.optional(v.nullable(v.pipe(finite, v.minValue(0))), null),
        time_us: v.optional(v.nullable(finite), null),
        u_time_us: v.optional(v.nullable(v.pipe(finite, v.minValue(0))), null),
        amplitude_percent: v.optional(v.nullable(finite), null),
        gain_db: v.optional(v.nullable(finite), null),
        block: v.optional(v.nullable(v.string()), null),
      }),
    ),
    [],
  ),
  settings: v.optional(v.object({ timing: v.optional(v.picklist(['peak', 'crossing']), 'peak') }), {}),
});

/**
 * Reads the document that `calibrate --json` printed.
 * Problems, each at its line and column: not JSON, no velocity or zero offset, a figure that is not one.
 */
export function openCalibration(file: string, text: string, sha256: string | null): Outcome<CalibrationGiven> {
  const json = readJson(file, text);
  if (!json.ok) return json;
  const parsed = v.safeParse(calibrationFile, json.value.value, thoroughness(json.value));
  if (!parsed.success) {
    const advice: typeof issueAtPath = (issue, path) =>
      `${issueAtPath(issue, path)}; give the document that calibrate --json printed`;
    return failure(...schemaProblems(parsed.issues, json.value, 'calibration-schema', advice));
  }
  const document = parsed.output;
  return success({
    kind: 'given',
    file,
    sha256,
    velocityMPerS: document.velocity_m_per_s,
    uVelocityMPerS: document.u_velocity_m_per_s,
    zeroOffsetUs: document.zero_offset_us,
    uZeroOffsetUs: document.u_zero_offset_us,
    covarianceUsUsPerMm: document.covariance_us_us_per_mm,
    degreesOfFreedom: document.degrees_of_freedom,
    timing: document.settings.timing,
    points: document.points.map((point) => ({
      distanceMm: point.distance_mm,
      uDistanceMm: point.u_distance_mm,
      timeUs: point.time_us,
      uTimeUs: point.u_time_us,
      amplitudePercent: point.amplitude_percent,
      gainDb: point.gain_db,
      block: point.block,
    })),
  });
}
