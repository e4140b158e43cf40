import { describe, expect, it } from 'vitest';
import { type Cell, connectedRegions } from '../../../core/scan/regions.ts';
import { type PlacedCapture, scanLines } from '../../../core/scan/scan-lines.ts';

const at = (positionMm: number, acrossMm: number | null = null) => `${positionMm}/${acrossMm ?? '-'}`;
function linesOf(positions: readonly number[], across: readonly (number | null)[] = [null]) {
  const captures = across.flatMap((acrossMm) =>
    positions.map(
      (positionMm): PlacedCapture => ({
        captureId: at(positionMm, acrossMm),
        file: `${acrossMm}.csv`,
        positionMm,
        acrossMm,
        takenAt: null,
        probe: null,
      }),
    ),
  );
  return scanLines(captures);
}
const echo = (positionMm: number, pathMm: number, heightDb = 30, acrossMm: number | null = null): Cell => ({
  captureId: at(positionMm, acrossMm),
  pathMm,
  fromMm: pathMm - 0.7,
  toMm: pathMm + 0.7,
  heightDb,
});
const positions = [0, 5, 10, 15, 20, 25];
const regionsOf = (cells: readonly Cell[], scan = linesOf(positions)) =>
  connectedRegions(cells, scan.lines, scan.stepMm);

describe('echoes of neighbouring positions whose paths overlap are one indication', () => {
  it.each([
    { name: 'no echoes', cells: [], found: [] },
    { name: 'a run of positions at one path', cells: [echo(5, 30), echo(10, 30.2), echo(15, 30)], found: [3] },
    { name: 'the same run, given out of order', cells: [echo(15, 30), echo(5, 30), echo(10, 30.2)], found: [3] },
    {
      name: 'a path that walks by less than an echo’s width',
      cells: [echo(5, 30), echo(10, 31.2), echo(15, 32.4)],
      found: [3],
    },
    { name: 'a path that jumps', cells: [echo(5, 30), echo(10, 33)], found: [1, 1] },
    { name: 'a position without an echo between', cells: [echo(5, 30), echo(15, 30)], found: [1, 1] },
    {
      name: 'two echoes of one capture, with a neighbour that overlaps both',
      cells: [echo(5, 30), echo(5, 32), echo(10, 31)],
      found: [2],
    },
    {
      name: 'an echo of a capture that stands on no line',
      cells: [{ ...echo(5, 30), captureId: 'elsewhere' }],
      found: [],
    },
  ])('$name', ({ cells, found }) => {
    expect(regionsOf(cells).map(({ captures }) => captures.length)).toEqual(found);
  });

  it('positions with one left out between them are no neighbours', () => {
    const scan = linesOf([0, 5, 10, 30, 35]);
    expect(regionsOf([echo(10, 30), echo(30, 30)], scan)).toHaveLength(2);
  });

  it('across a raster, from line to line at the same position', () => {
    const scan = linesOf(positions, [20, 22]);
    expect(regionsOf([echo(5, 30, 30, 20), echo(5, 31.2, 33, 22)], scan)).toMatchObject([
      { captures: ['5/20', '5/22'], fromMm: 29.3, toMm: 31.9, name: 'at 5 mm and 22 mm across, path 31 mm' },
    ]);
    expect(regionsOf([echo(5, 30, 30, 20), echo(10, 30, 33, 22)], scan)).toHaveLength(2);
  });
});

describe('names', () => {
  it('tell where the highest echo stands, and stay when other regions come or the region grows', () => {
    const few = regionsOf([echo(10, 30, 40), echo(15, 30, 35)]);
    const more = regionsOf([echo(5, 30, 20), echo(10, 30, 40), echo(15, 30, 35), echo(0, 50, 30)]);
    expect(few.map(({ name }) => name)).toEqual(['at 10 mm, path 30 mm']);
    expect(more.map(({ name }) => name)).toEqual(['at 0 mm, path 50 mm', 'at 10 mm, path 30 mm']);
  });

  it('two that would be called alike get a number', () => {
    expect(regionsOf([echo(5, 29.6, 30), echo(5, 30.4, 30)]).map(({ name }) => name)).toEqual([
      'at 5 mm, path 30 mm',
      'at 5 mm, path 30 mm (2)',
    ]);
  });
});
