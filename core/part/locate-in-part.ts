import { hypot } from '../elementary/hypotenuse.ts';
import { atan2 } from '../elementary/trigonometric.ts';
import type { Placement } from '../review/part-decision.ts';
import type { Quantity } from '../units/quantity.ts';
import { type LegShape, legAt, type PlaceOnLeg, placeOn, type Section } from './section.ts';

/** Covariance matrix of a place, in mm²: along the scanned surface, down, and of both. */
export interface PlaceCovariance {
  readonly along: number;
  readonly depth: number;
  readonly both: number;
}

/** An ellipse about a place, k = 2: for normal errors the place lies in it with 86 % (1 − e⁻²), not 95 %. */
export interface UncertaintyEllipse {
  readonly semiMajorMm: number;
  readonly semiMinorMm: number;
  /** Of the major axis, from the scanned surface (in the direction in which `acrossMm` grows, or, without a placement, in which the beam goes) downwards; −90 to 90. */
  readonly tiltDeg: number;
}

/** Where an echo lies in the part. Lengths along the surface of a pipe are arcs on the scanned one. */
export interface PlaceInPart {
  readonly leg: number;
  readonly depthMm: Quantity;
  /** From the index point. */
  readonly surfaceDistanceMm: Quantity;
  /** From the front of the wedge; `null` where the index point's place on the wedge is not known. */
  readonly fromFrontMm: Quantity | null;
  /** From the weld's middle, to the right positive; `null` where the probe's place is not known. */
  readonly acrossMm: Quantity | null;
  /** `null` where an uncertainty is not known. */
  readonly covariance: PlaceCovariance | null;
  readonly ellipse: UncertaintyEllipse | null;
  readonly remarks: readonly string[];
}

/** A beam and the part it is in, with what is known of each. */
export interface BeamInPart {
  readonly angleDeg: Quantity;
  /** Of a part with this thickness, in mm. */
  readonly sectionWith: (thicknessMm: number) => Section;
  readonly thicknessMm: Quantity;
  readonly indexToFrontMm: number | null;
  /** Of the index point on the wedge. */
  readonly uIndexMm: number;
}

/** Where the probe stood: from the weld's middle back to the index point. */
export interface ProbePlace {
  readonly side: Placement['side'];
  readonly offsetMm: number;
  readonly uOffsetMm: number;
}

const radians = Math.PI / 180;
/** For derivatives: small against any curve of the part, large against the rounding of a double. */
const step = { mm: 1e-4, rad: 1e-6 };
const coverage = 2;

/**
 * Depth, surface distance, leg and place of an echo at a sound path. Uncertainties and the ellipse carry those of path, angle and thickness to first
 * order (JCGM 100:2008 (GUM), 5.1.2 and, for two results, JCGM 102:2011, 6.2), and in the weld's coordinates those of index point and offset too.
 * They are unknown where the beam grazes the bore within the angle's uncertainty, since there the part turns a small change into a large one.
 * @param pathMm not negative @param place `null`: the probe's place is not known
 */
export function locateInPart(pathMm: Quantity, beam: BeamInPart, place: ProbePlace | null): PlaceInPart {
  const angle = beam.angleDeg.value * radians;
  const section = beam.sectionWith(beam.thicknessMm.value);
  const shape = section.leg(angle);
  const leg = legAt(pathMm.value, shape?.lengthMm ?? null);
  const here = placeOn(leg, pathMm.value, angle, section, shape);
  const grazes = grazesBore(beam, shape);
  const covariance = grazes ? null : covarianceOf(pathMm, beam, leg);
  const along = { value: here.alongMm, standardUncertainty: rootOf(covariance?.along) };
  const depth = { value: here.depthMm, standardUncertainty: rootOf(covariance?.depth) };
  const { indexToFrontMm, uIndexMm } = beam;
  const toRight = place?.side === 'right' ? -1 : 1;
  const inWeld: PlaceCovariance | null =
    covariance === null || place === null
      ? covariance
      : {
          along: covariance.along + place.uOffsetMm ** 2 + uIndexMm ** 2,
          depth: covariance.depth,
          both: toRight * covariance.both,
        };
  return {
    leg,
    depthMm: depth,
    surfaceDistanceMm: along,
    fromFrontMm:
      indexToFrontMm === null
        ? null
        : {
            value: here.alongMm - indexToFrontMm,
            standardUncertainty: covariance === null ? null : Math.sqrt(covariance.along + uIndexMm ** 2),
          },
    acrossMm:
      place === null
        ? null
        : { value: toRight * (here.alongMm - place.offsetMm), standardUncertainty: rootOf(inWeld?.along) },
    covariance: inWeld,
    ellipse: inWeld === null ? null : ellipseOf(inWeld),
    remarks: remarksAbout(depth, section.thicknessMm, leg, shape, grazes),
  };
}

