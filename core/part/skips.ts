import type { Section } from './section.ts';

/** What a beam does between the surfaces, in mm. */
export interface Skips {
  readonly legMm: number;
  /** Along the scanned surface from the index point to where the beam meets the far surface. */
  readonly halfSkipMm: number;
  /** To where it comes back to the scanned surface. */
  readonly skipMm: number;
  /** Down and up again: two legs. */
  readonly vPathMm: number;
}

/**
 * Half skip, skip, leg and V-path of a beam. `null` for one that misses the bore of a pipe, or never meets a surface: it has no half skip.
 * In a plate: leg = T / cos angle, half skip = T · tan angle, skip and V-path twice that. Source: plane geometry (common practice).
 */
export function skips(angleDeg: number, section: Section): Skips | null {
  const leg = section.leg((angleDeg * Math.PI) / 180);
  if (leg === null || leg.to === 'same-surface') return null;
  return { legMm: leg.lengthMm, halfSkipMm: leg.alongMm, skipMm: 2 * leg.alongMm, vPathMm: 2 * leg.lengthMm };
}
