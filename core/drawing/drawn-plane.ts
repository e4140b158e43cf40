import { hypot } from '../elementary/hypotenuse.ts';
import { atan2, cos, sin } from '../elementary/trigonometric.ts';
import type { UncertaintyEllipse } from '../part/locate-in-part.ts';
import type { PlaceInSection, Shape } from '../review/part-decision.ts';

/** A point of a drawing to scale, in mm: across to the right, down from where the scanned surface stands over the origin. */
export interface DrawnPoint {
  readonly xMm: number;
  readonly yMm: number;
}

/** Turns a place, told along the scanned surface and down from it, into a point of a drawing to scale. */
export type DrawnPlane = (place: PlaceInSection) => DrawnPoint;

/** A part of one thickness: a step of a block is drawn as a plate. */
export type DrawnShape = Exclude<Shape, { kind: 'step-block' }>;

/**
 * The plane of a section's drawing. A plate is drawn as it is told. A pipe is drawn round: the way along the scanned surface is an arc on it, the depth
 * is along the radius, and the surface lies on top, so that the axis is below for a scan from outside and above for one from the bore.
 *
 *     from outside, radius R                     from the bore, radius R
 *     x = (R − depth) sin(across / R)            x = (R + depth) sin(across / R)
 *     y = R − (R − depth) cos(across / R)        y = (R + depth) cos(across / R) − R
 *
 * Source: polar coordinates.
 */
export function drawnPlane(shape: DrawnShape): DrawnPlane {
  if (shape.kind === 'plate') return ({ acrossMm, depthMm }) => ({ xMm: acrossMm, yMm: depthMm });
  const { outsideRadiusMm, thicknessMm, from } = shape;
  const radius = from === 'outside' ? outsideRadiusMm : outsideRadiusMm - thicknessMm;
  const downwards = from === 'outside' ? -1 : 1;
  return ({ acrossMm, depthMm }) => {
    const toAxis = radius + downwards * depthMm;
    const turn = acrossMm / radius;
    return { xMm: toAxis * sin(turn), yMm: downwards * (toAxis * cos(turn) - radius) };
  };
}

/** What place a point of the drawing is: the inverse of `drawnPlane`. */
export function placeAtPoint({ xMm, yMm }: DrawnPoint, shape: DrawnShape): PlaceInSection {
  if (shape.kind === 'plate') return { acrossMm: xMm, depthMm: yMm };
  const { outsideRadiusMm, thicknessMm, from } = shape;
  const radius = from === 'outside' ? outsideRadiusMm : outsideRadiusMm - thicknessMm;
  const downwards = from === 'outside' ? -1 : 1;
  const towards = radius + downwards * yMm;
  return {
    acrossMm: radius * atan2(xMm, towards),
    depthMm: downwards * (hypot(xMm, towards) - radius),
  };
}

/** No line of a drawing turns by more than this between two points, in mm along the surface. */
const finest = 1;

/** A line between two places, as a pipe bends it; in a plate the two ends. */
export function drawnLine(from: PlaceInSection, to: PlaceInSection, shape: DrawnShape): DrawnPoint[] {
  const plane = drawnPlane(shape);
  const pieces =
    shape.kind === 'plate' ? 1 : Math.min(720, Math.max(1, Math.ceil(Math.abs(to.acrossMm - from.acrossMm) / finest)));
  return Array.from({ length: pieces + 1 }, (_, i) =>
    plane({
      acrossMm: from.acrossMm + ((to.acrossMm - from.acrossMm) * i) / pieces,
      depthMm: from.depthMm + ((to.depthMm - from.depthMm) * i) / pieces,
    }),
  );
}

/** A closed line through places in order. */
export function drawnOutline(places: readonly PlaceInSection[], shape: DrawnShape): DrawnPoint[] {
  return places.flatMap((place, i) => drawnLine(place, places[(i + 1) % places.length]!, shape).slice(0, -1));
}

const pointsOfEllipse = 48;

/** An ellipse of uncertainty about a place, as a closed line. */
export function drawnEllipse(about: PlaceInSection, ellipse: UncertaintyEllipse, shape: DrawnShape): DrawnPoint[] {
  const plane = drawnPlane(shape);
  const tilt = (ellipse.tiltDeg * Math.PI) / 180;
  return Array.from({ length: pointsOfEllipse }, (_, i) => {
    const at = (2 * Math.PI * i) / pointsOfEllipse;
    const major = ellipse.semiMajorMm * cos(at);
    const minor = ellipse.semiMinorMm * sin(at);
    return plane({
      acrossMm: about.acrossMm + major * cos(tilt) - minor * sin(tilt),
      depthMm: about.depthMm + major * sin(tilt) + minor * cos(tilt),
    });
  });
}
