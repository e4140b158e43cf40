import * as v from 'valibot';
import { type LevelSet, levelSetSchema } from '../sensitivity/evaluation-levels.ts';
import { reflectorKinds } from '../sensitivity/reflector-kind.ts';
import {
  captureReference,
  decisionRule,
  finite,
  notNegative,
  percent,
  positive,
  reflector,
  ruleChoice,
} from './decision-parts.ts';

/** The curve over distance that readings are held against, from reflectors of one kind. */
const curve = v.strictObject({
  captures: v.array(captureReference),
  kind: v.picklist(reflectorKinds),
  /** At several distances (one-way sound paths); three or more give a curve. */
  reflectors: v.array(reflector),
  thresholdPercent: percent,
  /** Straight lines between the points: in dB over distance, or in % of full screen height over distance. */
  straightIn: v.picklist(['db', 'percent']),
  /** The height on the screen that the reference level stands for. */
  referencePercent: percent,
  /** The gain that the curve is drawn at; `null`: the gain at which the highest point of the curve stands at `referencePercent`. */
  referenceGainDb: v.nullable(finite),
  /** Levels relative to the curve at which an indication is evaluated. */
  levels: ruleChoice(levelSetSchema as v.GenericSchema<LevelSet>),
  decision: decisionRule,
  /** Loss from the block to the part by surface and material, added to each reading. */
  transferCorrectionDb: finite,
  uTransferCorrectionDb: notNegative,
});

/** Two echoes of one back wall: how much the material takes away of what spreading leaves. */
const attenuation = v.strictObject({
  captures: v.array(captureReference),
  near: reflector,
  far: reflector,
  thresholdPercent: percent,
});

/** Reference level, distance-amplitude curve, and attenuation. */
export const sensitivityDecision = v.strictObject({
  curve: v.nullable(curve),
  attenuation: v.nullable(attenuation),
  /** Element and frequency of the probe, for its near field; `null`: not known, and then said so. */
  probe: v.nullable(
    v.strictObject({
      elementMm: positive,
      frequencyMHz: positive,
      /** In the material; `null`: that of the calibration. */
      velocityMPerS: v.nullable(positive),
    }),
  ),
  /** Standard uncertainty of a height by the coupling, from peaking the same echo again and again; 0 counts the noise alone. */
  uCouplingDb: notNegative,
  /** Standard uncertainty of a gain against another one; 0 takes the instrument's gain as exact. */
  uGainDb: notNegative,
});

export type SensitivityDecision = v.InferOutput<typeof sensitivityDecision>;
export type CurveDecision = v.InferOutput<typeof curve>;
export type AttenuationDecision = v.InferOutput<typeof attenuation>;
