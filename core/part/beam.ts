import { asin } from '../elementary/trigonometric.ts';
import { refract } from './refraction.ts';

/**
 * Constants k of sin half-angle = k · wavelength / diameter for a round element in its far field.
 * Source: derived from 2 J₁(x) / x with x = π · diameter / wavelength · sin angle, once for the field and squared for the echo of a small
 * reflector (pulse-echo); tables print 0.51, 0.87 and 1.22 (1.08 for the field at −20 dB).
 */
export const spreadConstants = {
  'pulse-echo-minus-6-db': 0.51367,
  'pulse-echo-minus-20-db': 0.86942,
  'field-minus-6-db': 0.70403,
  'field-minus-20-db': 1.08854,
  'first-zero': 1.21967,
} as const;

export type SpreadLevel = keyof typeof spreadConstants;

/** The beam's half-angle in an unbounded medium, in degrees; `null` where the element is too small to make a beam at that level. */
export function halfAngleDeg(level: SpreadLevel, wavelengthMm: number, elementMm: number): number | null {
  const sine = (spreadConstants[level] * wavelengthMm) / elementMm;
  return sine < 1 ? (asin(sine) * 180) / Math.PI : null;
}

/** The angles between which a beam spreads in its plane. */
export interface BeamEdges {
  readonly steepestDeg: number;
  readonly flattestDeg: number;
}

export interface BeamSource {
  readonly angleDeg: number;
  readonly elementMm: number;
  readonly frequencyMHz: number;
  readonly velocityMPerS: number;
  /** `null`: not known; the beam is then taken to spread by equal angles in the part. */
  readonly wedgeVelocityMPerS: number | null;
}

/**
 * Both edges of a beam in the part. With the wedge's velocity the beam spreads in the wedge and each edge is refracted by itself, so that the flat
 * side spreads farther (at 60° about twice as far); an edge beyond the critical angle runs along the surface, 90°. `null`: no beam forms.
 * Source: Snell's law on the far-field spread of a round element (derived); the near field and the wedge's own length are left out.
 */
export function beamEdges(level: SpreadLevel, beam: BeamSource): BeamEdges | null {
  const { angleDeg, elementMm, frequencyMHz, velocityMPerS, wedgeVelocityMPerS } = beam;
  if (wedgeVelocityMPerS === null || angleDeg === 0) {
    const half = halfAngleDeg(level, velocityMPerS / 1000 / frequencyMHz, elementMm);
    return half === null ? null : { steepestDeg: angleDeg - half, flattestDeg: Math.min(90, angleDeg + half) };
  }
  const incidence = refract({ value: angleDeg, standardUncertainty: 0 }, velocityMPerS, wedgeVelocityMPerS);
  const half = halfAngleDeg(level, wedgeVelocityMPerS / 1000 / frequencyMHz, elementMm);
  if (incidence.kind === 'none' || half === null) return null;
  const edge = (deg: number): number => {
    const inPart = refract({ value: Math.abs(deg), standardUncertainty: 0 }, wedgeVelocityMPerS, velocityMPerS);
    return inPart.kind === 'none' ? 90 : Math.sign(deg) * inPart.angleDeg.value;
  };
  const { value } = incidence.angleDeg;
  return { steepestDeg: edge(value - half), flattestDeg: edge(Math.min(90, value + half)) };
}
