import type { BeamInPart, ProbePlace } from '../part/locate-in-part.ts';
import { type Section, sectionOf } from '../part/section.ts';
import type { PartDecision, Placement, Shape } from '../review/part-decision.ts';
import { remembered } from '../signal/remembered.ts';
import type { Quantity } from '../units/quantity.ts';
import { refersTo } from './calibration-points.ts';
import type { CaptureFacts } from './examine.ts';

/** What of a capture says where it was taken. */
type Taken = Pick<CaptureFacts, 'captureId' | 'file' | 'positionMm'>;

/** The part as it is under one capture; `null`: no step is named for it. */
function underCapture(
  { shape }: PartDecision,
  capture: Taken,
): { thicknessMm: Quantity; sectionWith: BeamInPart['sectionWith'] } | null {
  const flatOrRound = (one: Exclude<Shape, { kind: 'step-block' }>) => ({
    thicknessMm: { value: one.thicknessMm, standardUncertainty: one.uThicknessMm },
    sectionWith: (mm: number): Section => sectionOf(one, mm),
  });
  if (shape.kind !== 'step-block') return flatOrRound(shape);
  const step = shape.steps.find(({ captures }) => captures.some((reference) => refersTo(reference, capture)));
  return step === undefined ? null : flatOrRound({ kind: 'plate', ...step });
}

/** The beam in the part under one capture; `null` as above. */
export function beamUnder(part: PartDecision, capture: Taken): BeamInPart | null {
  const under = underCapture(part, capture);
  const { angleDeg, uAngleDeg, indexToFrontMm, uIndexMm } = part.probe;
  return under && { ...under, angleDeg: { value: angleDeg, standardUncertainty: uAngleDeg }, indexToFrontMm, uIndexMm };
}

const firstNamings = new WeakMap<PartDecision['placements'], ReadonlyMap<string, number>>();

/** The first placement that names a capture or its file. By a look-up: with thousands of captures a look at each name for each of them would take long. */
function placementOf({ placements }: PartDecision, { captureId, file }: Taken): Placement | null {
  const first = remembered(firstNamings, placements, firstNaming);
  const none = placements.length;
  return placements[Math.min(first.get(captureId) ?? none, first.get(file) ?? none)] ?? null;
}

function firstNaming(placements: PartDecision['placements']): ReadonlyMap<string, number> {
  const first = new Map<string, number>();
  for (const [i, { captures }] of placements.entries())
    for (const reference of captures) if (!first.has(reference)) first.set(reference, i);
  return first;
}

/** Where the probe stood for a capture; `null`: not known, or its own position counts the way and is missing. */
export function placeOfProbe(part: PartDecision, capture: Taken): ProbePlace | null {
  const placement = placementOf(part, capture);
  if (placement === null) return null;
  const { side, offsetMm, uOffsetMm, position } = placement;
  if (position === 'along') return { side, offsetMm, uOffsetMm };
  return capture.positionMm === null ? null : { side, offsetMm: offsetMm + capture.positionMm, uOffsetMm };
}

/** Where along the weld a capture was taken; `null` where its position counts something else, or is not known. */
export function alongWeld(part: PartDecision, capture: Taken): number | null {
  return placementOf(part, capture)?.position === 'along' ? capture.positionMm : null;
}
