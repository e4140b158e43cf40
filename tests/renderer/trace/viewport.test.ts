import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  limitsOf,
  limitsOfAll,
  pan,
  pinched,
  pixelOf,
  timeAt,
  type Viewport,
  wholeOf,
  windowBetween,
  windowToSee,
  zoomAbout,
} from '../../../renderer/trace/viewport.ts';
import { viewportCommands } from '../../../renderer/trace/viewport-commands.ts';

const limits = { fromUs: 0, toUs: 100, shortestUs: 1 };

describe('limitsOf', () => {
  it.each([
    ['a record of one sample is one step wide', 1, { fromUs: 5, toUs: 5.1, shortestUs: 0.1 }],
    ['a short record cannot be zoomed', 3, { fromUs: 5, toUs: 5.2, shortestUs: 0.2 }],
    ['a long record down to eight steps', 1001, { fromUs: 5, toUs: 105, shortestUs: 0.8 }],
  ])('%s', (_name, sampleCount, expected) => {
    const found = limitsOf({ startUs: 5, stepUs: 0.1, sampleCount });
    for (const key of ['fromUs', 'toUs', 'shortestUs'] as const) expect(found[key]).toBeCloseTo(expected[key], 12);
  });
});

describe('zoomAbout', () => {
  it.each([
    ['into the middle', { fromUs: 0, toUs: 100 }, 50, 0.5, { fromUs: 25, toUs: 75 }],
    ['the anchor keeps its place', { fromUs: 20, toUs: 60 }, 30, 0.5, { fromUs: 25, toUs: 45 }],
    ['out again', { fromUs: 25, toUs: 45 }, 30, 2, { fromUs: 20, toUs: 60 }],
    ['out beyond the record shows all of it', { fromUs: 10, toUs: 90 }, 50, 10, { fromUs: 0, toUs: 100 }],
    ['out at the end stays inside', { fromUs: 90, toUs: 100 }, 95, 2, { fromUs: 80, toUs: 100 }],
    ['in no further than the shortest', { fromUs: 50, toUs: 52 }, 51, 0.01, { fromUs: 50.5, toUs: 51.5 }],
  ])('%s', (_name, view, anchorUs, factor, expected) => {
    expect(zoomAbout(view, anchorUs, factor, limits)).toEqual(expected);
  });
});

describe('pan', () => {
  it.each([
    ['later', { fromUs: 20, toUs: 40 }, 5, { fromUs: 25, toUs: 45 }],
    ['earlier, as far as the start', { fromUs: 20, toUs: 40 }, -50, { fromUs: 0, toUs: 20 }],
    ['later, as far as the end', { fromUs: 20, toUs: 40 }, 500, { fromUs: 80, toUs: 100 }],
    ['nowhere when all is shown', { fromUs: 0, toUs: 100 }, 30, { fromUs: 0, toUs: 100 }],
  ])('%s', (_name, view, byUs, expected) => {
    expect(pan(view, byUs, limits)).toEqual(expected);
  });
});

describe('limitsOfAll', () => {
  it('from the earliest start to the latest end, by the finest step', () => {
    expect(
      limitsOfAll([
        { startUs: 0, stepUs: 0.1, sampleCount: 1001 },
        { startUs: 50, stepUs: 0.05, sampleCount: 2001 },
      ]),
    ).toEqual({ fromUs: 0, toUs: 150, shortestUs: 0.4 });
  });
});

describe('windowBetween', () => {
  it.each([
    ['two times', 20, 30, { fromUs: 20, toUs: 30 }],
    ['drawn backwards', 30, 20, { fromUs: 20, toUs: 30 }],
    ['too narrow: the shortest, about its middle', 20, 20.2, { fromUs: 19.6, toUs: 20.6 }],
    ['beyond the record: as much as there is', -50, 170, { fromUs: 0, toUs: 100 }],
    ['over the start: moved inside', -10, 10, { fromUs: 0, toUs: 20 }],
  ])('%s', (_name, a, b, expected) => {
    const found = windowBetween(a, b, limits);
    expect(found.fromUs).toBeCloseTo(expected.fromUs, 9);
    expect(found.toUs).toBeCloseTo(expected.toUs, 9);
  });
});

describe('pinched', () => {
  it.each([
    ['fingers stay: nothing changes', [30, 50], [300, 500], { fromUs: 0, toUs: 100 }],
    ['fingers twice as far apart: half of it, about what is held', [30, 50], [200, 600], { fromUs: 20, toUs: 70 }],
    ['both move on together: the trace comes along', [30, 40], [250, 450], { fromUs: 17.5, toUs: 67.5 }],
    ['fingers on one place: all of it', [30, 50], [400, 400], { fromUs: 0, toUs: 100 }],
  ] as const)('%s', (_name, times, places, expected) => {
    const found = pinched(times, places, 1000, limits);
    expect(found.fromUs).toBeCloseTo(expected.fromUs, 9);
    expect(found.toUs).toBeCloseTo(expected.toUs, 9);
  });

  it('what was held lies under the fingers, where neither limit is met', () => {
    const found = pinched([41, 47], [310, 720], 1000, limits);
    expect(pixelOf(found, 41, 1000)).toBeCloseTo(310, 9);
    expect(pixelOf(found, 47, 1000)).toBeCloseTo(720, 9);
  });
});

