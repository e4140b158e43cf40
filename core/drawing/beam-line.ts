import type { BeamEdges } from '../part/beam.ts';
import type { ProbePlace } from '../part/locate-in-part.ts';
import { legAt, placeOn, type Section } from '../part/section.ts';
import type { PlaceInSection } from '../review/part-decision.ts';

/** Farther than this many legs nothing is drawn. */
const mostLegs = 60;
const radians = Math.PI / 180;

/** Where a ray is drawn: from the probe's place, or from the index point where that is not known. */
type From = Pick<ProbePlace, 'side' | 'offsetMm'> | null;

/**
 * A ray from the index point by its skips to the end of a path: the index point, each place where it meets a surface, and where it ends. Between them
 * it is straight, in a pipe too. Without a place of the probe, `acrossMm` counts from the index point.
 */
export function rayLine(angleDeg: number, toPathMm: number, section: Section, from: From): PlaceInSection[] {
  const angle = angleDeg * radians;
  const leg = section.leg(angle);
  const at = (pathMm: number, onLeg: number): PlaceInSection => {
    const { depthMm, alongMm } = placeOn(onLeg, pathMm, angle, section, leg);
    return { acrossMm: acrossOf(alongMm, from), depthMm };
  };
  const last = Math.min(mostLegs, legAt(toPathMm, leg?.lengthMm ?? null));
  const corners = Array.from({ length: last - 1 }, (_, i) => at((i + 1) * leg!.lengthMm, i + 1));
  const end = last === mostLegs && leg !== null ? Math.min(toPathMm, mostLegs * leg.lengthMm) : toPathMm;
  return [{ acrossMm: acrossOf(0, from), depthMm: 0 }, ...corners, at(end, last)];
}

function acrossOf(alongMm: number, from: From): number {
  if (from === null) return alongMm;
  return from.side === 'left' ? alongMm - from.offsetMm : from.offsetMm - alongMm;
}

/** Rays between the two edges, enough for the far end of the fan to look round. */
const raysOfFan = 17;

/**
 * What a beam covers between its edges up to a path, leg by leg, as closed lines through places: each leg from where its rays begin to where they meet
 * the next surface, or end. Drawn together they are the beam's spread.
 */
export function beamFan(edges: BeamEdges, toPathMm: number, section: Section, from: From): PlaceInSection[][] {
  // A ray along the surface meets nothing; the last one that is drawn goes just below it.
  const flattest = Math.min(edges.flattestDeg, 89.9);
  const rays = Array.from({ length: raysOfFan }, (_, i) =>
    rayLine(edges.steepestDeg + ((flattest - edges.steepestDeg) * i) / (raysOfFan - 1), toPathMm, section, from),
  );
  const legs = Math.max(...rays.map((ray) => ray.length - 1));
  return Array.from({ length: legs }, (_, leg) => {
    const reaching = rays.filter((ray) => ray.length > leg + 1);
    return [...reaching.map((ray) => ray[leg]!), ...reaching.map((ray) => ray[leg + 1]!).reverse()];
  });
}
