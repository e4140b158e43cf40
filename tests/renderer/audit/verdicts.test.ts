import { describe, expect, it } from 'vitest';
import type { VerdictOutcome } from '../../../core/check/verdict.ts';
import type { SummarisedVerdict } from '../../../core/check/verdict-summary.ts';
import { inWords } from '../../../renderer/audit/figure-words.ts';
import { allVerdicts, filteredVerdicts } from '../../../renderer/audit/verdict-filter.ts';
import { groupsOf } from '../../../renderer/audit/verdict-groups.ts';

function verdict(
  judged: string,
  outcome: VerdictOutcome,
  part: SummarisedVerdict['part'] = 'time-base',
  limits: SummarisedVerdict['limits'] = { lower: -1, upper: 1 },
): SummarisedVerdict {
  return {
    part,
    judged,
    captureId: `${part}.csv#1`,
    takenAt: null,
    verdict: {
      measured: null,
      limit: 1,
      unit: '%',
      rule: 'yard',
      clause: '7.2',
      decision: 'with-uncertainty',
      outcome,
    },
    limits,
    rule: { name: `yard-${part}`, title: 'Yard rule', edition: '2026', source: 'invented' },
    arithmetic: () => [],
    flags: [],
    remark: null,
    asked: null,
  };
}

const all = [
  verdict('echo 4', 'fail'),
  verdict('larger echo at 20 %', 'fail', 'screen-height'),
  verdict('echo 2', 'pass'),
  verdict('echo 3', 'pass'),
  verdict('at 40 %', 'pass', 'screen-height', { lower: -2, upper: 2 }),
  verdict('at 60 %', 'pass', 'screen-height', { lower: -3, upper: 3 }),
];

describe('the list of verdicts', () => {
  it.each([
    ['all', allVerdicts, 6],
    ['what fails alone', { ...allVerdicts, outcome: 'fail' as const }, 2],
    ['one check alone', { ...allVerdicts, part: 'screen-height' as const }, 3],
    ['by words of step and clause, in any order', { ...allVerdicts, words: '7.2 ECHO' }, 4],
    ['by the file', { ...allVerdicts, words: 'screen-height.csv' }, 3],
    ['by all at once', { outcome: 'pass' as const, part: 'time-base' as const, words: '3' }, 1],
    ['nothing', { ...allVerdicts, words: 'casting' }, 0],
  ])('%s', (_, filter, count) => {
    expect(filteredVerdicts(all, filter)).toHaveLength(count);
  });

  it('names a rule once for verdicts beside one another that came out alike, and loses none', () => {
    const groups = groupsOf(all);
    expect(groups.map(({ verdicts }) => verdicts.map(({ judged }) => judged))).toEqual([
      ['echo 4'],
      ['larger echo at 20 %'],
      ['echo 2', 'echo 3'],
      ['at 40 %', 'at 60 %'],
    ]);
    expect(groups.flatMap(({ verdicts }) => verdicts)).toEqual(all);
    expect(new Set(groups.map(({ key }) => key)).size).toBe(groups.length);
  });

  it('says limits once only where they are the same for all of a group', () => {
    expect(groupsOf(all).map(({ isOneLimit }) => isOneLimit)).toEqual([true, true, true, false]);
  });
});

describe('a figure in a line of words', () => {
  it.each([
    ['-0.5 ± 0.1 %', '−0.5 ± 0.1\u00a0%'],
    ['-1.00 % to 1.00 %', '−1.00\u00a0% to 1.00\u00a0%'],
    ['0,5 mm', '0,5\u00a0mm'],
    ['A-scan 3', 'A-scan 3'],
  ])('%s', (text, written) => {
    expect(inWords(text)).toBe(written);
  });
});
