import { hypot } from '../elementary/hypotenuse.ts';
import type { Nominal } from '../material/velocities.ts';
import type { Quantity } from '../units/quantity.ts';
import type { DistanceCalibration } from './distance.ts';

type Line = Pick<DistanceCalibration, 'velocityMPerS' | 'zeroOffsetUs'>;

/** By how much a new calibration differs from the one before, and how far apart that puts the paths read by them. */
export interface CalibrationDifference {
  readonly velocityMPerS: Quantity;
  readonly zeroOffsetUs: Quantity;
  /** Whether each exceeds twice its uncertainty; `null` where that is not known. */
  readonly velocityDiffers: boolean | null;
  readonly zeroOffsetDiffers: boolean | null;
  /** New path less old path of one echo, at the old path given. */
  readonly pathMm: readonly { readonly atMm: number; readonly differenceMm: number }[];
}

/**
 * New less old. The two are taken as independent, which overstates the uncertainty where they share captures or a block: a difference is rather
 * missed than invented.
 * @param pathsMm where the paths read by the two are compared
 * Source: JCGM 100:2008 (GUM), 5.1.2; significance at k = 2 (common practice).
 */
export function compareCalibrations(before: Line, now: Line, pathsMm: readonly number[]): CalibrationDifference {
  const velocityMPerS = difference(now.velocityMPerS, before.velocityMPerS);
  const zeroOffsetUs = difference(now.zeroOffsetUs, before.zeroOffsetUs);
  return {
    velocityMPerS,
    zeroOffsetUs,
    velocityDiffers: beyond(velocityMPerS),
    zeroOffsetDiffers: beyond(zeroOffsetUs),
    pathMm: pathsMm.map((atMm) => {
      const timeUs = before.zeroOffsetUs.value + (2000 * atMm) / before.velocityMPerS.value;
      const nowMm = ((timeUs - now.zeroOffsetUs.value) * now.velocityMPerS.value) / 2000;
      return { atMm, differenceMm: nowMm - atMm };
    }),
  };
}

function difference(now: Quantity, before: Quantity): Quantity {
  const [u1, u0] = [now.standardUncertainty, before.standardUncertainty];
  return {
    value: now.value - before.value,
    standardUncertainty: u1 === null || u0 === null ? null : hypot(u1, u0),
  };
}

function beyond({ value, standardUncertainty }: Quantity): boolean | null {
  return standardUncertainty === null ? null : Math.abs(value) > 2 * standardUncertainty;
}

/** How a fitted velocity stands to that of a material. */
export interface AgainstNominal {
  readonly nominal: Nominal;
  readonly differencePercent: Quantity;
  /** Within what the material's own spread and twice the uncertainty allow. */
  readonly isWithin: boolean;
}

export function againstNominal(velocityMPerS: Quantity, nominal: Nominal): AgainstNominal {
  const { value, standardUncertainty } = velocityMPerS;
  const percent = 100 / nominal.velocityMPerS;
  const allowed = nominal.toleranceMPerS + 2 * (standardUncertainty ?? 0);
  return {
    nominal,
    differencePercent: {
      value: (value - nominal.velocityMPerS) * percent,
      standardUncertainty: standardUncertainty === null ? null : standardUncertainty * percent,
    },
    isWithin: Math.abs(value - nominal.velocityMPerS) <= allowed,
  };
}
