import { describe, expect, it } from 'vitest';
import { numberEchoes } from '../../../core/linearity/number-echoes.ts';

const plate = (numbers: readonly number[], bendPercent = 0): number[] =>
  numbers.map((n) => 5 + 8 * n + (bendPercent / 100) * 80 * 4 * ((n - 1) / 10) * (1 - (n - 1) / 10));

describe('numberEchoes', () => {
  it.each<[string, number[], (number | null)[] | null]>([
    ['no echo', [], null],
    ['one echo', [9], null],
    ['two echoes', [9, 17], [1, 2]],
    ['eleven echoes', plate([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]), [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]],
    ['the third missing', plate([1, 2, 4, 5, 6, 7]), [1, 2, 4, 5, 6, 7]],
    ['two missing beside each other', plate([1, 2, 3, 6, 7, 8, 9]), [1, 2, 3, 6, 7, 8, 9]],
    ['a stranger between the second and the third', [13, 21, 25, 29, 37, 45, 53], [1, 2, null, 3, 4, 5, 6]],
    ['a stranger before the first', [10, 13, 21, 29, 37, 45, 53], [null, 1, 2, 3, 4, 5, 6]],
    [
      'a time base that bends by 5 %',
      plate([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11], 5),
      [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11],
    ],
    ['one that bends, the fifth missing', plate([1, 2, 3, 4, 6, 7, 8, 9, 10, 11], 2), [1, 2, 3, 4, 6, 7, 8, 9, 10, 11]],
  ])('%s', (_name, times, numbers) => {
    expect(numberEchoes(times)?.numbers ?? null).toEqual(numbers);
  });

  it('gives the spacing of the series on the whole', () => {
    expect(numberEchoes(plate([1, 2, 4, 5, 6, 7]))?.spacingUs).toBeCloseTo(8, 12);
  });
});
