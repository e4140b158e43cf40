import * as v from 'valibot';

/** What the decisions of a review are made of: the pieces that more than one part of its schema holds. */
export const finite = v.pipe(v.number(), v.finite());
export const positive = v.pipe(finite, v.gtValue(0));
export const notNegative = v.pipe(finite, v.minValue(0));
export const percent = v.pipe(finite, v.gtValue(0), v.maxValue(100));
export const name = v.pipe(v.string(), v.minLength(1), v.maxLength(200));
export const text = v.pipe(v.string(), v.maxLength(100_000));
export const sha256 = v.nullable(v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/)));
export const timing = v.picklist(['peak', 'crossing']);

/** Whether the expanded uncertainty guards the limit, or the value alone decides. */
export const decisionRule = v.picklist(['with-uncertainty', 'simple-acceptance']);

/** `FILE` for all traces of a file, `FILE#TRACE` for one. */
export const captureReference = v.pipe(v.string(), v.minLength(1));

/** From when to when an echo is looked for. */
export const timeWindow = v.strictObject({ fromUs: finite, toUs: finite });

export const reflector = v.strictObject({
  distanceMm: positive,
  /** Half-width of the tolerance on the distance; 0 takes the distance as exact. */
  toleranceMm: notNegative,
  fromUs: finite,
  toUs: finite,
  /** The one capture that shows this reflector; `null`: the one in which it stands highest. */
  capture: v.nullable(captureReference),
});

/** A published rule by its name, or the person's own, held whole. */
export function ruleChoice<Rule>(rule: v.GenericSchema<Rule>) {
  return v.nullable(
    v.variant('kind', [
      v.strictObject({ kind: v.literal('published'), name }),
      v.strictObject({ kind: v.literal('own'), rule }),
    ]),
  );
}
