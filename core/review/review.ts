import * as v from 'valibot';
import { type DriftRule, driftRuleSchema } from '../check/rule.ts';
import { importRecipeSchema } from '../import/recipe-schema.ts';
import {
  captureReference,
  decisionRule,
  finite,
  name,
  notNegative,
  percent,
  positive,
  reflector,
  ruleChoice,
  sha256,
  text,
  timing,
} from './decision-parts.ts';
import { linearityDecision } from './linearity-decision.ts';
import { materialDecision } from './material-decision.ts';
import { partDecision } from './part-decision.ts';
import { probesDecision } from './probes-decision.ts';
import { recordSchema } from './record.ts';
import { scanDecision } from './scan-decision.ts';
import { sensitivityDecision } from './sensitivity-decision.ts';

/**
 * The review is what a person saves: which captures, and what was decided about them. It holds nothing that can be computed;
 * `evaluate(review, captures)` gives every result. The schema is published as `review.schema.json`; older versions are
 * brought forward one step at a time in `open-review.ts`.
 */
export const reviewFormat = 'ascan-review';
export const reviewVersion = 2;

const facts = v.strictObject({
  /** `null`: all traces of the file. */
  trace: v.nullable(v.string()),
  gainDb: v.nullable(finite),
  positionMm: v.nullable(finite),
  /** Not told by a review from before there was such a fact. */
  acrossMm: v.optional(v.nullable(finite), null),
  takenAt: v.nullable(v.string()),
  probe: v.nullable(v.string()),
  instrument: v.nullable(v.string()),
  block: v.nullable(v.string()),
  temperatureC: v.nullable(finite),
});

const sourceFile = v.strictObject({
  /** Relative to the review, with forward slashes. */
  file: v.pipe(v.string(), v.minLength(1)),
  /** Of the bytes when they were taken in: a changed source is found by it. */
  sha256,
  recipe: importRecipeSchema,
  /** What the person knows better than the file; `null` leaves what the file says. */
  facts: v.array(facts),
});

const manifest = v.strictObject({ file: v.pipe(v.string(), v.minLength(1)), sha256 });

const conditioning = v.strictObject({
  baseline: v.picklist(['none', 'mean', 'linear']),
  bandPass: v.nullable(
    v.strictObject({
      lowMHz: positive,
      highMHz: positive,
      order: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(10)),
    }),
  ),
  padding: v.picklist(['extend', 'none']),
  peak: v.picklist(['log-parabola', 'three-point']),
});

const echoList = v.strictObject({
  captures: v.array(captureReference),
  abovePercent: percent,
  fromUs: v.nullable(finite),
  toUs: v.nullable(finite),
});

const calibrationFit = v.strictObject({
  kind: v.literal('fit'),
  captures: v.array(captureReference),
  reflectors: v.variant('kind', [
    v.strictObject({ kind: v.literal('windows'), list: v.array(reflector) }),
    v.strictObject({ kind: v.literal('block'), name }),
  ]),
  timing,
  thresholdPercent: percent,
  nominal: v.nullable(v.strictObject({ material: name, mode: v.picklist(['longitudinal', 'transverse']) })),
});

/** What is not told of time, tolerance and block is `null`: a drift check then counts the block's tolerance, whether or not it cancels. */
const calibrationPoint = v.strictObject({
  distanceMm: positive,
  uDistanceMm: v.optional(v.nullable(notNegative), null),
  timeUs: v.optional(v.nullable(finite), null),
  uTimeUs: v.optional(v.nullable(notNegative), null),
  amplitudePercent: v.nullable(finite),
  gainDb: v.nullable(finite),
  block: v.optional(v.nullable(v.string()), null),
});

/** A calibration made earlier and taken over as it stands: its figures are decisions here, not results. */
const calibrationGiven = v.strictObject({
  kind: v.literal('given'),
  file: v.string(),
  sha256,
  velocityMPerS: positive,
  uVelocityMPerS: v.nullable(v.pipe(finite, v.minValue(0))),
  zeroOffsetUs: finite,
  uZeroOffsetUs: v.nullable(v.pipe(finite, v.minValue(0))),
  covarianceUsUsPerMm: v.nullable(finite),
  degreesOfFreedom: v.pipe(v.number(), v.integer(), v.minValue(0)),
  timing,
  points: v.array(calibrationPoint),
});

const gate = v.strictObject({
  name,
  span: v.variant('axis', [
    v.strictObject({ axis: v.literal('time'), fromUs: finite, toUs: finite }),
    v.strictObject({ axis: v.literal('path'), fromMm: finite, toMm: finite }),
  ]),
  thresholdPercent: percent,
});

const readings = v.strictObject({
  captures: v.array(captureReference),
  gates: v.array(gate),
  timing,
  beam: v.nullable(v.strictObject({ angleDeg: finite, thicknessMm: v.nullable(positive) })),
  uAngleDeg: v.nullable(v.pipe(finite, v.minValue(0))),
  /** `null`: the captures are of different reflectors, and none is held against another. */
  series: v.nullable(v.strictObject({ offPeakDb: positive })),
});

const drift = v.strictObject({
  captures: v.array(captureReference),
  reflectors: v.array(reflector),
  /** Height of the highest of these reflectors when the calibration was made; the others follow in the calibration's proportion. */
  amplitudePercent: v.nullable(percent),
  thresholdPercent: percent,
  rangeMm: v.nullable(positive),
  decision: decisionRule,
  rule: ruleChoice(driftRuleSchema as v.GenericSchema<DriftRule>),
});

export const reviewSchema = v.strictObject({
  format: v.literal(reviewFormat),
  version: v.literal(reviewVersion),
  title: text,
  notes: text,
  sources: v.array(sourceFile),
  manifests: v.array(manifest),
  conditioning,
  echoes: v.nullable(echoList),
  calibration: v.nullable(v.variant('kind', [calibrationFit, calibrationGiven])),
  readings: v.nullable(readings),
  drift: v.nullable(drift),
  linearity: linearityDecision,
  sensitivity: v.nullable(sensitivityDecision),
  part: v.nullable(partDecision),
  scan: v.nullable(scanDecision),
  /** Not told by a review from before there were such parts. */
  probes: v.nullable(probesDecision),
  material: v.nullable(materialDecision),
  record: recordSchema,
});

export type Review = v.InferOutput<typeof reviewSchema>;
export type SourceFile = v.InferOutput<typeof sourceFile>;
export type Facts = v.InferOutput<typeof facts>;
export type Reflector = v.InferOutput<typeof reflector>;
export type CalibrationFit = v.InferOutput<typeof calibrationFit>;
export type CalibrationGiven = v.InferOutput<typeof calibrationGiven>;
export type ReadingDecision = v.InferOutput<typeof readings>;
export type DriftDecision = v.InferOutput<typeof drift>;
export type EchoDecision = v.InferOutput<typeof echoList>;

export const emptyReview: Review = {
  format: reviewFormat,
  version: reviewVersion,
  title: '',
  notes: '',
  sources: [],
  manifests: [],
  conditioning: { baseline: 'linear', bandPass: null, padding: 'extend', peak: 'log-parabola' },
  echoes: null,
  calibration: null,
  readings: null,
  drift: null,
  linearity: { timeBase: null, screenHeight: null, gain: null },
  sensitivity: null,
  part: null,
  scan: null,
  probes: null,
  material: null,
  record: [],
};
