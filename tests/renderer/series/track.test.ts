import { describe, expect, it } from 'vitest';
import type { Flag } from '../../../core/flag.ts';
import { judgeSeries } from '../../../core/gate/off-peak.ts';
import { curveLayout, nearestPoint, parabolaLine } from '../../../renderer/series/curve-layout.ts';
import { linePath, markPath } from '../../../renderer/series/marks.ts';
import { placesAcross } from '../../../renderer/series/places.ts';
import { placeAfterKey } from '../../../renderer/series/select-by-key.ts';
import { standingOf, thinned, trackOf } from '../../../renderer/series/track.ts';
import { reading, seriesOfReadings } from '../../build/series.ts';

describe('standingOf: what makes a height worthless comes first', () => {
  it.each<[Flag[], string]>([
    [[], 'at-peak'],
    [['low-signal-to-noise', 'walking'], 'at-peak'],
    [['off-peak'], 'off-peak'],
    [['off-peak', 'saturated'], 'cut-off'],
    [['cut-by-gate'], 'cut-off'],
    [['saturated', 'no-echo'], 'no-echo'],
  ])('%j: %s', (flags, standing) => {
    expect(standingOf(flags)).toBe(standing);
  });
});

describe('trackOf', () => {
  /** `.` still, `w` walking, `0` no echo, at 0, 1, 2 … mm. */
  function track(row: string, positionsMm = [...row].map((_, i) => i)) {
    const captures = positionsMm.map((positionMm, i) => ({
      captureId: `c${i}`,
      name: '',
      positionMm,
      takenAt: null,
      gainDb: null,
    }));
    const readings = [...row].map((kind, i) =>
      reading({
        captureId: `c${i}`,
        ...(kind === '0' ? { timeUs: null } : {}),
        flags: kind === 'w' ? ['walking'] : kind === '0' ? ['no-echo'] : [],
      }),
    );
    const byCapture = new Map(readings.map((r) => [r.captureId, r]));
    return trackOf(placesAcross(captures, 'position'), byCapture).map(
      ({ walking, points }) => `${walking ? '~' : '-'}${points.map(({ at }) => at).join(' ')}`,
    );
  }

  it.each<[string, string, string[]]>([
    ['nothing', '', []],
    ['one reading', '.', ['-0']],
    ['no echo anywhere', '000', []],
    ['a plain line', '....', ['-0 1 2 3']],
    ['all walk', 'wwww', ['~0 1 2 3']],
    ['still between two that walk', 'ww.ww', ['~0 1', '-1 2 3', '~3 4']],
    ['broken where there is no echo', 'ww0..', ['~0 1', '-3 4']],
    ['alone between breaks', '.0w0.', ['-0', '-2', '-4']],
  ])('%s', (_, row, stretches) => {
    expect(track(row)).toEqual(stretches);
  });

  it('breaks where the scan has a gap', () => {
    expect(track('.....', [0, 1, 2, 9, 10])).toEqual(['-0 1 2', '-9 10']);
  });

  it('leaves out captures that were not read', () => {
    const captures = [{ captureId: 'a', name: '', positionMm: 1, takenAt: null, gainDb: null }];
    expect(trackOf(placesAcross(captures, 'position'), new Map())).toEqual([]);
  });
});

describe('a line with many points to a pixel', () => {
  const columnOf = (at: number) => Math.floor(at / 100);
  const points = Array.from({ length: 10_000 }, (_, i) => ({
    at: i,
    timeUs: Math.sin(i / 700) + (i === 4321 ? 5 : 0) - (i === 7777 ? 3 : 0),
  }));

  it('keeps each column’s ends and extremes, a single odd one among ten thousand too', () => {
    const kept = thinned(points, columnOf);
    expect(kept.length).toBeLessThanOrEqual(400);
    for (let column = 0; column < 100; column++) {
      const own = points.slice(100 * column, 100 * (column + 1)).map(({ timeUs }) => timeUs);
      const left = kept.filter(({ at }) => columnOf(at) === column).map(({ timeUs }) => timeUs);
      expect([left[0], left.at(-1), Math.min(...left), Math.max(...left)]).toEqual([
        own[0],
        own.at(-1),
        Math.min(...own),
        Math.max(...own),
      ]);
    }
    expect(kept.map(({ at }) => at)).toEqual(kept.map(({ at }) => at).sort((a, b) => a - b));
  });

  it.each([
    ['nothing', 0],
    ['one point', 1],
    ['a few, each in a column of its own', 5],
  ])('leaves as it is: %s', (_, count) => {
    const few = points.slice(0, count).map((point) => ({ ...point, at: 100 * point.at }));
    expect(thinned(few, columnOf)).toEqual(few);
  });
});

