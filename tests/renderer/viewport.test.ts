import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { limitsOf, pan, pixelOf, timeAt, type Viewport, wholeOf, zoomAbout } from '../../renderer/trace/viewport.ts';
import { viewportCommands } from '../../renderer/trace/viewport-commands.ts';

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
    ['Whole record', { fromUs: 40, toUs: 60 }, { fromUs: 0, toUs: 100 }],
  ])('%s', (label, view, expected) => {
    const moved = viewportCommands.find((command) => command.label === label)!.run(view, limits);
    expect(moved.fromUs).toBeCloseTo(expected.fromUs, 9);
    expect(moved.toUs).toBeCloseTo(expected.toUs, 9);
  });
});
