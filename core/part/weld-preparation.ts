import { tan } from '../elementary/trigonometric.ts';
import type { PlaceInSection } from '../review/part-decision.ts';

/** A single-sided butt weld, symmetric about its middle. Lengths in mm; the bevel is that of one plate's face, to the section's normal. */
export interface WeldPreparation {
  readonly rootGapMm: number;
  /** Height of the face that is not bevelled, at the root. */
  readonly rootFaceMm: number;
  readonly bevelDeg: number;
  /** How far the cap stands above the scanned surface, and on either side beyond the bevel. */
  readonly capHeightMm: number;
  readonly capOverlapMm: number;
  /** How far the root bead stands out of the far surface; 0: flush. */
  readonly rootBeadMm: number;
}

/**
 * The outline of a weld, as a closed line round its section, from the left edge of the cap round to the right:
 *
 *        ___cap___
 *     --/---------\--   scanned surface
 *       \         /
 *        \       /      bevel
 *         |     |       root face
 *     ----+-----+----   far surface
 *          \_.-/        bead
 */
export function weldOutline(preparation: WeldPreparation, thicknessMm: number): PlaceInSection[] {
  const { rootGapMm, rootFaceMm, bevelDeg, capHeightMm, capOverlapMm, rootBeadMm } = preparation;
  const root = rootGapMm / 2;
  const face = Math.min(rootFaceMm, thicknessMm);
  const top = root + (thicknessMm - face) * tan((bevelDeg * Math.PI) / 180) + capOverlapMm;
  const right = [
    { acrossMm: top, depthMm: 0 },
    ...(capOverlapMm > 0 ? [{ acrossMm: top - capOverlapMm, depthMm: 0 }] : []),
    ...(face > 0 ? [{ acrossMm: root, depthMm: thicknessMm - face }] : []),
    { acrossMm: root, depthMm: thicknessMm },
  ];
  const left = right.map(({ acrossMm, depthMm }) => ({ acrossMm: -acrossMm, depthMm })).reverse();
  const middle = (depthMm: number, stands: boolean) => (stands ? [{ acrossMm: 0, depthMm }] : []);
  return [
    ...middle(-capHeightMm, capHeightMm > 0),
    ...right,
    ...middle(thicknessMm + rootBeadMm, rootBeadMm > 0),
    ...left,
  ];
}

/** What is wrong with a preparation, in words; empty when it can be drawn. */
export function preparationFaults(preparation: WeldPreparation, thicknessMm: number): string[] {
  const faults: string[] = [];
  const lengths = [
    ['root gap', preparation.rootGapMm],
    ['root face', preparation.rootFaceMm],
    ['cap', preparation.capHeightMm],
    ['overlap of the cap', preparation.capOverlapMm],
    ['root bead', preparation.rootBeadMm],
  ] as const;
  for (const [name, mm] of lengths) if (!(mm >= 0)) faults.push(`the ${name} cannot be ${mm} mm; give 0 mm or more`);
  if (preparation.rootFaceMm > thicknessMm)
    faults.push(`a root face of ${preparation.rootFaceMm} mm is higher than the plate (${thicknessMm} mm)`);
  if (!(preparation.bevelDeg >= 0 && preparation.bevelDeg < 90))
    faults.push(`a bevel of ${preparation.bevelDeg}° is none; give one from 0° to below 90°`);
  return faults;
}
