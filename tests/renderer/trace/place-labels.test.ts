import { describe, expect, it } from 'vitest';
import { type Box, overlapOf, placeLabels } from '../../../renderer/trace/place-labels.ts';

const within: Box = { left: 0, top: 0, width: 100, height: 100 };
const at = (left: number, top: number): Box => ({ left, top, width: 20, height: 10 });

describe('overlapOf', () => {
  it.each([
    ['apart', at(0, 0), at(50, 50), 0],
    ['edge to edge', at(0, 0), at(20, 0), 0],
    ['a corner', at(0, 0), at(15, 5), 25],
    ['one inside the other', at(0, 0), within, 200],
  ])('%s', (_name, a, b, area) => expect(overlapOf(a, b)).toBe(area));
});

describe('placeLabels', () => {
  it('rather on something drawn than on words that stand already', () => {
    const places = [at(0, 0), at(50, 50)];
    expect(placeLabels([places], [at(50, 50)], within, [at(0, 0)])).toEqual([at(50, 50)]);
  });

  it.each([
    ['the first place, where nothing is in the way', [[at(0, 0), at(50, 50)]], [], [at(0, 0)]],
    ['the second, where the first lies on something', [[at(0, 0), at(50, 50)]], [at(5, 5)], [at(50, 50)]],
    ['the second, where the first leaves the plot', [[at(90, 0), at(50, 50)]], [], [at(50, 50)]],
    [
      'rather on something drawn than on another label',
      [[at(0, 0)], [at(0, 0), at(50, 50)]],
      [at(50, 50)],
      [at(0, 0), at(50, 50)],
    ],
    ['a bad place is better than none', [[at(0, 0)], [at(0, 0)]], [], [at(0, 0), at(0, 0)]],
  ])('%s', (_name, candidates, obstacles, expected) => {
    expect(placeLabels(candidates, obstacles, within)).toEqual(expected);
  });
});
