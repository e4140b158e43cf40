/** The near field of a round element in the material. */
export interface NearField {
  readonly wavelengthMm: number;
  /** N = D² / 4λ. */
  readonly lengthMm: number;
  /** The last maximum on the axis: (D² − λ²) / 4λ. */
  readonly exactMm: number;
  /** 3 N: from here on the laws of spreading hold. */
  readonly lawsFromMm: number;
}

/** From so many near-field lengths on echoes follow the laws of spreading (common practice). */
export const lawsFromNearFields = 3;

/**
 * Length of the near field, counted from the element in the material: a wedge or a delay line uses up a part of it. The element's effective
 * diameter (about 0.97 of it) may be given in its place.
 * Source: Krautkrämer, Ultrasonic Testing of Materials (from memory).
 * @param probe all above 0 @returns `exactMm` is 0 for an element smaller than a wavelength, which has no near field
 */
export function nearField(probe: {
  readonly elementMm: number;
  readonly frequencyMHz: number;
  readonly velocityMPerS: number;
}): NearField {
  const wavelengthMm = probe.velocityMPerS / 1000 / probe.frequencyMHz;
  const lengthMm = probe.elementMm ** 2 / (4 * wavelengthMm);
  const exactMm = Math.max(0, (probe.elementMm ** 2 - wavelengthMm ** 2) / (4 * wavelengthMm));
  return { wavelengthMm, lengthMm, exactMm, lawsFromMm: lawsFromNearFields * lengthMm };
}
