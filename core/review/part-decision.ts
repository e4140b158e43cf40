import * as v from 'valibot';
import { type ProbeRule, probeRuleSchema } from '../probe-check/rule.ts';
import {
  captureReference,
  decisionRule,
  finite,
  name,
  notNegative,
  percent,
  positive,
  ruleChoice,
  text,
} from './decision-parts.ts';

/**
 * What is examined, as far as its shape turns a sound path into a place. `uThicknessMm` is a standard uncertainty.
 * A pipe that is scanned along its axis is a plate here: the beam's plane is then flat.
 */
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
  /** Flat steps, each with the captures taken on it. */
  v.strictObject({
    kind: v.literal('step-block'),
    steps: v.array(
      v.strictObject({ captures: v.array(captureReference), thicknessMm: positive, uThicknessMm: notNegative }),
    ),
  }),
]);

/**
 * A place in the section across the weld: `acrossMm` along the scanned surface from the weld's middle, to the right positive; `depthMm` down from
 * the scanned surface, negative in a cap that stands above it, greater than the thickness in a root that stands below.
 */
const place = v.strictObject({ acrossMm: finite, depthMm: finite });

/** A butt weld across the beam, as a closed line round its section. Its corners on or beyond a surface send echoes of their own. */
const weld = v.strictObject({ outline: v.array(place), toleranceMm: positive });

/** Something else of the part's own that sends an echo: a plate's edge, a counterbore's corner. `toleranceMm` is the half-width of where it may lie. */
const feature = v.strictObject({ name, ...place.entries, toleranceMm: positive });

/** Where the probe stood, for the captures named. The beam faces the weld. */
const placement = v.strictObject({
  captures: v.array(captureReference),
  /** On which side of the weld's middle the probe stood: from the left its beam goes to the right. */
  side: v.picklist(['left', 'right']),
  /** From the weld's middle back to the index point. */
  offsetMm: finite,
  /** Standard uncertainty of that, without the index point's own. */
  uOffsetMm: notNegative,
  /** What a capture's own position counts: along the weld, or across it away from the weld (added to the offset). */
  position: v.picklist(['along', 'away']),
});

const probe = v.strictObject({
  /** In the part; 0 for a straight beam. */
  angleDeg: finite,
  uAngleDeg: v.nullable(notNegative),
  mode: v.picklist(['longitudinal', 'transverse']),
  /** From the front of the wedge back to the index point. */
  indexToFrontMm: v.nullable(notNegative),
  /** Standard uncertainty of where the index point lies on the wedge. */
  uIndexMm: notNegative,
  wedgeVelocityMPerS: v.nullable(positive),
  /** Diameter of a round element. */
  elementMm: v.nullable(positive),
  frequencyMHz: v.nullable(positive),
  /** In the part; `null`: that of the calibration. */
  velocityMPerS: v.nullable(positive),
});

/** Lengths read off a ruler several times, with the ruler's own standard uncertainty. */
const ruler = { frontToEndMm: v.array(finite), uRulerMm: notNegative };

/** Checks of the probe on a block, held against a rule. */
const probeChecks = v.strictObject({
  /** The echo of the radius at its highest: how far the front of the wedge stands from the block's end. */
  index: v.nullable(v.strictObject({ radiusMm: positive, ...ruler })),
  /** The echo of a hole or a notch at its highest: where that lies from the block's end and below the probe's face. */
  angle: v.nullable(v.strictObject({ fromEndMm: finite, depthMm: positive, ...ruler })),
  /** The angle that Snell's law makes of the probe's in another material, or with a wedge of another temperature. */
  elsewhere: v.nullable(
    v.strictObject({
      velocityMPerS: positive,
      inVelocityMPerS: positive,
      wedge: v.nullable(v.strictObject({ velocityMPerS: positive, thenMPerS: positive })),
    }),
  ),
  decision: decisionRule,
  rule: ruleChoice(probeRuleSchema as v.GenericSchema<ProbeRule>),
});

/** Two captures of one position, before and after a surface was damped. */
const damping = v.strictObject({
  before: captureReference,
  after: captureReference,
  abovePercent: percent,
  /** Standard uncertainty of a height by the coupling, in dB. */
  uCouplingDb: notNegative,
});

/** What the person decided of a reading that may come from the part's own shape. */
const confirmed = v.strictObject({
  capture: captureReference,
  gate: name,
  taken: v.picklist(['reflector', 'geometry']),
  notes: text,
});

export const partDecision = v.strictObject({
  shape,
  weld: v.nullable(weld),
  features: v.array(feature),
  placements: v.array(placement),
  probe,
  checks: v.nullable(probeChecks),
  damping: v.array(damping),
  confirmed: v.array(confirmed),
});

export type PartDecision = v.InferOutput<typeof partDecision>;
export type Shape = PartDecision['shape'];
export type PlaceInSection = v.InferOutput<typeof place>;
export type Feature = v.InferOutput<typeof feature>;
export type Placement = v.InferOutput<typeof placement>;
export type Probe = PartDecision['probe'];
export type ProbeChecks = v.InferOutput<typeof probeChecks>;
