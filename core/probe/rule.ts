import * as v from 'valibot';
import { type ProbeFigure, probeFigureNames } from './figures.ts';
import iso222322 from './rules/iso-22232-2.json' with { type: 'json' };

const sentence = v.pipe(v.string(), v.minLength(1), v.maxLength(2000));
const limit = v.pipe(v.number(), v.gtValue(0), v.ltValue(1000));
const figure = v.picklist(probeFigureNames);
const sides = v.picklist(['both', 'upper']);

export const statedRuleSchema = v.strictObject({
  name: v.pipe(v.string(), v.regex(/^[a-z0-9][a-z0-9.-]*$/), v.maxLength(80)),
  title: sentence,
  edition: sentence,
  source: sentence,
  limits: v.pipe(
    v.array(
      v.union([
        v.strictObject({ figure, percent: limit, sides }),
        /** For a figure that is in dB itself. */
        v.strictObject({ figure, db: limit, sides }),
      ]),
    ),
    v.minLength(1),
  ),
});

/** How far a probe's figures may lie from the stated ones: data, one edition, one file in `probe/rules/`. */
export interface StatedRule {
  readonly name: string;
  readonly title: string;
  readonly edition: string;
  readonly source: string;
  readonly limits: readonly StatedLimit[];
}

export type StatedLimit = { readonly figure: ProbeFigure; readonly sides: 'both' | 'upper' } & (
  | { readonly percent: number }
  | { readonly db: number }
);

/** The published rules, by name. How to add an edition: `probe/rules/README.md`. */
export const publishedStatedRules: readonly StatedRule[] = [iso222322].map((data) => v.parse(statedRuleSchema, data));
