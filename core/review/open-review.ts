import * as v from 'valibot';
import { readJson } from '../located-json.ts';
import { failure, type Outcome, problem, success } from '../outcome.ts';
import { issueAtPath, schemaProblems, thoroughness } from '../schema-problems.ts';
import { emptyReview, type Review, reviewFormat, reviewSchema, reviewVersion } from './review.ts';

/** Brings a document of version n to version n + 1; `upgrades[0]` would take version 0, which never was. A part that is not as that version had it is left for the schema to tell. */
const upgrades: readonly ((document: Record<string, unknown>) => Record<string, unknown>)[] = [
  (document) => document,
  withInstrumentChecks,
];

/** Version 2: checks of the instrument, sensitivity, the part and its scan, probes and material, what the report says beside the results, and the instrument among the facts of a capture. */
function withInstrumentChecks(document: Record<string, unknown>): Record<string, unknown> {
  const { linearity, sensitivity, part, scan, probes, material, record } = emptyReview;
  return {
    ...document,
    version: 2,
    sources: withInstrument(document.sources),
    linearity,
    sensitivity,
    part,
    scan,
    probes,
    material,
    record,
  };
}

function withInstrument(sources: unknown): unknown {
  if (!Array.isArray(sources)) return sources;
  return sources.map((source) =>
    isRecord(source) && Array.isArray(source.facts)
      ? { ...source, facts: source.facts.map((facts) => (isRecord(facts) ? { ...facts, instrument: null } : facts)) }
      : source,
  );
}

/**
 * Opens a saved review. An older version is brought forward one step at a time; a newer one is refused with both numbers.
 * Problems, each at its line and column: not JSON, not a review, newer than this program, a part that does not fit the schema.
 */
export function openReview(file: string, text: string): Outcome<Review> {
  const json = readJson(file, text);
  if (!json.ok) return json;
  const { value, place } = json.value;
  if (!isRecord(value) || value.format !== reviewFormat) {
    return failure(problem('not-a-review', place([]), `this is not a review: its "format" is not "${reviewFormat}"`));
  }
  const version = value.version;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    return failure(
      problem('review-version', place(['version']), 'the review does not say its version as a whole number from 1'),
    );
  }
  if (version > reviewVersion) {
    const sentence = `the review is of version ${version}, and this program reads up to version ${reviewVersion}; open it with a newer program`;
    return failure(problem('review-too-new', place(['version']), sentence));
  }
  const current = upgrades.slice(version).reduce((document, upgrade) => upgrade(document), value);
  const parsed = v.safeParse(reviewSchema, current, thoroughness(json.value));
  if (parsed.success) return success(parsed.output);
  return failure(...schemaProblems(parsed.issues, json.value, 'review-schema', issueAtPath));
}

/** The text of a review as it is saved: the same review gives the same bytes. */
export function reviewText(review: Review): string {
  return `${JSON.stringify(v.parse(reviewSchema, review), null, 2)}\n`;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
