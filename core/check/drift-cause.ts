import type { DistanceCalibration } from '../calibration/distance.ts';
import { log } from '../elementary/exponential.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import type { Quantity } from '../units/quantity.ts';

/** What moved. `none`: nothing beyond its uncertainty. `undecided`: the line has moved, but which of the two did cannot be told within the uncertainty. */
export type DriftCause = 'zero-offset' | 'velocity' | 'both' | 'none' | 'undecided';

export interface LineChange {
  readonly velocityChangePercent: Quantity;
  readonly zeroOffsetChangeUs: Quantity;
  /** `null` where an uncertainty is not known. */
  readonly cause: DriftCause | null;
}

export const causeTexts: Readonly<Record<DriftCause, string>> = {
  'zero-offset':
    'The zero offset has moved: the same shift at every reflector, as from a worn, warmer or exchanged wedge. The velocity has not changed beyond its uncertainty.',
  velocity:
    'The velocity has changed: a shift that grows with distance, as from another temperature, material or wave mode of the block. The zero offset has not moved beyond its uncertainty.',
  both: 'Both the zero offset and the velocity have changed by more than their uncertainties.',
  none: 'Neither the zero offset nor the velocity has changed by more than its uncertainty.',
  undecided:
    'The times have moved by more than their uncertainty, but whether zero offset or velocity cannot be told from these reflectors.',
};

/** A cause is named when its change exceeds this many standard uncertainties: a shift has many checks, and 2 would name a false cause in most shifts. */
const namedBeyond = 3;

/** Two quantities together stay within an ellipse of this squared size in as many cases as one quantity stays within `namedBeyond` u: −2 ln(1 − 0.9973). */
const jointLimit = -2 * log(1 - 0.9973002039367398);

/** A change that makes less than this share of the other's shift, at the farthest reflector, is not named beside it. */
const leastShare = 0.1;

/**
 * The line through a check's own reflectors held against that of the calibration: time = zero offset + (2 / velocity) · distance.
 *
 *     time |        . '  x  check
 *          |    x '
 *          |  '       . ' x   calibration        a shift that is the same everywhere is the zero offset,
 *          |'    x '                             one that grows with distance the velocity
 *          +------------------- distance
 *
 * The uncertainties of both lines are added as independent; `before` is given without the tolerance of a block that served both, since that cancels.
 * A change counts when it exceeds 3 of its standard uncertainties and makes at least a tenth of the shift that the other
 * makes at the farthest reflector; `none` asks that both together stay within the ellipse of the same probability, covariance included.
 * Source: the two-reflector algebra of the calibration applied twice (common practice); covariance of the fit: JCGM 100:2008 (GUM), 5.2.2.
 */
export function changeOfLine(before: DistanceCalibration, now: DistanceCalibration): LineChange {
  const [v0, v1] = [before.velocityMPerS, now.velocityMPerS];
  const velocityChangePercent = {
    value: 100 * (v1.value / v0.value - 1),
    standardUncertainty: combined(
      v1.standardUncertainty,
      v0.standardUncertainty,
      100 / v0.value,
      (100 * v1.value) / v0.value ** 2,
    ),
  };
  const [a0, a1] = [before.zeroOffsetUs, now.zeroOffsetUs];
  const zeroOffsetChangeUs = {
    value: a1.value - a0.value,
    standardUncertainty: combined(a1.standardUncertainty, a0.standardUncertainty, 1, 1),
  };
  return { velocityChangePercent, zeroOffsetChangeUs, cause: causeOf(before, now, zeroOffsetChangeUs) };
}

function combined(u1: number | null, u2: number | null, c1: number, c2: number): number | null {
  return u1 === null || u2 === null ? null : hypot(c1 * u1, c2 * u2);
}

/** Slope of the line in µs per mm (2 / velocity), with its standard uncertainty. */
function slopeUsPerMm({ velocityMPerS: { value, standardUncertainty } }: DistanceCalibration): Quantity {
  const slope = 2000 / value;
  return {
    value: slope,
    standardUncertainty: standardUncertainty === null ? null : (slope * standardUncertainty) / value,
  };
}

function farthestMm({ points }: DistanceCalibration): number {
  return Math.max(...points.map((point) => point.distanceMm));
}

function causeOf(before: DistanceCalibration, now: DistanceCalibration, offset: Quantity): DriftCause | null {
  const [b0, b1] = [slopeUsPerMm(before), slopeUsPerMm(now)];
  const uOffset = offset.standardUncertainty;
  const uSlope = combined(b1.standardUncertainty, b0.standardUncertainty, 1, 1);
  if (uOffset === null || uSlope === null || before.covarianceUsUsPerMm === null || now.covarianceUsUsPerMm === null)
    return null;
  const slope = b1.value - b0.value;
  const covariance = before.covarianceUsUsPerMm + now.covarianceUsUsPerMm;
  const shifts = { offset: Math.abs(offset.value), slope: Math.abs(slope) * farthestMm(now) };
  const offsetMoved = Math.abs(offset.value) > namedBeyond * uOffset && shifts.offset > leastShare * shifts.slope;
  const slopeMoved = Math.abs(slope) > namedBeyond * uSlope && shifts.slope > leastShare * shifts.offset;
  if (offsetMoved && slopeMoved) return 'both';
  if (offsetMoved) return 'zero-offset';
  if (slopeMoved) return 'velocity';
  const determinant = uOffset ** 2 * uSlope ** 2 - covariance ** 2;
  if (!(determinant > 0)) return 'none';
  const squared =
    (offset.value ** 2 * uSlope ** 2 - 2 * offset.value * slope * covariance + slope ** 2 * uOffset ** 2) / determinant;
  return squared > jointLimit ? 'undecided' : 'none';
}
