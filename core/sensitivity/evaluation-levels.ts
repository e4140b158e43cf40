import * as v from 'valibot';
import { readJson } from '../located-json.ts';
import { failure, type Outcome, problem, success } from '../outcome.ts';
import { type SchemaPath, schemaProblems, thoroughness } from '../schema-problems.ts';
import { dbFromRatio } from '../units/decibel.ts';
import asmeVT482 from './levels/asme-v-t-482.json' with { type: 'json' };
import iso11666Level2 from './levels/iso-11666-level-2.json' with { type: 'json' };
import iso11666Level3 from './levels/iso-11666-level-3.json' with { type: 'json' };
import minus6Minus14 from './levels/minus-6-minus-14.json' with { type: 'json' };

const sentence = v.pipe(v.string(), v.minLength(1), v.maxLength(2000));
const levelName = v.pipe(v.string(), v.minLength(1), v.maxLength(80));
const levelDb = v.pipe(v.number(), v.minValue(-60), v.maxValue(60));
const levelPercent = v.pipe(v.number(), v.gtValue(0), v.maxValue(1000));

export const levelSetSchema = v.strictObject({
  name: v.pipe(v.string(), v.regex(/^[a-z0-9][a-z0-9.-]*$/), v.maxLength(80)),
  title: sentence,
  edition: sentence,
  clause: sentence,
  source: sentence,
  levels: v.pipe(
    v.array(
      v.union([
        v.strictObject({ name: levelName, db: levelDb }),
        v.strictObject({ name: levelName, percentOfCurve: levelPercent }),
      ]),
    ),
    v.minLength(1),
    v.maxLength(20),
  ),
});

/**
 * Levels relative to the curve at which an indication is evaluated, as data: one edition, one file in `sensitivity/levels/`. The person's own is a file of
 * the same form.
 */
export interface LevelSet {
  readonly name: string;
  readonly title: string;
  readonly edition: string;
  readonly clause: string;
  /** Where the figures come from and how sure they are. */
  readonly source: string;
  readonly levels: readonly (
    | { readonly name: string; readonly db: number }
    | { readonly name: string; readonly percentOfCurve: number }
  )[];
}

/** One level of a set, in dB above the curve. */
export interface Level {
  readonly name: string;
  readonly db: number;
}

/** The published sets, by name. How to add one: `sensitivity/levels/README.md`. */
export const publishedLevels: readonly LevelSet[] = [iso11666Level2, iso11666Level3, asmeVT482, minus6Minus14].map(
  (data) => v.parse(levelSetSchema, data),
);

/** The levels of a set in dB, the highest first. 20 % of the curve is −13.98 dB. */
export function levelsInDb({ levels }: LevelSet): Level[] {
  return levels
    .map((level) => ({
      name: level.name,
      db: 'db' in level ? level.db : dbFromRatio(level.percentOfCurve / 100),
    }))
    .sort((a, b) => b.db - a.db);
}

/**
 * Reads a person's own levels from the text of their file.
 * Problems: `not-json`, `name-twice`, `levels-form` (a part missing, unknown or of the wrong kind), `level-twice`; each with line and column.
 */
export function readLevels(file: string, text: string): Outcome<LevelSet> {
  const json = readJson(file, text);
  if (!json.ok) return json;
  const { value } = json.value;
  if (Array.isArray(value)) return failure(problem('levels-form', json.value.place([]), oneObject));
  const parsed = v.safeParse(levelSetSchema, value, thoroughness(json.value));
  if (!parsed.success) return failure(...schemaProblems(parsed.issues, json.value, 'levels-form', issueInWords));
  const names = parsed.output.levels.map((level) => level.name.trim());
  const seen = new Set<string>();
  const twice = names.findIndex((name) => seen.size === seen.add(name).size);
  if (twice >= 0) {
    const words = `the level "${names[twice]}" stands twice; give each level its own name`;
    return failure(problem('level-twice', json.value.place(['levels', twice]), words));
  }
  return success(parsed.output);
}

const oneObject = 'a set of levels is one object; see the published sets for its form';

const wanted: Readonly<Record<string, string>> = {
  name: 'lower-case letters, digits, full stops and hyphens, as in "yard-levels-2026"',
  levels: 'a list with at least one level',
  db: 'a number of dB from -60 to 60',
  percentOfCurve: 'a number above 0 and at most 1000',
};

function issueInWords(issue: v.BaseIssue<unknown>, path: SchemaPath): string {
  const key = path.at(-1);
  if (key === undefined) return oneObject;
  if (typeof key === 'number')
    return `level ${key + 1} must be {"name": …, "db": …} or {"name": …, "percentOfCurve": …}, dB from -60 to 60, per cent above 0 and at most 1000`;
  if (issue.expected === 'never') return `"${key}" is not a part of a set of levels; take it out or correct its name`;
  const needs = path.length > 2 && key === 'name' ? 'a name of at most 80 characters' : wanted[key];
  const needed = needs ?? 'a sentence of at most 2000 characters';
  return issue.input === undefined ? `"${key}" is missing; give ${needed}` : `"${key}" must be ${needed}`;
}
