import * as v from 'valibot';
import { captureReference, finite, name, notNegative, percent, positive, reflector } from './decision-parts.ts';

/** Reference level and the curve over distance that readings are held against. */
export const sensitivityDecision = v.strictObject({
  captures: v.array(captureReference),
  /** The same kind of reflector at several distances; three or more give a curve. */
  reflectors: v.array(reflector),
  thresholdPercent: percent,
  /** The height on the screen that the reference stands for, and the gain at which it does; `null`: that of the highest reflector's capture. */
  referencePercent: percent,
  referenceGainDb: v.nullable(finite),
  /** Levels relative to the curve at which an indication is evaluated. */
  levels: v.array(v.strictObject({ name, db: finite })),
  /** Loss from the block to the part by surface and material, to be added to each reading. */
  transferCorrectionDb: finite,
  uTransferCorrectionDb: notNegative,
  /** Element and frequency of the probe, for the near field; `null`: not known, and then said so. */
  probe: v.nullable(v.strictObject({ elementMm: positive, frequencyMHz: positive })),
});

export type SensitivityDecision = v.InferOutput<typeof sensitivityDecision>;
