import * as v from 'valibot';
import { probeFigureNames } from '../probe/figures.ts';
import { type StatedRule, statedRuleSchema } from '../probe/rule.ts';
import { captureReference, decisionRule, finite, name, positive, ruleChoice, timeWindow } from './decision-parts.ts';

const spectrum = v.strictObject({
  window: v.variant('kind', [
    v.strictObject({ kind: v.literal('rectangular') }),
    v.strictObject({ kind: v.literal('tukey'), taper: v.pipe(finite, v.minValue(0), v.maxValue(1)) }),
    v.strictObject({ kind: v.literal('hann') }),
  ]),
  /** Zeros are added to at least so many times the gate’s length. */
  padding: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(64)),
});

/** What is known of one probe, by the name that its captures state. */
const ofProbe = v.strictObject({
  name,
  /** Where its echo is, if not in the gate of all. */
  gate: v.nullable(timeWindow),
  /** Diameter of a round element, if not that of all. */
  elementMm: v.nullable(positive),
  stated: v.array(v.strictObject({ figure: v.picklist(probeFigureNames), value: finite })),
});

/** Captures of one reflector with several probes, and how the probes are characterised and compared. */
export const probesDecision = v.strictObject({
  captures: v.array(captureReference),
  gate: timeWindow,
  spectrum,
  elementMm: v.nullable(positive),
  /** In the material, for near field and beam spread. */
  velocityMPerS: v.nullable(positive),
  probes: v.array(ofProbe),
  /** The probe that the others are held against; `null`: none. */
  reference: v.nullable(name),
  align: v.picklist(['cross-correlation', 'envelope-peak']),
  /** Whether overlays are brought to one height. */
  normalised: v.boolean(),
  /** Below which chance two probes count as different. */
  significance: v.pipe(finite, v.gtValue(0), v.ltValue(1)),
  decision: decisionRule,
  rule: ruleChoice(statedRuleSchema as v.GenericSchema<StatedRule>),
});

export type ProbesDecision = v.InferOutput<typeof probesDecision>;
export type OfProbe = v.InferOutput<typeof ofProbe>;
