import { log10 } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { cos, sin } from '../elementary/trigonometric.ts';

/**
 * Bessel functions J₀ and J₁, by the trapezoidal rule on (1/π)·∫₀^π cos(nθ − x·sin θ) dθ, which for a periodic integrand
 * converges faster than any power once the points outnumber |x|. Source: DLMF 10.9.2 (from memory); checked against SciPy.
 */
export function besselJ(order: 0 | 1, x: number): number {
  const points = 2 * Math.ceil(16 + Math.abs(x));
  let sum = 0;
  for (let k = 0; k <= points; k++) {
    const theta = (Math.PI * k) / points;
    sum += (k === 0 || k === points ? 0.5 : 1) * cos(order * theta - x * sin(theta));
  }
  return sum / points;
}

/**
 * By how much the mean pressure that a round piston receives from its like, face to face, is less than that of a plane wave: |D| at s = z·λ/a².
 * D = 1 − exp(−i·2π/s)·(J₀(2π/s) + i·J₁(2π/s)); 1 close by, π·a²/(λ·z) far away. An echo of a large plane back wall at a
 * sound path z/2 is that of the mirror image at z.
 * Source: Rogers & Van Buren 1974, J. Acoust. Soc. Am. 55, 724 (from memory); both limits are checked.
 * @param s above 0
 */
export function pistonDiffraction(s: number): number {
  const x = (2 * Math.PI) / s;
  const j0 = besselJ(0, x);
  const j1 = besselJ(1, x);
  // exp(−ix)·(j0 + i·j1) = (cos·j0 + sin·j1) + i·(cos·j1 − sin·j0)
  const real = 1 - (cos(x) * j0 + sin(x) * j1);
  const imaginary = -(cos(x) * j1 - sin(x) * j0);
  return hypot(real, imaginary);
}

/** What of the fall from echo to echo is the beam’s spreading. */
export type Spreading =
  | { readonly kind: 'none' }
  /** 1/distance: the far field, from about three near-field lengths on. */
  | { readonly kind: 'far-field' }
  | { readonly kind: 'piston'; readonly elementMm: number };

/**
 * By how many dB spreading alone lets a back-wall echo fall between two sound paths (one way), at a frequency.
 */
export function spreadingDb(
  spreading: Spreading,
  nearMm: number,
  farMm: number,
  frequencyMHz: number,
  velocityMPerS: number,
): number {
  if (spreading.kind === 'none') return 0;
  if (spreading.kind === 'far-field') return 20 * log10(farMm / nearMm);
  const wavelengthMm = velocityMPerS / 1000 / frequencyMHz;
  const at = (pathMm: number) => pistonDiffraction((2 * pathMm * wavelengthMm) / (spreading.elementMm / 2) ** 2);
  return 20 * log10(at(nearMm) / at(farMm));
}

export function spreadingInWords(spreading: Spreading): string {
  if (spreading.kind === 'none')
    return 'No spreading taken out: the figures hold the beam’s spreading as well as the material.';
  if (spreading.kind === 'far-field')
    return 'Spreading by 1/distance taken out, which holds in the far field, from about three near-field lengths on.';
  return `Diffraction of a round piston of ${spreading.elementMm} mm taken out (Rogers & Van Buren 1974, from memory); its own shift of phase is not.`;
}
