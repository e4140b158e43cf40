import type { PartDecision } from '../../core/review/part-decision.ts';

/** A plate of 16 mm with a beam of 60°; only what is given differs. */
export function partOf(
  given: Partial<Omit<PartDecision, 'probe'>> & { probe?: Partial<PartDecision['probe']> } = {},
): PartDecision {
  const { probe, ...rest } = given;
  return {
    shape: { kind: 'plate', thicknessMm: 16, uThicknessMm: 0.1 },
    weld: null,
    features: [],
    placements: [],
    checks: null,
    damping: [],
    confirmed: [],
    ...rest,
    probe: {
      angleDeg: 60,
      uAngleDeg: 0.5,
      mode: 'transverse',
      indexToFrontMm: 12,
      uIndexMm: 0.3,
      wedgeVelocityMPerS: 2730,
      elementMm: 10,
      frequencyMHz: 4,
      velocityMPerS: 3255,
      ...probe,
    },
  };
}
