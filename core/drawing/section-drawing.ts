import type { CaptureId } from '../capture/capture.ts';
import type { BeamEdges } from '../part/beam.ts';
import type { ExpectedEcho } from '../part/expected-echoes.ts';
import type { PlaceInPart, ProbePlace } from '../part/locate-in-part.ts';
import { partProblems } from '../part/part-problems.ts';
import { sectionOf } from '../part/section.ts';
import type { PartDecision, PlaceInSection } from '../review/part-decision.ts';
import { refersTo } from '../steps/calibration-points.ts';
import { beamFan, rayLine } from './beam-line.ts';
import { type DrawnPoint, type DrawnShape, drawnEllipse, drawnLine, drawnOutline, drawnPlane } from './drawn-plane.ts';

/** What is looked at: the probe in one place, and how far its beam is followed. */
export interface SectionLook {
  /** Decides the step of a step block; `null`: its first. */
  readonly capture: { readonly captureId: CaptureId; readonly file: string } | null;
  readonly probe: ProbePlace | null;
  /** `null`: the beam is not drawn. */
  readonly toPathMm: number | null;
  /** How the beam spreads; `null`: not known. */
  readonly edges: BeamEdges | null;
  readonly velocityMPerS: number | null;
}

/** Something that lies in the section. */
export interface MarkInSection {
  readonly id: string;
  readonly place: PlaceInPart;
}

export interface DrawnMark {
  readonly id: string;
  readonly at: DrawnPoint;
  /** Its place as it is told, with `acrossMm` from the drawing's origin. */
  readonly place: PlaceInSection;
  /** k = 2; `null` where an uncertainty is not known. */
  readonly ellipse: readonly DrawnPoint[] | null;
}

export interface DrawnExpectation {
  readonly name: string;
  readonly leg: number;
  readonly pathMm: number;
  readonly at: DrawnPoint;
  readonly place: PlaceInSection;
}

export interface Bounds {
  readonly from: DrawnPoint;
  readonly to: DrawnPoint;
}

/** A section of the part as it is drawn, to scale in mm. */
export interface DrawnSection {
  readonly shape: DrawnShape;
  /** From what `acrossMm` counts: the weld's middle, or the index point where the probe's place is not known. The weld is drawn with the first only. */
  readonly origin: 'weld-middle' | 'index-point';
  readonly scannedSurface: readonly DrawnPoint[];
  readonly farSurface: readonly DrawnPoint[];
  readonly weld: readonly DrawnPoint[] | null;
  readonly features: readonly { readonly name: string; readonly at: DrawnPoint }[];
  readonly probe: {
    readonly index: DrawnPoint;
    readonly front: DrawnPoint | null;
    /** In which direction the beam goes: 1 to the right. */
    readonly towards: 1 | -1;
  } | null;
  readonly beam: {
    readonly axis: readonly DrawnPoint[];
    /** Closed lines that together are the spread; empty where it is not known. */
    readonly spread: readonly (readonly DrawnPoint[])[];
  } | null;
  readonly marks: readonly DrawnMark[];
  readonly expected: readonly DrawnExpectation[];
  /** How many marks have no place from this origin. */
  readonly notDrawn: number;
  /** All that is looked at; the surfaces go on beyond it. */
  readonly whole: Bounds;
  /** About the weld, or where there is none about the marks; `null` where there is neither. */
  readonly close: Bounds | null;
}

/**
 * The part's section with what lies in it, where the points of a drawing to scale are. `null` where the part has a problem: nothing may be drawn from it.
 */
