import * as v from 'valibot';
import awsD11 from './rules/aws-d1.1.json' with { type: 'json' };
import iso222322 from './rules/iso-22232-2.json' with { type: 'json' };
import iso222323 from './rules/iso-22232-3.json' with { type: 'json' };

const sentence = v.pipe(v.string(), v.minLength(1), v.maxLength(2000));
const limit = v.nullable(v.pipe(v.number(), v.gtValue(0), v.ltValue(90)));

export const probeRuleSchema = v.strictObject({
  name: v.pipe(v.string(), v.regex(/^[a-z0-9][a-z0-9.-]*$/), v.maxLength(80)),
  title: sentence,
  edition: sentence,
  clause: sentence,
  source: sentence,
  indexMm: limit,
  angleDeg: limit,
});

/** A rule of a probe's checks is data: one edition, one file in `probe-check/rules/`. */
export interface ProbeRule {
  readonly name: string;
  readonly title: string;
  readonly edition: string;
  readonly clause: string;
  /** Where the figures come from and how sure they are. */
  readonly source: string;
  /** How far the index point may lie from its mark, on either side; `null`: no limit. */
  readonly indexMm: number | null;
  /** How far the angle may lie from the stated one, on either side; `null`: no limit. */
  readonly angleDeg: number | null;
}

/** The published rules, by name. How to add an edition: `probe-check/rules/README.md`. */
export const publishedProbeRules: readonly ProbeRule[] = [iso222322, iso222323, awsD11].map((data) =>
  v.parse(probeRuleSchema, data),
);
