import * as v from 'valibot';
import { readJson } from '../located-json.ts';
import { failure, type Outcome, problem, success } from '../outcome.ts';
import { type SchemaPath, schemaProblems, thoroughness } from '../schema-problems.ts';
import asmeVAppendixI from './rules/asme-v-appendix-i.json' with { type: 'json' };
import asmeVAppendixIi from './rules/asme-v-appendix-ii.json' with { type: 'json' };
import asmeVArticle5 from './rules/asme-v-article-5.json' with { type: 'json' };
import astmE317TimeBase from './rules/astm-e317-time-base.json' with { type: 'json' };
import astmE317TwoEcho from './rules/astm-e317-two-echo.json' with { type: 'json' };
import awsGain from './rules/aws-d1.1-gain.json' with { type: 'json' };
import awsTimeBase from './rules/aws-d1.1-time-base.json' with { type: 'json' };
import iso1Gain from './rules/iso-22232-1-gain.json' with { type: 'json' };
import iso1ScreenHeight from './rules/iso-22232-1-screen-height.json' with { type: 'json' };
import iso1TimeBase from './rules/iso-22232-1-time-base.json' with { type: 'json' };
import iso3Gain from './rules/iso-22232-3-gain.json' with { type: 'json' };
import iso3ScreenHeight from './rules/iso-22232-3-screen-height.json' with { type: 'json' };
import iso3TimeBase from './rules/iso-22232-3-time-base.json' with { type: 'json' };

const sentence = v.pipe(v.string(), v.minLength(1), v.maxLength(2000));
const height = v.pipe(v.number(), v.gtValue(0), v.maxValue(110));
const perCent = v.pipe(v.number(), v.gtValue(0), v.ltValue(100));
const level = v.pipe(v.number(), v.gtValue(0), v.maxValue(200));
const change = v.pipe(v.number(), v.minValue(-120), v.maxValue(120));
const count = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(100));

const head = {
  name: v.pipe(v.string(), v.regex(/^[a-z0-9][a-z0-9.-]*$/), v.maxLength(80)),
  title: sentence,
  edition: sentence,
  clause: sentence,
  source: sentence,
};

const anchor = v.strictObject({ echo: count, percent: v.pipe(v.number(), v.minValue(0), v.maxValue(100)) });

/** How far equal distances may stand from equally far apart. */
const timeBaseRule = v.strictObject({
  check: v.literal('time-base'),
  ...head,
  /** Which straight line the deviations are counted from: the definitions give different figures. */
  line: v.variant('kind', [
    v.strictObject({ kind: v.literal('end-points') }),
    v.strictObject({ kind: v.literal('least-squares') }),
    /** Two numbered echoes that are set on marks of the screen, which so gives the full range too. */
    v.strictObject({ kind: v.literal('anchors'), anchors: v.tuple([anchor, anchor]) }),
  ]),
  /** Of the full range, on either side; `null` where the rule limits nothing. */
  deviationPercent: v.nullable(perCent),
  fewestReflectors: count,
});

/** Two echoes in a fixed ratio, stepped together through the screen. */
const twoEchoRule = v.strictObject({
  check: v.literal('screen-height'),
  form: v.literal('two-echo'),
  ...head,
  /** The smaller echo's part of the larger one. */
  ratio: v.pipe(v.number(), v.gtValue(0), v.ltValue(1)),
  /** Of the smaller echo from its part, in % FSH on either side; `null` where the rule limits nothing. */
  deviationPercent: v.nullable(perCent),
  /** Heights of the larger echo that are held against the limit. */
  span: v.strictObject({ fromPercent: height, toPercent: height }),
  /** At which heights of the larger echo the rule wants a reading; `null`: at any. Steps in dB may stand in place of those in % FSH. */
  steps: v.nullable(v.strictObject({ everyPercent: perCent, orEveryDb: level, tolerancePercent: perCent })),
});

/** One step of a table: what an echo set to one height should show after a change of gain. `null` ends are no limits. */
const tableStep = v.strictObject({
  setPercent: height,
  changeDb: change,
  targetPercent: height,
  atLeastPercent: v.nullable(height),
  atMostPercent: v.nullable(height),
});

/** A table of steps, each from an echo that was set to a height. */
const table = {
  /** How far from the height to be set a capture may stand and still count as set to it. What it shows is then referred to that height. */
  setTolerancePercent: perCent,
  steps: v.pipe(v.array(tableStep), v.minLength(1), v.maxLength(60)),
};

/** One echo, stepped by the gain, in steps that a table names. */
const steppedTableRule = v.strictObject({
  check: v.literal('screen-height'),
  form: v.literal('stepped-table'),
  ...head,
  ...table,
});

/** One echo, stepped by the gain, in whatever steps: what should stand between two heights is held against one limit. */
const steppedSpanRule = v.strictObject({
  check: v.literal('screen-height'),
  form: v.literal('stepped-span'),
  ...head,
  setPercent: height,
  setTolerancePercent: perCent,
  span: v.strictObject({ fromPercent: height, toPercent: height }),
  deviationPercent: perCent,
});

/** The gain control by a table of steps from heights that were set. */
const gainTableRule = v.strictObject({
  check: v.literal('gain'),
  form: v.literal('table'),
  ...head,
  ...table,
});

