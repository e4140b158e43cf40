import { cos, sin } from '../elementary/trigonometric.ts';
import { invariant } from '../invariant.ts';
import { type Problem, problem } from '../outcome.ts';
import { propagate, type Quantity } from '../units/quantity.ts';
import { legAt } from './section.ts';

/** A flat plate and the beam in it: what turns a sound path into depth and surface distance. */
export interface BeamInPlate {
  readonly angleDeg: number;
  /** `null`: no back wall is known, everything is first leg. */
  readonly thicknessMm: number | null;
  /** Standard uncertainty of the thickness; not given, it counts as exact. */
  readonly uThicknessMm?: number;
}

/** Where an echo lies in the plate: depth below the probe's surface, distance along it from the index point, and which leg met it. */
export interface Position {
  readonly depthMm: Quantity;
  readonly surfaceDistanceMm: Quantity;
  readonly leg: number;
}

/** What keeps a beam from being one: `angle-out-of-range`, `thickness-not-positive`. */
export function beamProblems(beam: BeamInPlate, file: string): Problem[] {
  const problems: Problem[] = [];
  if (!(beam.angleDeg > 0 && beam.angleDeg < 90)) {
    const sentence = `an angle of ${beam.angleDeg}° is not that of an angle beam; give one between 0° and 90°, and none for a straight beam`;
    problems.push(problem('angle-out-of-range', { file }, sentence));
  }
  if (beam.thicknessMm !== null && !(beam.thicknessMm > 0 && Number.isFinite(beam.thicknessMm))) {
    const sentence = `a thickness of ${beam.thicknessMm} mm cannot be; give the plate's thickness as more than 0 mm`;
    problems.push(problem('thickness-not-positive', { file }, sentence));
  }
  return problems;
}

/**
 * Depth, surface distance and leg of an echo at a sound path in mm, in a flat plate of parallel faces.
 *
 *     index
 *     --x--------------------------- probe's surface
 *        \      /\
 *         \    /  \  leg 3           path · cos angle = (leg − 1) · thickness + way into this leg
 *          \  /    \                 depth counts down on odd legs, up on even ones
 *     ------\/--------------------- back wall
 *      leg 1   leg 2
 *
 * A path that ends at a surface belongs to the leg that arrives there. Uncertainties are those of the path, of the angle
 * and of the thickness as often as it was passed (GUM 5.1.2); without an uncertainty of the angle those of depth and surface distance
 * are not known.
 * `null` for a negative path: the echo came before the sound entered the plate. Source: plane geometry (common practice).
 */
export function locate(pathMm: Quantity, beam: BeamInPlate, uAngleDeg: number | null): Position | null {
  invariant(beamProblems(beam, '').length === 0, 'a beam with problems reached the geometry');
  if (!(pathMm.value >= 0)) return null;
  const angle = (beam.angleDeg * Math.PI) / 180;
  const uAngle = uAngleDeg === null ? null : (uAngleDeg * Math.PI) / 180;
  const way = pathMm.value * cos(angle);
  const along = pathMm.value * sin(angle);
  const leg = legAt(way, beam.thicknessMm);
  const thicknessMm = beam.thicknessMm ?? 0;
  const into = way - (leg - 1) * thicknessMm;
  const downward = leg % 2 === 1;
  return {
    depthMm: propagate(downward ? into : thicknessMm - into, [
      { sensitivity: cos(angle), standardUncertainty: pathMm.standardUncertainty },
      { sensitivity: along, standardUncertainty: uAngle },
      { sensitivity: downward ? leg - 1 : leg, standardUncertainty: beam.uThicknessMm ?? 0 },
    ]),
    surfaceDistanceMm: propagate(along, [
      { sensitivity: sin(angle), standardUncertainty: pathMm.standardUncertainty },
      { sensitivity: way, standardUncertainty: uAngle },
    ]),
    leg,
  };
}
