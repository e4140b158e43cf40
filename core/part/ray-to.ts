import { pathTo, placeOn, type Section } from './section.ts';

/** A ray from the index point to a place on a leg. */
export interface Ray {
  readonly pathMm: number;
  readonly angleDeg: number;
}

/** Halvings of the span of angles: to the last bits of a double. */
const halvings = 60;
const flattest = Math.PI / 2 - 1e-9;

/**
 * The ray that reaches a place on a leg: the inverse of where a path ends, over the angles that the part allows.
 *
 * Down-going legs reach what lies below the scanned surface, up-going ones what lies above the far surface; both go on beyond the surface
 * at their end, into a root or a cap that stands out. `null`: no ray does (for a pipe: the bore is in the way).
 * On every leg the way along the surface grows with the angle, so that halving the span of angles finds the one ray there is.
 * Source: plane geometry; the cosine rule in a pipe.
 * @param alongMm from the index point, in the beam's direction positive; may be negative
 */
export function rayTo(alongMm: number, depthMm: number, leg: number, section: Section): Ray | null {
  const down = leg % 2 === 1;
  if (down ? depthMm <= 0 : depthMm >= section.thicknessMm) return null;
  const sign = Math.sign(alongMm) || 1;
  const reach = (angle: number): number | null => {
    if (section.leg(angle)?.to === 'same-surface') return null;
    const path = pathTo(depthMm, leg, angle, section);
    return path === null ? null : placeOn(leg, path, angle, section, section.leg(angle)).alongMm;
  };
  const wanted = Math.abs(alongMm);
  let [steep, flat] = [0, flattest];
  for (let i = 0; i < halvings; i++) {
    const angle = (steep + flat) / 2;
    const along = reach(angle);
    if (along === null || along > wanted) flat = angle;
    else steep = angle;
  }
  const angle = (steep + flat) / 2;
  const along = reach(steep);
  // Halving against the end of the span closes in on the last ray there is, not on one that hits.
  if (along === null || Math.abs(along - wanted) > 1e-6 * (1 + wanted)) return null;
  const pathMm = pathTo(depthMm, leg, angle, section) ?? pathTo(depthMm, leg, steep, section);
  return pathMm === null ? null : { pathMm, angleDeg: (sign * angle * 180) / Math.PI };
}
