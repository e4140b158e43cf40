import * as v from 'valibot';
import { captureReference, finite, name, percent, positive } from './decision-parts.ts';

const text = v.pipe(v.string(), v.maxLength(10_000));

/** A region of a scan that a person takes for one reflector: from which capture to which, between which sound paths. */
const indication = v.strictObject({
  name,
  captures: v.array(captureReference),
  fromMm: finite,
  toMm: finite,
  /** What the person decided of it; `null`: nothing yet. */
  taken: v.nullable(v.picklist(['reflector', 'geometry'])),
  notes: text,
});

/** A scan of the part, and what is looked for in it. */
export const scanDecision = v.strictObject({
  captures: v.array(captureReference),
  /** The sound paths looked at. */
  fromMm: finite,
  toMm: finite,
  /** From which height on a region is proposed as an indication: of the screen, or below the distance-amplitude curve. */
  level: v.variant('kind', [
    v.strictObject({ kind: v.literal('screen'), percent }),
    v.strictObject({ kind: v.literal('curve'), db: finite }),
  ]),
  /** Gain added for scanning above the reference, taken out of every amplitude. */
  scanningGainDb: finite,
  sizing: v.picklist(['drop-6-db', 'drop-20-db', 'fixed-level', 'half-of-curve']),
  /** Full width of the beam at the reflector at the level of the drop, where the method takes it off; `null`: not taken off. */
  beamWidthMm: v.nullable(positive),
  indications: v.array(indication),
});

export type ScanDecision = v.InferOutput<typeof scanDecision>;
