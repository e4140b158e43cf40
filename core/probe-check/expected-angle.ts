import { type Refracted, refract } from '../part/refraction.ts';
import type { Quantity } from '../units/quantity.ts';

/** How fast a wedge's velocity falls as it warms: about 2.5 m/s per °C for PMMA (from memory). */
export const pmmaPerDegreeMPerS = -2.5;

/** A velocity at another temperature, by a constant change per °C. */
export function velocityAt(
  velocityMPerS: number,
  { fromC, toC }: { readonly fromC: number; readonly toC: number },
  perDegreeMPerS: number,
): number {
  return velocityMPerS + perDegreeMPerS * (toC - fromC);
}

/**
 * The angle that a probe's beam has in another material, or in the same one with a wedge of another temperature. The angle in the wedge is fixed by its shape:
 * sin angle₂ = sin angle₁ · (c₂ / c₁) · (wedge then / wedge now). Source: Snell's law, once for each state.
 * @param wedge velocities of the wedge where the angle is known and where it is wanted; `null`: the same
 */
export function expectedAngle(
  angleDeg: Quantity,
  velocityMPerS: number,
  inVelocityMPerS: number,
  wedge: { readonly velocityMPerS: number; readonly thenMPerS: number } | null,
): Refracted {
  const made = refract(
    angleDeg,
    velocityMPerS * (wedge === null ? 1 : wedge.thenMPerS / wedge.velocityMPerS),
    inVelocityMPerS,
  );
  if (made.kind === 'refracted') return made;
  const warmer =
    wedge === null ? '' : `, with a wedge of ${wedge.thenMPerS} m/s in place of ${wedge.velocityMPerS} m/s,`;
  const reason = `no refracted wave: what leaves the wedge at ${Number(angleDeg.value.toFixed(2))}° in ${velocityMPerS} m/s lies${warmer} beyond the critical angle for ${inVelocityMPerS} m/s`;
  return { kind: 'none', reason };
}