/** The gain control by the errors of its steps, added up over the range. */
const gainRunRule = v.strictObject({
  check: v.literal('gain'),
  form: v.literal('run'),
  ...head,
  /** Heights at which an echo is set anew; `null`: any. */
  setPercents: v.nullable(v.pipe(v.array(height), v.minLength(1))),
  setTolerancePercent: perCent,
  /** Most that the errors may add up to between any two settings of the range. */
  totalDb: level,
  /** Of the settings, how far apart the range must reach; `null`: as far as the captures do. */
  leastRangeDb: v.nullable(level),
  /** `whole-range`: the limit holds over all that was captured. `widest-span`: over some part of it of the least range, which is then what the instrument is qualified for. */
  over: v.picklist(['whole-range', 'widest-span']),
  /** A stricter limit between settings that are no farther apart than so many dB. */
  window: v.nullable(v.strictObject({ spanDb: level, errorDb: level })),
});

export const linearityRuleSchema = v.variant('check', [
  timeBaseRule,
  v.variant('form', [twoEchoRule, steppedTableRule, steppedSpanRule]),
  v.variant('form', [gainTableRule, gainRunRule]),
]);

/**
 * A rule of an instrument's linearity is data: one edition, one file in `linearity/rules/`. The person's own rule is a file of the same form. A limit
 * itself is still allowed: only what is more than it fails.
 */
export type LinearityRule = v.InferOutput<typeof linearityRuleSchema>;
export type TimeBaseRule = v.InferOutput<typeof timeBaseRule>;
export type TwoEchoRule = v.InferOutput<typeof twoEchoRule>;
export type SteppedRule = v.InferOutput<typeof steppedTableRule> | v.InferOutput<typeof steppedSpanRule>;
export type SteppedTableRule = v.InferOutput<typeof steppedTableRule>;
export type SteppedSpanRule = v.InferOutput<typeof steppedSpanRule>;
export type GainRule = v.InferOutput<typeof gainTableRule> | v.InferOutput<typeof gainRunRule>;
export type GainRunRule = v.InferOutput<typeof gainRunRule>;
export type TableStep = v.InferOutput<typeof tableStep>;

/** The published rules, by name. How to add an edition: `linearity/rules/README.md`. */
export const publishedLinearityRules: readonly LinearityRule[] = [
  astmE317TimeBase,
  iso1TimeBase,
  iso3TimeBase,
  awsTimeBase,
  asmeVAppendixI,
  astmE317TwoEcho,
  asmeVArticle5,
  iso1ScreenHeight,
  iso3ScreenHeight,
  asmeVAppendixIi,
  awsGain,
  iso1Gain,
  iso3Gain,
].map((data) => v.parse(linearityRuleSchema, data));

/** The published rules of one check. */
export function rulesFor<Check extends LinearityRule['check']>(
  check: Check,
): Extract<LinearityRule, { check: Check }>[] {
  return publishedLinearityRules.filter(
    (rule): rule is Extract<LinearityRule, { check: Check }> => rule.check === check,
  );
}

/**
 * Reads a person's own rule from the text of its file.
 * Problems: `not-json`, `name-twice`, `rule-form` (a part missing, unknown or of the wrong kind); each with line and column.
 */
export function readLinearityRule(file: string, text: string): Outcome<LinearityRule> {
  const json = readJson(file, text);
  if (!json.ok) return json;
  const { value } = json.value;
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    return failure(problem('rule-form', json.value.place([]), oneObject));
  const parsed = v.safeParse(linearityRuleSchema, value, thoroughness(json.value));
  if (parsed.success) return success(parsed.output);
  return failure(...schemaProblems(parsed.issues, json.value, 'rule-form', issueInWords));
}

const oneObject = 'a rule is one object; see the published rules for its form';

const wanted: Readonly<Record<string, string>> = {
  check: '"time-base", "screen-height" or "gain"',
  form: '"two-echo", "stepped-table" or "stepped-span" for the screen height, "table" or "run" for the gain',
  kind: '"end-points", "least-squares" or "anchors"',
  name: 'lower-case letters, digits, full stops and hyphens, as in "yard-rule-2026"',
  over: '"whole-range" or "widest-span"',
  line: 'an object with "kind"',
  steps: 'the steps of the rule, as in the published rules',
  span: 'an object with "fromPercent" and "toPercent"',
  fewestReflectors: 'a whole number from 1 to 100',
};

/** `a number`, `a number >0`. */
function numberWanted({ expected }: v.BaseIssue<unknown>): string {
  return expected === null || expected === 'number' || expected.startsWith('(') ? 'a number' : `a number ${expected}`;
}

function issueInWords(issue: v.BaseIssue<unknown>, path: SchemaPath): string {
  const key = path.at(-1);
  if (key === undefined) return oneObject;
  if (issue.expected === 'never')
    return `"${key}" is not a part of a rule of this check and form; take it out or correct its name`;
  const needs =
    wanted[key] ??
    (/Percents?$|Db$|ratio|echo|percent/.test(String(key))
      ? numberWanted(issue)
      : 'a sentence of at most 2000 characters');
  if (typeof key === 'number')
    return `entry ${key + 1} does not have the form of the published rules (${issue.message})`;
  return issue.input === undefined ? `"${key}" is missing; give ${needs}` : `"${key}" must be ${needs}`;
}
