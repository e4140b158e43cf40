import type { BeamInPart, ProbePlace } from '../part/locate-in-part.ts';
import { type Section, sectionOf } from '../part/section.ts';
import type { PartDecision, Shape } from '../review/part-decision.ts';
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

/** Where the probe stood for a capture; `null`: not known, or its own position counts the way and is missing. */
export function placeOfProbe({ placements }: PartDecision, capture: Taken): ProbePlace | null {
  const placement = placements.find(({ captures }) => captures.some((reference) => refersTo(reference, capture)));
  if (placement === undefined) return null;
  const { side, offsetMm, uOffsetMm, position } = placement;
  if (position === 'along') return { side, offsetMm, uOffsetMm };
  return capture.positionMm === null ? null : { side, offsetMm: offsetMm + capture.positionMm, uOffsetMm };
}

/** Where along the weld a capture was taken; `null` where its position counts something else, or is not known. */
export function alongWeld({ placements }: PartDecision, capture: Taken): number | null {
  const placement = placements.find(({ captures }) => captures.some((reference) => refersTo(reference, capture)));
  return placement?.position === 'along' ? capture.positionMm : null;
}
