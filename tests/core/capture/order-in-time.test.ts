import { describe, expect, it } from 'vitest';
import { comparableSeconds, orderInTime } from '../../../core/capture/order-in-time.ts';

describe('orderInTime', () => {
  it.each<[string, (string | null)[], number[], number[]]>([
    ['nothing', [], [], []],
    ['one without a time', [null], [0], [0]],
    [
      'equal instants keep their order',
      ['2026-03-02T06:00:00Z', '2026-03-02T07:00:00+01:00', '2026-03-02T06:00:00.000Z'],
      [0, 1, 2],
      [],
    ],
    ['across an offset', ['2026-03-02T08:00:00+00:00', '2026-03-02T08:30:00+01:00'], [1, 0], []],
    ['a negative offset of minutes', ['2026-03-02T08:00:00Z', '2026-03-02T04:15:00-03:30'], [1, 0], []],
    ['fractions of a second', ['2026-03-02T08:00:00.25Z', '2026-03-02T08:00:00.2Z'], [1, 0], []],
    ['across a leap day', ['2028-03-01T00:00Z', '2028-02-29T00:00Z', '2028-02-28T00:00Z'], [2, 1, 0], []],
    ['across a year', ['2026-01-01T00:00:00Z', '2025-12-31T23:59:59Z'], [1, 0], []],
    ['those without a time come last', ['2026-03-02T08:00Z', null, '2026-03-02T06:00Z'], [2, 0, 1], [1]],
    ['no offset anywhere: compared as told', ['2026-03-02T08:00', '2026-03-02 06:00:10'], [1, 0], []],
    [
      'an offset in some only: the others are not placed',
      ['2026-03-02T05:00', '2026-03-02T08:00Z', '2026-03-02T06:00Z'],
      [2, 1, 0],
      [0],
    ],
    ['29 February of a common year is no time', ['2026-02-29T06:00Z', '2026-03-01T06:00Z'], [1, 0], [0]],
    ['29 February 2100 is no time', ['2100-02-29T06:00Z'], [0], [0]],
    ['words are no time', ['yesterday', '06:05'], [0, 1], [0, 1]],
    ['a month of 13', ['2026-13-01T06:00Z'], [0], [0]],
  ])('%s', (_, takenAt, order, unplaced) => {
    expect(orderInTime(takenAt)).toEqual({ order, unplaced });
  });
});

describe('comparableSeconds', () => {
  it.each<[string, (string | null)[], (number | null)[]]>([
    ['nothing', [], []],
    ['the epoch, and an hour east of it', ['1970-01-01T00:00:00Z', '1970-01-01T00:00:00+01:00'], [0, -3600]],
    ['half a minute past, with a fraction', ['1970-01-01T00:00:30.5Z'], [30.5]],
    ['a time without its offset beside one that has it', ['2026-03-02T05:00', '1970-01-02T00:00Z'], [null, 86_400]],
    ['none and nonsense', [null, 'noon'], [null, null]],
  ])('%s', (_, takenAt, seconds) => {
    expect(comparableSeconds(takenAt)).toEqual(seconds);
  });
});
