import { describe, expect, it } from 'vitest';
import { readTakenAt } from '../../../core/import/taken-at.ts';

describe('an instant in ISO 8601', () => {
  it.each([
    ['2026-03-02T06:05:00Z', '2026-03-02T06:05:00Z'],
    ['2026-03-02 06:05:00 UTC', '2026-03-02T06:05:00Z'],
    ['2026-03-02T06:05+01:00', '2026-03-02T06:05:00+01:00'],
    ['2026-03-02T06:05:00-0530', '2026-03-02T06:05:00-05:30'],
    ['20260302T060500Z', '2026-03-02T06:05:00Z'],
    ['2026-03-02T06:05:00.250Z', '2026-03-02T06:05:00.250Z'],
    ['13/04/2026 06:05 Z', '2026-04-13T06:05:00Z'],
  ])('%s', (text, instant) => {
    expect(readTakenAt(text, null)).toEqual({ kind: 'instant', text: instant });
  });
});

describe('a time without a zone is kept as told', () => {
  it.each([
    ['2026-03-02', '2026-03-02'],
    ['2026-03-02 06:05', '2026-03-02T06:05:00'],
    ['02.03.2026 6:05', '2026-03-02T06:05:00'],
    ['13/04/2026', '2026-04-13'],
    ['04/13/2026', '2026-04-13'],
    ['05/05/2026', '2026-05-05'],
  ])('%s', (text, kept) => {
    expect(readTakenAt(text, null)).toEqual({ kind: 'without-zone', text: kept });
  });
});

describe('day and month are never guessed at', () => {
  it('03/04/2026 is ambiguous', () => {
    expect(readTakenAt('03/04/2026 06:00', null)).toEqual({ kind: 'ambiguous-date' });
    expect(readTakenAt('03-04-2026', null)).toEqual({ kind: 'ambiguous-date' });
  });

  it('until the order is told', () => {
    expect(readTakenAt('03/04/2026', 'day-first')).toEqual({ kind: 'without-zone', text: '2026-04-03' });
    expect(readTakenAt('03/04/2026', 'month-first')).toEqual({ kind: 'without-zone', text: '2026-03-04' });
  });
});

it.each(['', 'yesterday', '2026-13-01', '2026-02-30', '2025-02-29', '2026-03-02T25:00Z', '31/31/2026', '12:30'])(
  '‘%s’ is no date',
  (text) => {
    expect(readTakenAt(text, null)).toEqual({ kind: 'unreadable' });
  },
);

it('29 February of a leap year is one', () => {
  expect(readTakenAt('2028-02-29', null).kind).toBe('without-zone');
});
