import { asin, cos, sin } from '../elementary/trigonometric.ts';
import { propagate, type Quantity } from '../units/quantity.ts';

/** An angle behind a boundary, or why there is none. */
export type Refracted =
  | { readonly kind: 'refracted'; readonly angleDeg: Quantity }
  | { readonly kind: 'none'; readonly reason: string };

const degrees = 180 / Math.PI;

/**
 * Snell's law: sin angle₂ / c₂ = sin angle₁ / c₁. Beyond the critical angle there is no refracted wave, which is said in words and never a number.
 * The uncertainty is that of the angle before the boundary; velocities count as exact, and what 1 % of one does is tan angle₂ / 100 rad.
 * Source: Snell's law; JCGM 100:2008 (GUM), 5.1.2.
 * @param angleDeg to the boundary's normal, 0 to 90 @param fromMPerS, toMPerS above 0
 */
export function refract(angleDeg: Quantity, fromMPerS: number, toMPerS: number): Refracted {
  const angle = angleDeg.value / degrees;
  const sine = (sin(angle) * toMPerS) / fromMPerS;
  if (!(sine < 1)) {
    const critical = criticalAngleDeg(fromMPerS, toMPerS);
    const limit = critical === null ? '' : ` (the critical angle is ${critical.toFixed(1)}°)`;
    return {
      kind: 'none',
      reason: `no refracted wave: a beam at ${Number(angleDeg.value.toFixed(2))}° in ${fromMPerS} m/s is turned back wholly at a boundary to ${toMPerS} m/s${limit}`,
    };
  }
  const refracted = asin(sine);
  const perAngle = (cos(angle) * toMPerS) / fromMPerS / cos(refracted);
  return {
    kind: 'refracted',
    angleDeg: propagate(refracted * degrees, [
      { sensitivity: perAngle, standardUncertainty: angleDeg.standardUncertainty },
    ]),
  };
}

/** The angle of incidence beyond which a wave of velocity `to` no longer comes out of a boundary from `from`; `null`: it always does (the second is not faster). */
export function criticalAngleDeg(fromMPerS: number, toMPerS: number): number | null {
  return toMPerS > fromMPerS ? asin(fromMPerS / toMPerS) * degrees : null;
}

/** First and second critical angle of a wedge on a material: beyond the first no longitudinal wave, beyond the second no transverse one. */
export function criticalAngles(
  wedgeMPerS: number,
  longitudinalMPerS: number,
  transverseMPerS: number,
): { readonly firstDeg: number | null; readonly secondDeg: number | null } {
  return {
    firstDeg: criticalAngleDeg(wedgeMPerS, longitudinalMPerS),
    secondDeg: criticalAngleDeg(wedgeMPerS, transverseMPerS),
  };
}
