import { atan2, tan } from '../elementary/trigonometric.ts';
import { propagate, type Quantity } from '../units/quantity.ts';

/** Where a hole's centre, or a notch's corner, lies in a block. */
export interface AngleReflector {
  readonly name: string;
  /** From the end of the block that the probe's front is measured to. */
  readonly fromEndMm: number;
  /** Below the surface on which the probe stands. */
  readonly depthMm: number;
}

/**
 * The holes of block No. 1 of ISO 2400, by the surface on which the probe stands. The centre of the large hole lies 35 mm from the end (read second-hand),
 * 70 mm below one long face (read second-hand) and 30 mm below the other (from memory: 100 − 70); the small hole 15 mm below its face (read second-hand), 35 mm from
 * the end (from memory).
 */
export const iso2400Holes: readonly AngleReflector[] = [
  { name: 'hole of 50 mm, 70 mm below the face (35° to 60°)', fromEndMm: 35, depthMm: 70 },
  { name: 'hole of 50 mm, 30 mm below the face (60° to 75°)', fromEndMm: 35, depthMm: 30 },
  { name: 'hole of 1.5 mm, 15 mm below the face (75° to 80°)', fromEndMm: 35, depthMm: 15 },
];

/**
 * The angle of the beam in the block, from where the probe stands when the echo of a hole (or of a notch's corner) is at its highest: the line from the
 * index point to the hole's centre.
 *
 *     end of block              front    index
 *     |<---------- reading -------->|<-- X -->|
 *     |<- from end ->|                         x
 *     |              o depth                      tan angle = (reading + X − from end) / depth
 *
 * Uncertainty: reading and X, as independent (JCGM 100:2008 (GUM), 5.1.2); the block counts as exact.
 * Source: angle on block No. 1 of ISO 2400 (read second-hand: 91 mm and X = 16 mm give 45.8° on the face 70 mm above the hole).
 * `null` where the index point would stand before the hole: no beam that points to the end of the block meets it from there.
 */
export function refractedAngle(
  reflector: Pick<AngleReflector, 'fromEndMm' | 'depthMm'>,
  frontToEndMm: Quantity,
  indexToFrontMm: Quantity,
): Quantity | null {
  const aside = frontToEndMm.value + indexToFrontMm.value - reflector.fromEndMm;
  if (!(aside > 0)) return null;
  const { depthMm } = reflector;
  const perMm = ((180 / Math.PI) * depthMm) / (depthMm ** 2 + aside ** 2);
  return propagate((atan2(aside, depthMm) * 180) / Math.PI, [
    { sensitivity: perMm, standardUncertainty: frontToEndMm.standardUncertainty },
    { sensitivity: perMm, standardUncertainty: indexToFrontMm.standardUncertainty },
  ]);
}

/** Where the front of the wedge stands for an angle: the inverse. */
export function frontToEndFor(
  angleDeg: number,
  reflector: Pick<AngleReflector, 'fromEndMm' | 'depthMm'>,
  indexToFrontMm: number,
): number {
  return reflector.depthMm * tan((angleDeg * Math.PI) / 180) + reflector.fromEndMm - indexToFrontMm;
}