function rootOf(variance: number | undefined): number | null {
  return variance === undefined ? null : Math.sqrt(variance);
}

/** Whether the beam meets the bore for some of the angles and thicknesses that are possible (k = 2), and misses it for others. */
function grazesBore({ angleDeg, thicknessMm, sectionWith }: BeamInPart, shape: LegShape | null): boolean {
  const [angle, uAngle] = [angleDeg.value * radians, (angleDeg.standardUncertainty ?? 0) * radians];
  const uThickness = thicknessMm.standardUncertainty ?? 0;
  return [-coverage, coverage].some((k) => {
    const other = sectionWith(thicknessMm.value + k * uThickness).leg(angle + k * uAngle);
    return other?.to !== shape?.to;
  });
}

/** J · diag(u²) · Jᵀ, the derivatives taken on the leg that the path ends in. */
function covarianceOf(pathMm: Quantity, beam: BeamInPart, leg: number): PlaceCovariance | null {
  const { angleDeg, thicknessMm, sectionWith } = beam;
  const uAngle = angleDeg.standardUncertainty;
  const inputs = [
    { u: pathMm.standardUncertainty, by: step.mm, moved: (d: number) => at(pathMm.value + d, 0, 0) },
    { u: uAngle === null ? null : uAngle * radians, by: step.rad, moved: (d: number) => at(pathMm.value, d, 0) },
    { u: thicknessMm.standardUncertainty, by: step.mm, moved: (d: number) => at(pathMm.value, 0, d) },
  ];
  function at(path: number, turned: number, thicker: number): PlaceOnLeg {
    const section = sectionWith(thicknessMm.value + thicker);
    const angle = angleDeg.value * radians + turned;
    return placeOn(leg, path, angle, section, section.leg(angle));
  }
  let [along, depth, both] = [0, 0, 0];
  for (const { u, by, moved } of inputs) {
    if (u === null) return null;
    const [before, behind] = [moved(-by), moved(by)];
    const a = ((behind.alongMm - before.alongMm) / (2 * by)) * u;
    const d = ((behind.depthMm - before.depthMm) / (2 * by)) * u;
    along += a ** 2;
    depth += d ** 2;
    both += a * d;
  }
  return { along, depth, both };
}

/** Semi-axes are k = 2 times the roots of the eigenvalues of the covariance matrix. */
export function ellipseOf({ along, depth, both }: PlaceCovariance): UncertaintyEllipse {
  const mean = (along + depth) / 2;
  const half = hypot((along - depth) / 2, both);
  return {
    semiMajorMm: coverage * Math.sqrt(mean + half),
    semiMinorMm: coverage * Math.sqrt(Math.max(0, mean - half)),
    tiltDeg: half === 0 ? 0 : atan2(2 * both, along - depth) / 2 / radians,
  };
}

function remarksAbout(
  depth: Quantity,
  thicknessMm: number,
  leg: number,
  shape: LegShape | null,
  grazes: boolean,
): string[] {
  const remarks: string[] = [];
  if (grazes)
    remarks.push(
      'The beam grazes the bore within the uncertainty of its angle: the uncertainty of the place is not known.',
    );
  else if (shape?.to === 'same-surface')
    remarks.push('The beam misses the bore: each leg goes from the outside to the outside.');
  if (depth.standardUncertainty === null) return remarks;
  const expanded = coverage * depth.standardUncertainty;
  const upward = leg % 2 === 0 && shape?.to === 'far-surface';
  const other = (legs: string) => `Within its uncertainty (k = 2) the echo lies at the ${legs}.`;
  if (shape?.to !== 'same-surface' && thicknessMm - depth.value < expanded)
    remarks.push(other(`far surface: leg ${upward ? leg - 1 : leg} or ${upward ? leg : leg + 1}`));
  else if (depth.value < expanded && leg > 1)
    remarks.push(other(`scanned surface: leg ${upward ? leg : leg - 1} or ${upward ? leg + 1 : leg}`));
  return remarks;
}
