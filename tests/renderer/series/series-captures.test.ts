import { describe, expect, it } from 'vitest';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import type { TraceFacts } from '../../../renderer/engine/messages.ts';
import { seriesCaptures } from '../../../renderer/series/series-captures.ts';

const all = ['a.csv#left', 'a.csv#right', 'b.csv#left', 'c.csv#left'];
const captures = new Map(all.map((id) => [id, { id, file: id.split('#')[0], trace: id.split('#')[1] } as TraceFacts]));

function reviewReading(references: string[] | null): Review {
  const readings = { captures: references ?? [], gates: [], timing: 'peak', beam: null, uAngleDeg: null, series: null };
  return { ...emptyReview, readings: references === null ? null : (readings as Review['readings']) };
}

describe('seriesCaptures: which captures are read together', () => {
  it.each<[string, string[] | null, string[]]>([
    ['nothing is read', null, []],
    ['no captures given', [], []],
    ['a file means all its captures', ['a.csv'], ['a.csv#left', 'a.csv#right']],
    ['one capture', ['a.csv#right'], ['a.csv#right']],
    ['in the review’s order, each once', ['c.csv', 'a.csv#left', 'a.csv'], ['a.csv#left', 'a.csv#right', 'c.csv#left']],
    ['a file that is not there', ['d.csv'], []],
  ])('%s', (_, references, found) => {
    expect(seriesCaptures({ review: reviewReading(references), captures }).map(({ id }) => id)).toEqual(found);
  });
});
