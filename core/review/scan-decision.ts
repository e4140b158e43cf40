import * as v from 'valibot';
import { captureReference, finite, name, notNegative, percent, positive, text } from './decision-parts.ts';

/** What a person takes for one reflector: the captures that show it, between which sound paths. */
const indication = v.strictObject({
  name,
  captures: v.pipe(v.array(captureReference), v.minLength(1)),
  fromMm: finite,
  toMm: finite,
  /** What the person decided of it; `null`: nothing yet. */
  taken: v.nullable(v.picklist(['reflector', 'geometry'])),
  notes: text,
});

/** How far the echo has to fall from its peak, or to what, for the reflector to end there. */
const sizing = v.variant('kind', [
  v.strictObject({ kind: v.literal('drop-6-db') }),
  v.strictObject({ kind: v.literal('drop-20-db') }),
  /** Of the screen, at the gain at which the indication was highest. */
  v.strictObject({ kind: v.literal('fixed-level'), percent }),
  /** Half of the distance-amplitude curve at the sound path. */
  v.strictObject({ kind: v.literal('half-of-curve') }),
]);

/** The height that amplitudes are told against, where the sensitivity part of the review does not give one. */
const reference = v.strictObject({ percent, gainDb: finite, uGainDb: notNegative });

/** Attenuation factor and indication rating by AWS D1.1’s arithmetic, in its inch or its SI form. */
const rating = v.strictObject({
  kind: v.literal('aws-d1.1'),
  form: v.picklist(['inch', 'si']),
  /** Nearer than 1 in (25 mm) the formula gives less than nothing: whether the factor is then 0. */
  floorAtZero: v.boolean(),
});

/** A scan of the part, and what is looked for in it. */
export const scanDecision = v.strictObject({
  captures: v.array(captureReference),
  /** The sound paths looked at. */
  fromMm: finite,
  toMm: finite,
  /** From which height on a region is proposed as an indication: of the screen as captured, or above the distance-amplitude curve (below it negative). */
  level: v.variant('kind', [
    v.strictObject({ kind: v.literal('screen'), percent }),
    v.strictObject({ kind: v.literal('curve'), db: finite }),
  ]),
  /** Gain added for scanning above the reference, taken out of amplitudes whose captures do not state their gain; `null`: the stated gains alone count. */
  scanningGainDb: v.nullable(finite),
  sizing,
  /** Full width of the beam at the reflector at the level of the drop, which a 20 dB drop takes off; `null`: not known. */
  beamWidthMm: v.nullable(positive),
  uBeamWidthMm: notNegative,
  /** Standard uncertainty of a capture’s position along the scan. */
  uPositionMm: notNegative,
  reference: v.nullable(reference),
  rating: v.nullable(rating),
  /** In place of the proposals that they cover. */
  indications: v.array(indication),
});

export type ScanDecision = v.InferOutput<typeof scanDecision>;
export type IndicationDecision = v.InferOutput<typeof indication>;
export type Sizing = ScanDecision['sizing'];
export type RatingDecision = v.InferOutput<typeof rating>;
