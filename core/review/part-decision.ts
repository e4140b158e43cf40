import * as v from 'valibot';
import { finite, name, notNegative, positive } from './decision-parts.ts';

/** What is examined, as far as its shape turns a sound path into a place. */
const shape = v.variant('kind', [
  v.strictObject({ kind: v.literal('plate'), thicknessMm: positive, uThicknessMm: notNegative }),
  /** Scanned round the axis, from outside or from the bore. */
  v.strictObject({
    kind: v.literal('pipe'),
    outsideRadiusMm: positive,
    thicknessMm: positive,
    uThicknessMm: notNegative,
    from: v.picklist(['outside', 'inside']),
  }),
]);

const place = v.strictObject({ acrossMm: finite, depthMm: finite });

/** A butt weld across the beam: its preparation as a closed line across the section, depth down from the scanned surface, 0 at the weld's middle. */
const weld = v.strictObject({ outline: v.array(place) });

/** Something of the part's own that sends an echo: the root, the cap, an edge, a counterbore. */
const feature = v.strictObject({ name, ...place.entries, toleranceMm: positive });

const probe = v.strictObject({
  angleDeg: finite,
  uAngleDeg: v.nullable(notNegative),
  mode: v.picklist(['longitudinal', 'transverse']),
  /** From the front of the wedge back to the index point. */
  indexToFrontMm: v.nullable(notNegative),
  wedgeVelocityMPerS: v.nullable(positive),
  elementMm: v.nullable(positive),
  frequencyMHz: v.nullable(positive),
});

export const partDecision = v.strictObject({
  shape,
  weld: v.nullable(weld),
  features: v.array(feature),
  probe,
});

export type PartDecision = v.InferOutput<typeof partDecision>;
