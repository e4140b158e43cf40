import { describe, expect, it } from 'vitest';
import { stretchesOf, usualGap } from '../../../core/drawing/stretches.ts';

const spans = (stops: readonly number[], most?: number) =>
  stretchesOf(stops, 1, most).map(({ from, to }) => [from, to]);

describe('what each place stands for', () => {
  it.each([
    ['none', [], []],
    ['one, by itself', [5], [[4.5, 5.5]]],
    [
      'evenly, half-way to the neighbours',
      [0, 2, 4],
      [
        [-1, 1],
        [1, 3],
        [3, 5],
      ],
    ],
    // Usual distance 1: no farther than 0.75 into the gap of 5.
    [
      'a gap stays a gap',
      [0, 1, 2, 7, 8],
      [
        [-0.5, 0.5],
        [0.5, 1.5],
        [1.5, 2.75],
        [6.25, 7.5],
        [7.5, 8.5],
      ],
    ],
  ] as const)('%s', (_, stops, expected) => {
    expect(spans(stops)).toEqual(expected);
  });

  it('never more than is allowed', () => {
    expect(spans([0, 10, 20], 1)).toEqual([
      [-1, 1],
      [9, 11],
      [19, 21],
    ]);
  });

  it('the usual distance is the median, and unknown for one place', () => {
    expect(usualGap([0, 1, 2, 10])).toBe(1);
    expect(usualGap([3])).toBeNull();
  });
});
