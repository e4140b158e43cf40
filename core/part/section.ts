import type { Shape } from '../review/part-decision.ts';
import { curved } from './curved.ts';
import { flat } from './flat.ts';

/** A place as one leg reaches it: depth below the scanned surface, way along that surface from the index point. */
export interface PlaceOnLeg {
  readonly depthMm: number;
  readonly alongMm: number;
}

/** One leg of a beam, from one surface to the next. */
export interface LegShape {
  readonly lengthMm: number;
  /** Way along the scanned surface that one leg covers. */
  readonly alongMm: number;
  /** `far-surface`: legs go down and up in turn. `same-surface`: the beam misses the bore, and each leg goes from the outside to the outside. */
  readonly to: 'far-surface' | 'same-surface';
}

/** A section of the part in the beam's plane: what it does to a ray that enters at an angle to the normal of the scanned surface. */
export interface Section {
  readonly thicknessMm: number;
  /** `null`: the ray never meets a surface again (a ray along the surface of a plate). */
  leg(angleRad: number): LegShape | null;
  /** Where the ray is, so far on its first leg; beyond a surface too, as if there were none. */
  at(lengthMm: number, angleRad: number): PlaceOnLeg;
  /** How far on its first leg the ray reaches a depth (on the way to the far surface); `null`: it never does. */
  to(depthMm: number, angleRad: number): number | null;
}

/** The section of a plate, a pipe, or the step that a capture was taken on; thickness and radii in mm. */
export function sectionOf(shape: Exclude<Shape, { kind: 'step-block' }>, thicknessMm = shape.thicknessMm): Section {
  return shape.kind === 'plate' ? flat(thicknessMm) : curved(shape.outsideRadiusMm, thicknessMm, shape.from);
}

/** A path that ends at a surface within this part of a leg ends there exactly: cos 60° is not ½ in floating point. */
export const surfaceEpsilon = 1e-9;

/** The leg that a path ends in, counted from 1; one that ends at a surface belongs to the leg that arrives there. */
export function legAt(pathMm: number, legMm: number | null): number {
  if (legMm === null) return 1;
  const legs = pathMm / legMm;
  const whole = Math.round(legs);
  const endsAtSurface = whole >= 1 && Math.abs(legs - whole) <= surfaceEpsilon * whole;
  return endsAtSurface ? whole : Math.floor(legs) + 1;
}

/**
 * Where a path ends, taken as on the leg given: up-going legs are the down-going one seen in a mirror.
 *
 *     index
 *     --x--------------x------------ scanned surface
 *        \      /\      \
 *         \    /  \      \           leg 2 at the way s into it is leg 1 at (length − s), as far before the skip as that lies behind the index
 *     ------\/------\/------------- far surface
 */
export function placeOn(
  leg: number,
  pathMm: number,
  angleRad: number,
  section: Section,
  shape: LegShape | null,
): PlaceOnLeg {
  if (shape === null) return section.at(pathMm, angleRad);
  if (leg % 2 === 1 || shape.to === 'same-surface') {
    const { depthMm, alongMm } = section.at(pathMm - (leg - 1) * shape.lengthMm, angleRad);
    return { depthMm, alongMm: (leg - 1) * shape.alongMm + alongMm };
  }
  const { depthMm, alongMm } = section.at(leg * shape.lengthMm - pathMm, angleRad);
  return { depthMm, alongMm: leg * shape.alongMm - alongMm };
}

/** The path to a depth on a leg: the inverse of `placeOn`. `null`: that leg never reaches the depth. A depth beyond a surface is reached as if the leg went on. */
export function pathTo(depthMm: number, leg: number, angleRad: number, section: Section): number | null {
  const way = section.to(depthMm, angleRad);
  const shape = section.leg(angleRad);
  if (way === null || (leg > 1 && shape === null)) return null;
  const length = shape?.lengthMm ?? 0;
  return leg % 2 === 1 || shape?.to === 'same-surface' ? (leg - 1) * length + way : leg * length - way;
}