describe('windowToSee', () => {
  const view = { fromUs: 40, toUs: 60 };
  it.each([
    ['well inside and wide enough: nothing moves', { fromUs: 45, toUs: 47 }, view],
    ['beside it: moved there, as long as before', { fromUs: 71, toUs: 73 }, { fromUs: 62, toUs: 82 }],
    ['half outside: moved to its middle', { fromUs: 59, toUs: 61 }, { fromUs: 50, toUs: 70 }],
    ['too short to be seen: zoomed to four times its length', { fromUs: 50, toUs: 50.4 }, { fromUs: 49.4, toUs: 51 }],
    ['one sample: as close as the record allows', { fromUs: 50, toUs: 50 }, { fromUs: 49.5, toUs: 50.5 }],
    ['too long for it: zoomed out', { fromUs: 20, toUs: 42 }, { fromUs: 0, toUs: 88 }],
  ])('%s', (_name, stretch, expected) => {
    const found = windowToSee(view, stretch, limits);
    expect(found.fromUs).toBeCloseTo(expected.fromUs, 9);
    expect(found.toUs).toBeCloseTo(expected.toUs, 9);
  });

  it('whatever is to be seen within the record is inside the window, and not overlooked', () => {
    const time = fc.double({ min: 0, max: 100, noNaN: true });
    fc.assert(
      fc.property(time, time, time, time, (a, b, c, d) => {
        const seen = windowBetween(a, b, limits);
        const stretch = { fromUs: Math.min(c, d), toUs: Math.max(c, d) };
        const found = windowToSee(seen, stretch, limits);
        expect(found.fromUs).toBeLessThanOrEqual(stretch.fromUs + 1e-9);
        expect(found.toUs).toBeGreaterThanOrEqual(stretch.toUs - 1e-9);
        if (stretch.toUs - stretch.fromUs >= limits.shortestUs)
          expect((stretch.toUs - stretch.fromUs) / (found.toUs - found.fromUs)).toBeGreaterThan(0.02);
      }),
    );
  });
});

describe('any sequence of moves', () => {
  const moves = fc.array(
    fc.oneof(
      fc.record({
        kind: fc.constant('zoom' as const),
        share: fc.double({ min: 0, max: 1, noNaN: true }),
        factor: fc.double({ min: 0.1, max: 10, noNaN: true }),
      }),
      fc.record({ kind: fc.constant('pan' as const), byUs: fc.double({ min: -200, max: 200, noNaN: true }) }),
      fc.record({
        kind: fc.constant('command' as const),
        which: fc.integer({ min: 0, max: viewportCommands.length - 1 }),
      }),
    ),
    { maxLength: 30 },
  );

  it('stays in the record, in order, and no shorter than the shortest', () => {
    fc.assert(
      fc.property(moves, (all) => {
        let view: Viewport = wholeOf(limits);
        for (const move of all) {
          if (move.kind === 'zoom')
            view = zoomAbout(view, view.fromUs + move.share * (view.toUs - view.fromUs), move.factor, limits);
          else if (move.kind === 'pan') view = pan(view, move.byUs, limits);
          else view = viewportCommands[move.which]!.run(view, limits);
          expect(view.fromUs).toBeGreaterThanOrEqual(limits.fromUs);
          expect(view.toUs).toBeLessThanOrEqual(limits.toUs);
          expect(view.toUs - view.fromUs).toBeGreaterThan(limits.shortestUs * (1 - 1e-9));
        }
      }),
    );
  });

  it('zooming about a time leaves its pixel where it was, as long as the record’s ends are not met', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 45, max: 55, noNaN: true }),
        fc.double({ min: 0.1, max: 1.5, noNaN: true }),
        (anchorUs, factor) => {
          const view = { fromUs: 40, toUs: 60 };
          const zoomed = zoomAbout(view, anchorUs, factor, limits);
          expect(pixelOf(zoomed, anchorUs, 800)).toBeCloseTo(pixelOf(view, anchorUs, 800), 6);
        },
      ),
    );
  });
});

describe('pixelOf and timeAt', () => {
  it.each([
    [0, 40],
    [200, 45],
    [800, 60],
  ])('pixel %d is %d µs, both ways', (pixel, timeUs) => {
    expect(timeAt({ fromUs: 40, toUs: 60 }, pixel, 800)).toBe(timeUs);
    expect(pixelOf({ fromUs: 40, toUs: 60 }, timeUs, 800)).toBe(pixel);
  });
});

describe('viewportCommands', () => {
  it('no two share a key', () => {
    const keys = viewportCommands.flatMap((command) => command.keys);
    expect(new Set(keys).size).toBe(keys.length);
  });

  it.each([
    ['Zoom in', { fromUs: 40, toUs: 70 }, { fromUs: 45, toUs: 65 }],
    ['Zoom out', { fromUs: 45, toUs: 65 }, { fromUs: 40, toUs: 70 }],
    ['Earlier', { fromUs: 40, toUs: 60 }, { fromUs: 36, toUs: 56 }],
    ['Later', { fromUs: 40, toUs: 60 }, { fromUs: 44, toUs: 64 }],
    ['Start of the record', { fromUs: 40, toUs: 60 }, { fromUs: 0, toUs: 20 }],
    ['End of the record', { fromUs: 40, toUs: 60 }, { fromUs: 80, toUs: 100 }],
    ['All of the record', { fromUs: 40, toUs: 60 }, { fromUs: 0, toUs: 100 }],
  ])('%s', (label, view, expected) => {
    const moved = viewportCommands.find((command) => command.label === label)!.run(view, limits);
    expect(moved.fromUs).toBeCloseTo(expected.fromUs, 9);
    expect(moved.toUs).toBeCloseTo(expected.toUs, 9);
  });
});