export function sectionDrawing(
  part: PartDecision,
  look: SectionLook,
  marks: readonly MarkInSection[],
  expected: readonly ExpectedEcho[],
): DrawnSection | null {
  if (partProblems(part, 'part', look.velocityMPerS).length > 0) return null;
  const shape = shapeUnder(part, look.capture);
  if (shape === null) return null;
  const { angleDeg, indexToFrontMm } = part.probe;
  const fromWeld = look.probe !== null || marks.some(({ place }) => place.acrossMm !== null);
  const from = look.probe;
  const isProbeDrawn = !fromWeld || from !== null;
  const plane = drawnPlane(shape);
  const section = sectionOf(shape);

  const axis =
    look.toPathMm === null || !isProbeDrawn ? null : rayLine(angleDeg, Math.max(0, look.toPathMm), section, from);
  const fan = axis === null || look.edges === null ? [] : beamFan(look.edges, look.toPathMm!, section, from);
  const towards = from?.side === 'right' ? -1 : 1;
  const indexAcross = from === null ? 0 : from.side === 'left' ? -from.offsetMm : from.offsetMm;
  const frontAcross = indexToFrontMm === null ? null : indexAcross + towards * indexToFrontMm;
  const placed = marks.flatMap((mark) => placedMark(mark, fromWeld));
  const corners = fromWeld ? expected.filter((echo) => echo.place !== null) : [];
  const outline = fromWeld ? (part.weld?.outline ?? null) : null;
  const features = fromWeld ? part.features : [];

  const acrossAll = [
    ...(isProbeDrawn ? [indexAcross, ...(frontAcross === null ? [] : [frontAcross])] : []),
    ...(axis ?? []).map(({ acrossMm }) => acrossMm),
    ...[...(outline ?? []), ...features, ...placed.map(({ place }) => place)].map(({ acrossMm }) => acrossMm),
    ...corners.map(({ place }) => place!.acrossMm),
  ];
  const spare = Math.max(shape.thicknessMm / 2, 5);
  const [left, right] = [Math.min(0, ...acrossAll) - spare, Math.max(0, ...acrossAll) + spare];
  const surface = (depthMm: number, on: readonly [number, number]) =>
    drawnLine({ acrossMm: on[0], depthMm }, { acrossMm: on[1], depthMm }, shape);
  const looked = withinOneTurn(left, right, shape);
  // The part goes on beyond what is looked at: where it ends is only known where a corner says so.
  const beyond = 20 * (right - left);
  const goesOn = withinOneTurn(left - beyond, right + beyond, shape);

  const drawn = {
    shape,
    origin: fromWeld ? ('weld-middle' as const) : ('index-point' as const),
    scannedSurface: surface(0, goesOn),
    farSurface: surface(shape.thicknessMm, goesOn),
    weld: outline === null ? null : drawnOutline(outline, shape),
    features: features.map((feature) => ({ name: feature.name, at: plane(feature) })),
    probe: isProbeDrawn
      ? {
          index: plane({ acrossMm: indexAcross, depthMm: 0 }),
          front: frontAcross === null ? null : plane({ acrossMm: frontAcross, depthMm: 0 }),
          towards: towards as 1 | -1,
        }
      : null,
    beam: axis === null ? null : { axis: axis.map(plane), spread: fan.map((leg) => leg.map(plane)) },
    marks: placed.map(({ mark, place }) => ({
      id: mark.id,
      at: plane(place),
      place,
      ellipse: mark.place.ellipse === null ? null : drawnEllipse(place, mark.place.ellipse, shape),
    })),
    expected: corners.map(({ name, leg, pathMm, place }) => ({
      name,
      leg,
      pathMm: pathMm.value,
      at: plane(place!),
      place: place!,
    })),
    notDrawn: marks.length - placed.length,
  };
  // Above the scanned surface stands the probe.
  const above = plane({ acrossMm: indexAcross, depthMm: isProbeDrawn ? -shape.thicknessMm / 4 : 0 });
  const all = [
    ...surface(0, looked),
    ...surface(shape.thicknessMm, looked),
    ...(drawn.weld ?? []),
    ...drawn.features.map(({ at }) => at),
    ...(isProbeDrawn ? [above] : []),
  ];
  const close = [...(drawn.weld ?? []), ...drawn.marks.map(({ at }) => at)];
  return {
    ...drawn,
    whole: boundsOf([...all, ...drawn.marks.map(({ at }) => at)], 0),
    close: close.length === 0 ? null : boundsOf(close, Math.max(0.5, shape.thicknessMm / 16)),
  };
}

/** A weld's outline in the part, by itself: for who states its corners. */
export interface DrawnWeld {
  readonly scannedSurface: readonly DrawnPoint[];
  readonly farSurface: readonly DrawnPoint[];
  readonly outline: readonly DrawnPoint[];
  /** In the order in which they are told. */
  readonly corners: readonly DrawnPoint[];
  readonly whole: Bounds;
}

/** The weld as it is told, though it may cross itself or have too few corners to be an area: a person sees what is wrong. `null` where the shape is none. */
export function weldDrawing(part: Pick<PartDecision, 'shape'>, outline: readonly PlaceInSection[]): DrawnWeld | null {
  const shape = shapeUnder(part, null);
  if (shape === null || !(shape.thicknessMm > 0)) return null;
  const across = outline.map(({ acrossMm }) => acrossMm);
  const spare = Math.max(3, shape.thicknessMm / 2);
  const [left, right] = [Math.min(0, ...across) - spare, Math.max(0, ...across) + spare];
  const surface = (depthMm: number) => drawnLine({ acrossMm: left, depthMm }, { acrossMm: right, depthMm }, shape);
  const drawn = {
    scannedSurface: surface(0),
    farSurface: surface(shape.thicknessMm),
    outline: drawnOutline(outline, shape),
    corners: outline.map(drawnPlane(shape)),
  };
  return { ...drawn, whole: boundsOf([...drawn.scannedSurface, ...drawn.farSurface, ...drawn.outline], 1) };
}

function shapeUnder({ shape }: Pick<PartDecision, 'shape'>, capture: SectionLook['capture']): DrawnShape | null {
  if (shape.kind !== 'step-block') return shape;
  const step =
    capture === null
      ? shape.steps[0]
      : shape.steps.find(({ captures }) => captures.some((reference) => refersTo(reference, capture)));
  return step === undefined ? null : { kind: 'plate', thicknessMm: step.thicknessMm, uThicknessMm: step.uThicknessMm };
}

function placedMark(mark: MarkInSection, fromWeld: boolean) {
  const across = fromWeld ? mark.place.acrossMm : mark.place.surfaceDistanceMm;
  return across === null ? [] : [{ mark, place: { acrossMm: across.value, depthMm: mark.place.depthMm.value } }];
}

/** More than once round a pipe would be drawn over itself. */
function withinOneTurn(left: number, right: number, shape: DrawnShape): readonly [number, number] {
  if (shape.kind === 'plate') return [left, right];
  const radius = shape.from === 'outside' ? shape.outsideRadiusMm : shape.outsideRadiusMm - shape.thicknessMm;
  const half = Math.PI * radius;
  return [Math.max(left, -half), Math.min(right, half)];
}

function boundsOf(points: readonly DrawnPoint[], spareMm: number): Bounds {
  const [xs, ys] = [points.map(({ xMm }) => xMm), points.map(({ yMm }) => yMm)];
  return {
    from: { xMm: Math.min(...xs) - spareMm, yMm: Math.min(...ys) - spareMm },
    to: { xMm: Math.max(...xs) + spareMm, yMm: Math.max(...ys) + spareMm },
  };
}
