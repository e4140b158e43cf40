import type { Problem } from '../../core/outcome.ts';
import type { WeldPreparation } from '../../core/part/weld-preparation.ts';
import type { PartDecision, Placement, Shape } from '../../core/review/part-decision.ts';

/** A part as it begins: nothing is known but its shape and the beam's angle. */
export function newPart(shape: Shape, angleDeg: number, uAngleDeg: number | null): PartDecision {
  return {
    shape,
    weld: null,
    features: [],
    placements: [],
    probe: {
      angleDeg,
      uAngleDeg,
      mode: angleDeg === 0 ? 'longitudinal' : 'transverse',
      indexToFrontMm: null,
      uIndexMm: 0,
      wedgeVelocityMPerS: null,
      elementMm: null,
      frequencyMHz: null,
      velocityMPerS: null,
    },
    checks: null,
    damping: [],
    confirmed: [],
  };
}

export function newPlacement(offsetMm: number): Placement {
  return { captures: [], side: 'left', offsetMm, uOffsetMm: 0, position: 'along' };
}

/** Thickness of the part, or of a block's first step; `null` where there is none. */
export function thicknessOf(shape: Shape): number | null {
  return shape.kind === 'step-block' ? (shape.steps[0]?.thicknessMm ?? null) : shape.thicknessMm;
}

/** Where on the screen a problem of the part stands. */
export type PartPlace = 'shape' | 'weld' | 'placements' | 'probe' | 'checks' | 'damping';

const places: Readonly<Record<string, PartPlace>> = {
  'thickness-not-positive': 'shape',
  'radius-not-positive': 'shape',
  'wall-thicker-than-radius': 'shape',
  'no-steps': 'shape',
  'step-twice': 'shape',
  'outline-too-short': 'weld',
  'outline-crosses-itself': 'weld',
  'placement-twice': 'placements',
  'placement-without-captures': 'placements',
  'angle-out-of-range': 'probe',
  'angle-beyond-critical': 'probe',
  'beam-differs': 'probe',
  'no-such-rule': 'checks',
  'no-reading-of-ruler': 'checks',
  'index-beyond-wedge': 'checks',
  'probe-before-reflector': 'checks',
  'beyond-critical-angle': 'checks',
  'damping-not-a-pair': 'damping',
};

/** The problems that stand at one place; those of no known place stand with the shape, so that none is lost. */
export function problemsAt(problems: readonly Problem[], place: PartPlace): readonly Problem[] {
  return problems.filter(({ code }) => (places[code] ?? 'shape') === place);
}

/** Preparations to begin from: common practice for butt welds; each figure is then stated by the person. */
export const preparations: readonly { readonly id: string; readonly label: string; readonly is: WeldPreparation }[] = [
  { id: 'v-60', label: 'Single V, 60° between the faces', is: preparation(2, 1, 30) },
  { id: 'v-70', label: 'Single V, 70° between the faces', is: preparation(2, 1.5, 35) },
  { id: 'y-60', label: 'Single V with a high root face, 60°', is: preparation(2, 4, 30) },
  { id: 'narrow', label: 'Narrow gap, 10° between the faces', is: preparation(6, 0, 5) },
  { id: 'square', label: 'Square edges', is: preparation(2, 0, 0) },
];

function preparation(rootGapMm: number, rootFaceMm: number, bevelDeg: number): WeldPreparation {
  return { rootGapMm, rootFaceMm, bevelDeg, capHeightMm: 1.5, capOverlapMm: 1.5, rootBeadMm: 1 };
}
