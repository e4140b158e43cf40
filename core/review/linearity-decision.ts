import * as v from 'valibot';
import {
  captureReference,
  decisionRule,
  finite,
  name,
  percent,
  positive,
  reflector,
  timeWindow,
  timing,
} from './decision-parts.ts';

/** A published rule by its name. */
const rule = v.nullable(v.strictObject({ kind: v.literal('published'), name }));

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
  decision: decisionRule,
  rule,
});

/** A capture of a stepped check, and what the person's step table says of it; `null` leaves what the capture says. */
const step = v.strictObject({ capture: captureReference, gainDb: v.nullable(finite) });

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
    steps: v.array(step),
    thresholdPercent: percent,
    decision: decisionRule,
    rule,
  }),
]);

/** One echo at known steps of gain: whether a step in dB is one. */
const gain = v.strictObject({
  captures: v.array(captureReference),
  window: timeWindow,
  steps: v.array(step),
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
