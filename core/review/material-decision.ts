import * as v from 'valibot';
import { captureReference, finite, notNegative, positive } from './decision-parts.ts';

/** One echo of a back wall: the how many-th, and between which times. */
const backWall = v.strictObject({
  multiple: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(1000)),
  fromUs: finite,
  toUs: finite,
});

/** Velocity and attenuation of a material, from echoes of one back wall at a known thickness. */
export const materialDecision = v.strictObject({
  captures: v.array(captureReference),
  thicknessMm: positive,
  /** Half-width of the tolerance on the thickness; 0 takes it as exact. */
  toleranceMm: notNegative,
  echoes: v.pipe(v.array(backWall), v.minLength(2)),
  /** What of the fall from echo to echo is the beam’s spreading and not the material: nothing taken out, 1/distance, or that of a round piston (needs the element). */
  spreading: v.variant('kind', [
    v.strictObject({ kind: v.literal('none') }),
    v.strictObject({ kind: v.literal('far-field') }),
    v.strictObject({ kind: v.literal('piston'), elementMm: positive }),
  ]),
});

export type MaterialDecision = v.InferOutput<typeof materialDecision>;
