import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { toJsonSchema } from '@valibot/to-json-schema';
import { describe, expect, it } from 'vitest';
import { inferEverything } from '../../../core/import/import-recipe.ts';
import { openReview, reviewText } from '../../../core/review/open-review.ts';
import { emptyReview, reviewSchema } from '../../../core/review/review.ts';

const saved = reviewText({ ...emptyReview, title: 'Weld 7' });

describe('openReview refuses, at the place', () => {
  const rows: [string, string, string, RegExp][] = [
    ['nothing', '', 'not-json', /^1:1 .*empty/],
    ['what is not JSON', '{ "format": }', 'not-json', /^1:13 /],
    ['another kind of document', '{\n  "format": "something-else"\n}', 'not-a-review', /^1:1 /],
    ['a list', '[]', 'not-a-review', /^1:1 /],
    ['a review without a version', '{ "format": "ascan-review" }', 'review-version', /whole number/],
    ['a version in words', '{\n"format": "ascan-review",\n"version": "one" }', 'review-version', /^3:12 /],
    [
      'a newer version, with both numbers',
      saved.replace('"version": 2', '"version": 7'),
      'review-too-new',
      /^3:14 .*version 7.*version 2/,
    ],
    ['a part that is missing', saved.replace(/ {2}"notes": "",\n/, ''), 'review-schema', /notes/],
    [
      'a part it does not know',
      saved.replace('"notes": ""', '"notes": "",\n  "verdict": "pass"'),
      'review-schema',
      /^6:\d+ verdict/,
    ],
    [
      'a figure that is none',
      saved.replace('"baseline": "linear"', '"baseline": 3'),
      'review-schema',
      /conditioning\.baseline/,
    ],
    ['a name twice', saved.replace('"notes": ""', '"notes": "", "notes": "x"'), 'name-twice', /twice/],
  ];
  it.each(rows)('%s', (_, text, code, words) => {
    const opened = openReview('review.json', text);
    const first = opened.ok ? null : opened.problems[0];
    expect(first?.code).toBe(code);
    expect(`${first?.place.line}:${first?.place.column} ${first?.sentence}`).toMatch(words);
  });
});

describe('openReview', () => {
  const facts = {
    trace: null,
    gainDb: 42,
    positionMm: null,
    acrossMm: null,
    takenAt: null,
    probe: 'P',
    block: null,
    temperatureC: null,
  };
  const source = { file: 'block.csv', sha256: null, recipe: inferEverything, facts: [facts] };
  const { linearity, sensitivity, part, scan, probes, material, record, ...first } = {
    ...emptyReview,
    title: 'Weld 7',
    version: 1,
  };

  it('brings a review of version 1 forward: no check of the instrument was made, and none was named', () => {
    const opened = openReview('review.json', JSON.stringify({ ...first, sources: [source] }));
    expect(opened.ok && opened.value).toEqual({
      ...emptyReview,
      title: 'Weld 7',
      sources: [{ ...source, facts: [{ ...facts, instrument: null }] }],
    });
  });

  it.each([
    ['sources that are no list', { ...first, sources: 'block.csv' }, /sources/],
    ['a source that is no object', { ...first, sources: [7] }, /sources/],
    ['facts that are no list', { ...first, sources: [{ ...source, facts: 'loud' }] }, /facts/],
    [
      'a part that came with version 2',
      { ...first, sources: [{ ...source, facts: [{ ...facts, instrument: 4 }] }], record: 5 },
      /./,
    ],
  ])('of version 1 refuses %s at its place', (_, document, words) => {
    const opened = openReview('review.json', JSON.stringify(document, null, 2));
    expect(opened.ok ? 'opened' : opened.problems.map((problem) => problem.sentence).join('; ')).toMatch(words);
  });
});

describe('openReview and reviewText', () => {
  it('give back what was saved, to the byte', () => {
    const opened = openReview('review.json', saved);
    expect(opened.ok && reviewText(opened.value)).toBe(saved);
  });

  it('keep keys that every object has from becoming anything but an unknown key', () => {
    const opened = openReview(
      'review.json',
      saved.replace('"notes": ""', '"notes": "", "__proto__": { "title": "x" }'),
    );
    expect(opened.ok).toBe(false);
  });
});

describe('the published schema', () => {
  const path = fileURLToPath(new URL('../../../core/review/review.schema.json', import.meta.url));
  const current = `${JSON.stringify({ title: 'Review of saved ultrasonic A-scans, version 2', ...toJsonSchema(reviewSchema, { ignoreActions: ['finite'] }) }, null, 2)}\n`;

  it('is that of the program (to write it anew: PUBLISH_SCHEMA=1 npx vitest run --config tests/vitest.config.ts tests/core/review)', () => {
    if (process.env.PUBLISH_SCHEMA === '1') writeFileSync(path, current);
    expect(existsSync(path) ? readFileSync(path, 'utf8') : null).toBe(current);
  });
});
