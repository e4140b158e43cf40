import { describe, expect, it } from 'vitest';
import {
  acrossChoices,
  nearestPlace,
  pictureColumns,
  placesAcross,
  type SeriesCapture,
} from '../../../renderer/series/places.ts';

function capture(captureId: string, positionMm: number | null, takenAt: string | null = null): SeriesCapture {
  return { captureId, name: captureId, positionMm, takenAt, gainDb: null };
}

const at = (...positionsMm: number[]) => positionsMm.map((position, i) => capture(`c${i}`, position));
const stretches = (captures: SeriesCapture[]) =>
  placesAcross(captures, 'position').placed.map(({ capture: { captureId }, from, to }) => [captureId, from, to]);

describe('acrossChoices', () => {
  it.each<[string, SeriesCapture[], string[]]>([
    ['nothing', [], ['order']],
    ['one capture with its position', at(3), ['order']],
    ['positions', at(1, 2), ['position', 'order']],
    ['one position for all', at(2, 2, 2), ['order']],
    ['a position is missing', [capture('a', 1), capture('b', null)], ['order']],
    [
      'times and positions',
      [capture('a', 1, '2026-03-02T06:00Z'), capture('b', 2, '2026-03-02T07:00Z')],
      ['position', 'time', 'order'],
    ],
    ['a time that is none', [capture('a', null, 'early'), capture('b', null, '2026-03-02T07:00Z')], ['order']],
  ])('%s', (_, captures, choices) => {
    expect(acrossChoices(captures)).toEqual(choices);
  });
});

describe('placesAcross', () => {
  it.each<[string, SeriesCapture[], (string | number)[][]]>([
    ['nothing', [], []],
    ['one capture is one unit wide', at(3), [['c0', 2.5, 3.5]]],
    [
      'even positions meet half-way',
      at(0, 2, 4),
      [
        ['c0', -1, 1],
        ['c1', 1, 3],
        ['c2', 3, 5],
      ],
    ],
    [
      'in order of position, whatever the order given',
      at(4, 0, 2),
      [
        ['c1', -1, 1],
        ['c2', 1, 3],
        ['c0', 3, 5],
      ],
    ],
    [
      'a gap stays a gap: three quarters of the usual distance and no further',
      at(0, 1, 2, 9),
      [
        ['c0', -0.5, 0.5],
        ['c1', 0.5, 1.5],
        ['c2', 1.5, 2.75],
        ['c3', 8.25, 9.5],
      ],
    ],
    [
      'two at one place share it, in the order given',
      at(0, 2, 2, 4),
      [
        ['c0', -1, 1],
        ['c1', 1, 2],
        ['c2', 2, 3],
        ['c3', 3, 5],
      ],
    ],
  ])('%s', (_, captures, expected) => {
    expect(stretches(captures)).toEqual(expected);
  });

  it('in time, across offsets from UTC', () => {
    const captures = [capture('late', null, '2026-03-02T08:00Z'), capture('early', null, '2026-03-02T08:30+01:00')];
    const { placed } = placesAcross(captures, 'time');
    expect(placed.map((place) => place.capture.captureId)).toEqual(['early', 'late']);
    expect(placed[1]!.at - placed[0]!.at).toBe(1800);
  });

  it('in the order given, numbered from 1', () => {
    expect(placesAcross(at(5, 3, 4), 'order').placed.map((place) => [place.capture.captureId, place.at])).toEqual([
      ['c0', 1],
      ['c1', 2],
      ['c2', 3],
    ]);
  });
});

describe('nearestPlace', () => {
  const places = placesAcross(at(0, 1, 2, 9), 'position');
  it.each([
    ['before all', -50, 0],
    ['within the first', 0.2, 0],
    ['within the second', 1.4, 1],
    ['in the gap, nearer its left side', 4, 2],
    ['in the gap, nearer its right side', 7, 3],
    ['beyond all', 50, 3],
  ])('%s', (_, where, place) => {
    expect(nearestPlace(places, where)).toBe(place);
  });

  it('none among none', () => {
    expect(nearestPlace(placesAcross([], 'order'), 1)).toBeNull();
  });
});

describe('pictureColumns', () => {
  it('one column for each capture where they are wide enough, nothing under a gap', () => {
    const { captures, columnOf } = pictureColumns(placesAcross(at(0, 1, 4), 'position'), 16);
    expect(captures).toEqual([['c0'], ['c1'], ['c2']]);
    expect([...columnOf].join('')).toMatch(/^0+1+2+$/);
    const gapped = pictureColumns(placesAcross(at(0, 1, 2, 9), 'position'), 100);
    expect([...gapped.columnOf].filter((column) => column === -1).length).toBe(55);
  });

  it.each([10, 37, 333, 1000])('leaves out none of 5,000 captures on %i pixels', (width) => {
    const many = at(...Array.from({ length: 5000 }, (_, i) => i * 0.1));
    const { captures, columnOf } = pictureColumns(placesAcross(many, 'position'), width);
    expect(captures.length).toBe(width);
    expect(columnOf).toEqual(Int32Array.from({ length: width }, (_, x) => x));
    expect(new Set(captures.flat()).size).toBe(5000);
    expect(Math.max(...captures.map((shared) => shared.length))).toBeLessThanOrEqual(Math.ceil(5000 / width) + 1);
  });

  it('keeps a narrow capture beside wide ones', () => {
    const uneven = at(0, 0.001, 100, 200, 300);
    const { captures } = pictureColumns(placesAcross(uneven, 'position'), 50);
    expect(new Set(captures.flat())).toEqual(new Set(['c0', 'c1', 'c2', 'c3', 'c4']));
  });
});
