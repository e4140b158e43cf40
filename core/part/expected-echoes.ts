import { coverageFactor } from '../check/verdict.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { sin } from '../elementary/trigonometric.ts';
import type { PlaceInSection } from '../review/part-decision.ts';
import { propagate, type Quantity, rectangularUncertainty } from '../units/quantity.ts';
import type { BeamEdges } from './beam.ts';
import type { BeamInPart, ProbePlace } from './locate-in-part.ts';
import { rayTo } from './ray-to.ts';
import type { Section } from './section.ts';

/** A corner of the part's own that sends an echo back. */
export interface Reflecting extends PlaceInSection {
  /** As it is told to a person: `weld root, 2.9 mm to the right`. */
  readonly name: string;
  /** Half-width of where it may lie. */
  readonly toleranceMm: number;
}

/** An echo that the part's own shape is expected to send to the probe where it stands. */
export interface ExpectedEcho {
  readonly name: string;
  /** Of the corner that sends it; `null` for a back wall. */
  readonly place: PlaceInSection | null;
  readonly leg: number;
  readonly pathMm: Quantity;
  /** Of the ray that reaches it. */
  readonly angleDeg: number;
}

/** Where the beam goes, to one part of its height or another, with twice the uncertainty of its angle on either side. */
export interface BeamReach {
  readonly edges: BeamEdges;
  /** No echo is expected from farther away. */
  readonly toMm: number;
}

/** No beam is followed over more legs. */
const mostLegs = 60;
const step = 1e-4;

/**
 * The corners of a weld's outline that send echoes: those on or beyond a surface of the part. What lies inside was molten and is one with the plate.
 * The names say on which side of the weld's middle they lie.
 */
export function reflectingCorners(
  weld: { readonly outline: readonly PlaceInSection[]; readonly toleranceMm: number },
  thicknessMm: number,
): Reflecting[] {
  const { outline, toleranceMm } = weld;
  const onSurface = 1e-6;
  return outline.flatMap(({ acrossMm, depthMm }) => {
    const isRoot = depthMm >= thicknessMm - onSurface;
    if (!isRoot && depthMm > onSurface) return [];
    const aside = Number(Math.abs(acrossMm).toFixed(1));
    const where = aside === 0 ? 'in the middle' : `${aside} mm to the ${acrossMm < 0 ? 'left' : 'right'}`;
    return [{ name: `weld ${isRoot ? 'root' : 'cap'}, ${where}`, acrossMm, depthMm, toleranceMm }];
  });
}

/** Both corners of a plate that ends at a distance from the weld's middle. */
export function plateEdge(acrossMm: number, thicknessMm: number, toleranceMm: number): Reflecting[] {
  return [
    { name: 'plate edge, far corner', acrossMm, depthMm: thicknessMm, toleranceMm },
    { name: 'plate edge, near corner', acrossMm, depthMm: 0, toleranceMm },
  ];
}

/**
 * The echoes that corners of the part send to a probe at a place, leg by leg, in order of sound path: each where a ray of the beam reaches the corner.
 * The path's uncertainty has the shares of the probe's place and index point (sin of the ray's angle), of the corner's tolerance, and of the thickness
 * (JCGM 100:2008 (GUM), 5.1.2). How high an echo stands is not predicted.
 */
export function expectedFromCorners(
  corners: readonly Reflecting[],
  beam: BeamInPart,
  place: ProbePlace,
  reach: BeamReach,
): ExpectedEcho[] {
  const section = beam.sectionWith(beam.thicknessMm.value);
  const thicker = beam.sectionWith(beam.thicknessMm.value + step);
  return corners
    .flatMap((corner) => {
      const { acrossMm, depthMm } = corner;
      const alongMm = place.offsetMm + (place.side === 'left' ? acrossMm : -acrossMm);
      const echoes: ExpectedEcho[] = [];
      for (let leg = 1; leg <= mostLegs; leg++) {
        const ray = rayTo(alongMm, depthMm, leg, section);
        if (ray !== null && ray.pathMm > reach.toMm) break;
        if (ray === null || !isInBeam(ray.angleDeg, beam, reach)) continue;
        // A corner on the far surface stays on it in a thicker plate.
        const moved = rayTo(alongMm, depthMm >= section.thicknessMm ? depthMm + step : depthMm, leg, thicker);
        const perThickness = moved === null ? 0 : (moved.pathMm - ray.pathMm) / step;
        const sine = sin((ray.angleDeg * Math.PI) / 180);
        const pathMm = propagate(ray.pathMm, [
          { sensitivity: sine, standardUncertainty: hypot(place.uOffsetMm, beam.uIndexMm) },
          { sensitivity: 1, standardUncertainty: rectangularUncertainty(corner.toleranceMm) },
          { sensitivity: perThickness, standardUncertainty: beam.thicknessMm.standardUncertainty },
        ]);
        echoes.push({ name: corner.name, place: { acrossMm, depthMm }, leg, pathMm, angleDeg: ray.angleDeg });
      }
      return echoes;
    })
    .sort((a, b) => a.pathMm.value - b.pathMm.value);
}

function isInBeam(angleDeg: number, beam: BeamInPart, { edges }: BeamReach): boolean {
  const spare = coverageFactor * (beam.angleDeg.standardUncertainty ?? 0);
  return angleDeg >= edges.steepestDeg - spare && angleDeg <= edges.flattestDeg + spare;
}

/** The back-wall echoes of a straight beam: once, twice, three times the thickness. */
export function expectedBackWalls(section: Section, thicknessMm: Quantity, toMm: number): ExpectedEcho[] {
  const leg = section.leg(0);
  if (leg === null) return [];
  const echoes: ExpectedEcho[] = [];
  for (let n = 1; n <= mostLegs && n * leg.lengthMm <= toMm; n++) {
    echoes.push({
      name: n === 1 ? 'back wall' : `back wall, echo ${n}`,
      place: null,
      leg: n,
      pathMm: propagate(n * leg.lengthMm, [{ sensitivity: n, standardUncertainty: thicknessMm.standardUncertainty }]),
      angleDeg: 0,
    });
  }
  return echoes;
}

/** An expected echo that a reading may be. */
export interface GeometryMatch {
  readonly expected: ExpectedEcho;
  /** Reading less expectation. */
  readonly differenceMm: number;
  /** Half-width within which they count as the same: k = 2 of both uncertainties. */
  readonly toleranceMm: number;
  readonly sentence: string;
}

/**
 * The expected echoes within whose tolerance a reading lies, the nearest first. That a reading lies there does not say that it is the geometry's: a flaw at
 * the root lies where the root's own echo does. It stays until a person has decided.
 */
export function matchGeometry(pathMm: Quantity, expected: readonly ExpectedEcho[]): GeometryMatch[] {
  return expected
    .flatMap((echo) => {
      const u = hypot(pathMm.standardUncertainty ?? 0, echo.pathMm.standardUncertainty ?? 0);
      const differenceMm = pathMm.value - echo.pathMm.value;
      const toleranceMm = coverageFactor * u;
      if (Math.abs(differenceMm) > toleranceMm) return [];
      const sentence = `Geometry expected here: ${echo.name}, on leg ${echo.leg} at a sound path of ${echo.pathMm.value.toFixed(2)} mm ± ${toleranceMm.toFixed(2)} mm (k = 2). A flaw there would show at the same path: confirm by damping, by the echo’s run along the weld, or from the other side.`;
      return [{ expected: echo, differenceMm, toleranceMm, sentence }];
    })
    .sort((a, b) => Math.abs(a.differenceMm) - Math.abs(b.differenceMm));
}
