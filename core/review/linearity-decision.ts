import * as v from 'valibot';
import { linearityRuleSchema } from '../linearity/rule.ts';
import {
  captureReference,
  decisionRule,
  finite,
  percent,
  positive,
  reflector,
  ruleChoice,
  timeWindow,
  timing,
} from './decision-parts.ts';

const rule = ruleChoice(linearityRuleSchema);

/** Echoes at known places of the time base: whether equal distances stand equally far apart. */
const timeBase = v.strictObject({
  captures: v.array(captureReference),
  reflectors: v.variant('kind', [
    /** Back-wall echoes of one plate, numbered from the first in the window. */
    v.strictObject({
      kind: v.literal('equally-spaced'),
      fromUs: finite,
      toUs: finite,
      abovePercent: percent,
      spacingMm: v.nullable(positive),
    }),
    v.strictObject({ kind: v.literal('known-distances'), list: v.array(reflector) }),
  ]),
  timing,
  thresholdPercent: percent,
  /** The full width of the time base; `null`: the span of the reflectors, which makes the deviations larger, never smaller. */
  range: v.nullable(
    v.variant('axis', [
      v.strictObject({ axis: v.literal('time'), widthUs: positive }),
      v.strictObject({ axis: v.literal('path'), widthMm: positive }),
    ]),
  ),
  /** Which line the deviations are counted from where no rule says so. */
  line: v.picklist(['end-points', 'least-squares']),
  decision: decisionRule,
  rule,
});

/**
 * The person's step table: what the captures of a stepped check were set to, in their order. `gain` is the instrument's own, `change` the same
 * counted from the first row, `attenuator` the loss of one outside it, of which the captures know nothing.
 */
const steps = v.strictObject({
  states: v.picklist(['gain', 'change', 'attenuator']),
  /** `null`: the table states nothing that can be used. */
  rows: v.array(v.strictObject({ capture: captureReference, db: v.nullable(finite) })),
});

const screenHeight = v.variant('form', [
  /** Two echoes in a fixed ratio, stepped together through the screen. */
  v.strictObject({
    form: v.literal('two-echo'),
    captures: v.array(captureReference),
    larger: timeWindow,
    smaller: timeWindow,
    thresholdPercent: percent,
    decision: decisionRule,
    rule,
  }),
  /** One echo, stepped by the gain. */
  v.strictObject({
    form: v.literal('stepped-gain'),
    captures: v.array(captureReference),
    window: timeWindow,
    /** `null`: the captures say their gain themselves. */
    steps: v.nullable(steps),
    thresholdPercent: percent,
    decision: decisionRule,
    rule,
  }),
]);

/** One echo at known steps of gain: whether a step in dB is one. */
const gain = v.strictObject({
  captures: v.array(captureReference),
  window: timeWindow,
  steps: v.nullable(steps),
  thresholdPercent: percent,
  decision: decisionRule,
  rule,
});

export const linearityDecision = v.strictObject({
  timeBase: v.nullable(timeBase),
  screenHeight: v.nullable(screenHeight),
  gain: v.nullable(gain),
});

export type LinearityDecision = v.InferOutput<typeof linearityDecision>;
export type TimeBaseDecision = v.InferOutput<typeof timeBase>;
export type ScreenHeightDecision = v.InferOutput<typeof screenHeight>;
export type GainDecision = v.InferOutput<typeof gain>;
export type StepTable = v.InferOutput<typeof steps>;