describe('the curve of height against position', () => {
  const positionsMm = Array.from({ length: 9 }, (_, i) => 2 * i);
  const judged = judgeSeries(seriesOfReadings({ positionsMm, holeAtMm: 8, depthMm: 60 }), { offPeakDb: 1 });
  const curve = judged.curve!;
  const flags = new Map(judged.members.map((member) => [member.captureId, member.flags]));
  const layout = curveLayout(curve, flags);

  it('stands in order of position between round levels, with room at both ends', () => {
    expect(layout.points.map(({ at }) => at)).toEqual(positionsMm);
    expect([layout.from, layout.to]).toEqual([-0.64, 16.64]);
    expect(layout.highDb % 5 === 0 && layout.highDb >= curve.peakDb + 4).toBe(true);
    const lowest = Math.min(...layout.points.map(({ levelDb }) => levelDb!));
    expect(layout.lowDb % 5 === 0 && layout.lowDb <= lowest - 3).toBe(true);
  });

  it('shows as off the peak exactly those whose level lies below the band', () => {
    for (const { levelDb, standing } of layout.points)
      expect(standing).toBe(levelDb! < curve.limitDb ? 'off-peak' : 'at-peak');
    expect(new Set(layout.points.map(({ standing }) => standing)).size).toBe(2);
  });

  it('draws the parabola through its vertex, over the run that it was fitted to', () => {
    const line = parabolaLine(curve);
    expect([line[0]!.at, line.at(-1)!.at]).toEqual([curve.parabola!.fromMm, curve.parabola!.toMm]);
    expect(Math.max(...line.map(({ levelDb }) => levelDb))).toBeCloseTo(curve.peakDb, 3);
    expect(parabolaLine({ ...curve, parabola: null })).toEqual([]);
  });

  it('numbers the captures where no positions are known', () => {
    const unplaced = { ...curve, heights: curve.heights.map((height) => ({ ...height, positionMm: null })) };
    expect(curveLayout(unplaced, flags).points.map(({ at }) => at)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9]);
  });

  it('one capture without an echo: a standing, no level, and an axis all the same', () => {
    const heights = [{ captureId: 'c', positionMm: 4, levelDb: null, isLowerBound: false }];
    const alone = curveLayout({ ...curve, heights }, new Map());
    expect(alone.points).toEqual([{ captureId: 'c', at: 4, levelDb: null, standing: 'no-echo' }]);
    expect([alone.from, alone.to, alone.highDb - alone.lowDb >= 15]).toEqual([3, 5, true]);
  });

  it.each<[string, number, number, number]>([
    ['by place', 4.9, -3, 2],
    ['before all', -10, 0, 0],
    ['beyond all', 99, 0, 8],
  ])('the nearest point: %s', (_, at, levelDb, place) => {
    expect(nearestPoint(layout.points, at, levelDb)).toBe(place);
  });

  it('of two at one place the one whose level is nearer; none of none', () => {
    const twice = [
      { captureId: 'low', at: 1, levelDb: -20, standing: 'off-peak' as const },
      { captureId: 'high', at: 1, levelDb: -2, standing: 'at-peak' as const },
    ];
    expect([nearestPoint(twice, 1, -4), nearestPoint(twice, 1, -18), nearestPoint([], 0, 0)]).toEqual([1, 0, null]);
  });
});

describe('marks', () => {
  it('each standing has an outline of its own', () => {
    const all = (['at-peak', 'off-peak', 'cut-off', 'no-echo'] as const).map((standing) =>
      markPath([{ x: 10, y: 10, standing }], standing),
    );
    expect(new Set(all).size).toBe(4);
    for (const outline of all) expect(outline).toMatch(/^M[\d.]+ [\d.]+/);
  });

  it('a path holds all marks of its standing and no others', () => {
    const marks = [1, 2, 3].map((x) => ({ x, y: 0, standing: x === 2 ? ('no-echo' as const) : ('at-peak' as const) }));
    expect(markPath(marks, 'at-peak').match(/Z/g)).toHaveLength(2);
    expect(markPath(marks, 'off-peak')).toBe('');
  });

  it('a line goes from point to point', () => {
    expect(
      linePath([
        { x: 0, y: 1 },
        { x: 2.25, y: 3 },
      ]),
    ).toBe('M0.0 1.0L2.3 3.0');
    expect(linePath([])).toBe('');
  });
});

describe('placeAfterKey', () => {
  const keys = { back: 'ArrowLeft', on: 'ArrowRight', page: 5 };
  it.each<[string, number | null, number | null]>([
    ['ArrowRight', 3, 4],
    ['ArrowRight', 11, 11],
    ['ArrowRight', null, 0],
    ['ArrowLeft', 3, 2],
    ['ArrowLeft', 0, 0],
    ['ArrowLeft', null, 11],
    ['PageDown', 3, 8],
    ['PageDown', 9, 11],
    ['PageUp', 3, 0],
    ['Home', 7, 0],
    ['End', 7, 11],
    ['Enter', 7, null],
  ])('%s from %s of 12: %s', (key, place, next) => {
    expect(placeAfterKey(key, place, 12, keys)).toBe(next);
  });

  it('of nothing there is no next', () => {
    expect(placeAfterKey('Home', null, 0, keys)).toBeNull();
  });
});
