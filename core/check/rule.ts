import * as v from 'valibot';
import { log10 } from '../elementary/exponential.ts';
import { readJson } from '../located-json.ts';
import { failure, type Outcome, problem, success } from '../outcome.ts';
import { type SchemaPath, schemaProblems, thoroughness } from '../schema-problems.ts';
import asmeVT466 from './rules/asme-v-t-466.json' with { type: 'json' };
import iso17640 from './rules/iso-17640.json' with { type: 'json' };
import type { Limits } from './verdict.ts';

const sentence = v.pipe(v.string(), v.minLength(1), v.maxLength(2000));
const figure = v.pipe(v.number(), v.gtValue(0), v.ltValue(100));

export const driftRuleSchema = v.strictObject({
  name: v.pipe(v.string(), v.regex(/^[a-z0-9][a-z0-9.-]*$/), v.maxLength(80)),
  title: sentence,
  edition: sentence,
  clause: sentence,
  source: sentence,
  distance: v.nullable(
    v.strictObject({
      limits: v.pipe(
        v.array(v.strictObject({ of: v.picklist(['reading', 'range']), percent: figure })),
        v.minLength(1),
      ),
      whenWithin: v.nullable(sentence),
      whenExceeded: sentence,
    }),
  ),
  amplitude: v.nullable(
    v.strictObject({
      limits: v.pipe(
        v.array(v.union([v.strictObject({ db: figure }), v.strictObject({ percent: figure })])),
        v.minLength(1),
      ),
      whenWithin: v.nullable(sentence),
      whenLower: sentence,
      whenHigher: sentence,
    }),
  ),
});

/**
 * A drift rule is data: one edition, one file in `check/rules/`. The person's own rule is a file of the same form.
 * A distance limit of several parts allows the greatest of them ('whichever is greater'); an amplitude limit of several parts allows the least
 * (the stricter reading of 'or'). A limit itself is still allowed: only what is more than it fails.
 */
export interface DriftRule {
  readonly name: string;
  readonly title: string;
  readonly edition: string;
  readonly clause: string;
  /** Where the figures come from and how sure they are. */
  readonly source: string;
  readonly distance: {
    readonly limits: readonly { readonly of: 'reading' | 'range'; readonly percent: number }[];
    /** What is to be done although the limit is kept; `null` where the rule asks for nothing. */
    readonly whenWithin: string | null;
    readonly whenExceeded: string;
  } | null;
  readonly amplitude: {
    readonly limits: readonly ({ readonly db: number } | { readonly percent: number })[];
    readonly whenWithin: string | null;
    readonly whenLower: string;
    readonly whenHigher: string;
  } | null;
}

/** The published rules, by name. How to add an edition: `check/rules/README.md`. */
export const publishedRules: readonly DriftRule[] = [asmeVT466, iso17640].map((data) => v.parse(driftRuleSchema, data));

/**
 * Reads a person's own rule from the text of its file.
 * Problems: `not-json`, `name-twice`, `rule-form` (a part missing, unknown or of the wrong kind), `rule-without-limits`; each with line and column.
 */
export function readRule(file: string, text: string): Outcome<DriftRule> {
  const json = readJson(file, text);
  if (!json.ok) return json;
  const { value } = json.value;
  if (Array.isArray(value)) return failure(problem('rule-form', json.value.place([]), oneObject));
  const parsed = v.safeParse(driftRuleSchema, value, thoroughness(json.value));
  if (!parsed.success) {
    return failure(...schemaProblems(parsed.issues, json.value, 'rule-form', issueInWords));
  }
  if (parsed.output.distance === null && parsed.output.amplitude === null) {
    const words = 'the rule limits neither distance nor amplitude; give at least one of the two';
    return failure(problem('rule-without-limits', json.value.place([]), words));
  }
  return success(parsed.output);
}

const oneObject = 'a rule is one object; see the published rules for its form';

const wanted: Readonly<Record<string, string>> = {
  name: 'lower-case letters, digits, full stops and hyphens, as in "yard-rule-2026"',
  of: '"reading" or "range"',
  percent: 'a number above 0 and below 100',
  db: 'a number above 0 and below 100',
  limits: 'a list with at least one limit',
  distance: 'an object with "limits", "whenWithin" and "whenExceeded", or null',
  amplitude: 'an object with "limits", "whenWithin", "whenLower" and "whenHigher", or null',
  whenWithin: 'a sentence, or null',
};

function issueInWords(issue: v.BaseIssue<unknown>, path: SchemaPath): string {
  const key = path.at(-1);
  if (key === undefined) return oneObject;
  if (issue.expected === 'never') return `"${key}" is not a part of a rule; take it out or correct its name`;
  if (typeof key === 'number')
    return `limit ${key + 1} must be ${path.includes('amplitude') ? '{"db": …} or {"percent": …}' : '{"of": …, "percent": …}'}`;
  const needs = wanted[key] ?? 'a sentence of at most 2000 characters';
  return issue.input === undefined ? `"${key}" is missing; give ${needs}` : `"${key}" must be ${needs}`;
}

/**
 * How far a reflector's path may be off, in mm on either side. `distanceMm` is the distance that should be read there; `rangeMm` the full sweep,
 * `null` only where `needsRange(rule)` is false.
 */
export function distanceLimits(
  distance: NonNullable<DriftRule['distance']>,
  distanceMm: number,
  rangeMm: number | null,
): Limits {
  const parts = distance.limits.map(
    ({ of, percent }) => (percent / 100) * (of === 'reading' ? distanceMm : (rangeMm ?? 0)),
  );
  const upper = Math.max(...parts);
  return { lower: -upper, upper };
}

/** How far the amplitude may have changed, in dB on either side; a limit in per cent is not symmetric in dB (20 %: −1.938 and +1.584 dB). */
export function amplitudeLimits(amplitude: NonNullable<DriftRule['amplitude']>): Limits {
  const sides = amplitude.limits.map((limit) =>
    'db' in limit
      ? { lower: -limit.db, upper: limit.db }
      : { lower: 20 * log10((100 - limit.percent) / 100), upper: 20 * log10((100 + limit.percent) / 100) },
  );
  return { lower: Math.max(...sides.map((side) => side.lower)), upper: Math.min(...sides.map((side) => side.upper)) };
}

/** Whether a limit is a share of the full sweep, which must then be given. */
export function needsRange(rule: DriftRule): boolean {
  return rule.distance?.limits.some(({ of }) => of === 'range') ?? false;
}
