import { tan } from '../elementary/trigonometric.ts';
import { halfAngleDeg } from '../part/beam.ts';
import { nearField } from '../sensitivity/near-field.ts';
import type { ProbeFigure } from './figures.ts';
import { type Measured, measured, notMeasurable } from './measured.ts';

/** What is known of a probe and its material beside the captures. */
export interface ElementInMaterial {
  /** Diameter of a round element. */
  readonly elementMm: number | null;
  readonly velocityMPerS: number | null;
}

type BeamFigure = Extract<ProbeFigure, 'near-field' | 'beam-half-angle-6-db' | 'beam-half-angle-20-db'>;

/**
 * Near field and beam spread that follow from the centre frequency; their uncertainty is that of the frequency alone, element and velocity count as exact.
 * N = D²·f/(4v), so u(N) = N·u(f)/f; sin γ = k·v/(f·D), so u(γ) = tan γ·u(f)/f.
 */
export function beamFigures(
  frequency: Measured,
  { elementMm, velocityMPerS }: ElementInMaterial,
): Record<BeamFigure, Measured> {
  const none = (why: Measured) => ({ 'near-field': why, 'beam-half-angle-6-db': why, 'beam-half-angle-20-db': why });
  if (elementMm === null) return none(notMeasurable('element-not-stated'));
  if (velocityMPerS === null) return none(notMeasurable('velocity-not-stated'));
  if (frequency.quantity === null) return none(frequency);
  const { value: frequencyMHz, standardUncertainty: u } = frequency.quantity;
  const relative = u === null ? null : u / frequencyMHz;
  const { wavelengthMm, lengthMm } = nearField({ elementMm, frequencyMHz, velocityMPerS });
  const angle = (level: Parameters<typeof halfAngleDeg>[0]): Measured => {
    const degrees = halfAngleDeg(level, wavelengthMm, elementMm);
    if (degrees === null) return notMeasurable('no-beam');
    const radians = (degrees * Math.PI) / 180;
    return measured(degrees, relative === null ? null : (tan(radians) * relative * 180) / Math.PI);
  };
  return {
    'near-field': measured(lengthMm, relative === null ? null : lengthMm * relative),
    'beam-half-angle-6-db': angle('pulse-echo-minus-6-db'),
    'beam-half-angle-20-db': angle('pulse-echo-minus-20-db'),
  };
}
