import { describe, expect, it } from 'vitest';
import { withField } from '../../../core/review/edit-record.ts';

const record = [
  { field: 'place', value: 'Room 2' },
  { field: 'probe', value: 'Probe 5' },
  { field: 'place', value: 'Yard' },
];

describe('a field of the record', () => {
  it.each([
    ['a new one stands at the end', 'cable', '2 m', [...record, { field: 'cable', value: '2 m' }]],
    [
      'another value stands at the same place',
      'probe',
      'Probe 6',
      [record[0], { field: 'probe', value: 'Probe 6' }, record[2]],
    ],
    [
      'two entries of one name become one, at the first',
      'place',
      'Hall',
      [{ field: 'place', value: 'Hall' }, record[1]],
    ],
    ['an empty value takes it out', 'probe', '', [record[0], record[2]]],
    ['and so do blanks', 'place', '  \n', [record[1]]],
    ['what is not there cannot be taken out', 'cable', '', record],
  ])('%s', (_, field, value, expected) => {
    expect(withField(record, field, value)).toEqual(expected);
  });
});
