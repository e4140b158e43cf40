import { type Problem, problem } from '../outcome.ts';
import { figure } from '../units/figure.ts';
import type { CalibrationPoint } from './calibration-point.ts';

/** What keeps points from being a calibration, each with its own code and sentence. */
export function pointProblems(points: readonly CalibrationPoint[]): Problem[] {
  const each = points.flatMap(ownProblems);
  if (each.length > 0) return each;
  if (points.length < 2) {
    const found = points.length === 0 ? 'no reflector' : 'only one reflector';
    const sentence = `${found} was found, and velocity and zero offset need two; give a second reflector at another distance`;
    return [problem('too-few-reflectors', { file: points[0]?.captureId ?? '' }, sentence)];
  }
  return betweenNeighbours(points);
}

function ownProblems(point: CalibrationPoint): Problem[] {
  const { distanceMm, timeUs, uDistanceMm, uTimeUs } = point;
  const place = { file: point.captureId ?? '' };
  if (![distanceMm, timeUs, uDistanceMm, uTimeUs ?? 0].every(Number.isFinite)) {
    const sentence = `the reflector at ${distanceMm} mm has a distance, time or uncertainty that is not a number; leave it out or read it again`;
    return [problem('not-a-number', place, sentence)];
  }
  if (distanceMm <= 0) {
    const sentence = `a reflector at ${distanceMm} mm cannot be: a one-way sound path is greater than 0; correct its distance`;
    return [problem('distance-not-positive', place, sentence)];
  }
  if (uDistanceMm < 0 || (uTimeUs ?? 0) < 0) {
    const sentence = `the reflector at ${distanceMm} mm has a negative uncertainty; give it as 0 or more`;
    return [problem('uncertainty-negative', place, sentence)];
  }
  return [];
}

function betweenNeighbours(points: readonly CalibrationPoint[]): Problem[] {
  const ordered = [...points].sort((a, b) => a.distanceMm - b.distanceMm);
  return ordered.slice(1).flatMap((far, i) => {
    const near = ordered[i];
    const place = { file: far.captureId ?? '' };
    if (far.distanceMm === near.distanceMm) {
      const sentence = `the distance ${far.distanceMm} mm is given twice; keep the better echo of the two, or correct one distance`;
      return [problem('distance-twice', place, sentence)];
    }
    if (far.timeUs <= near.timeUs) {
      const sentence = `the echo of the ${far.distanceMm} mm reflector (${figure(far.timeUs, 3)} µs) does not come after that of the ${near.distanceMm} mm reflector (${figure(near.timeUs, 3)} µs); check which echo was taken for which`;
      return [problem('time-not-rising', place, sentence)];
    }
    return [];
  });
}
