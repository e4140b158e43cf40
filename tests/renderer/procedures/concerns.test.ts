import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { verdictSummary } from '../../../core/check/verdict-summary.ts';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { reportInput, savedReview } from '../../../electron/cli/review-report.ts';
import { concernsOf } from '../../../renderer/procedures/concerns.ts';
import type { OpenedSource } from '../../../renderer/state/workbench-state.ts';

const sample = fileURLToPath(new URL('../../../sample-data/instruments/review.json', import.meta.url));

/** The instrument that is sound, or one of its fellows with a fault, by the same review. */
function evaluated(instrument: string) {
  const saved = savedReview(sample);
  const text = readFileSync(sample, 'utf8').replaceAll('"sound/', `"${instrument}/`);
  const review: Review = JSON.parse(text);
  for (const source of [...review.sources, ...review.manifests]) source.sha256 = null;
  const made = reportInput({ ...saved, bytes: Buffer.from(JSON.stringify(review)) });
  if (!made.ok) throw new Error(made.problems[0]?.sentence);
  return made.value;
}

function reviewed(name: string) {
  const made = reportInput(savedReview(fileURLToPath(new URL(`../../../sample-data/${name}`, import.meta.url))));
  if (!made.ok) throw new Error(made.problems[0]?.sentence);
  return made.value;
}

describe('what wants attention', () => {
  const none = new Map<string, OpenedSource>();

  it('is nothing before anything was evaluated, but files that cannot be used', () => {
    const files = new Map([['a.csv', { state: 'broken' }]]) as unknown as ReadonlyMap<string, OpenedSource>;
    expect(concernsOf(files, null, emptyReview)).toEqual({ import: 1 });
  });

  it('is no verdict of the sound instrument', () => {
    const { evaluation, review } = evaluated('sound');
    const { verdicts, gain } = concernsOf(none, evaluation, review);
    expect([verdicts, gain]).toEqual([0, 0]);
  });

  it.each([
    ['an instrument whose time base bends', () => evaluated('time-base-bends')],
    ['a part whose probe is held against a rule', () => reviewed('review.json')],
    ['probes held against stated figures', () => reviewed('probes/review.json')],
  ])('counts as many verdicts as the list has that do not pass: %s', (_, made) => {
    const { evaluation, review } = made();
    const counts = verdictSummary(review, evaluation, metricStyle).counts;
    const notPassed = counts.fail + counts.inconclusive + counts['not-assessed'];
    expect(concernsOf(none, evaluation, review).verdicts).toBe(notPassed);
  });
});
