import { describe, expect, it } from 'vitest';
import { paintedDepth } from '../../../renderer/section/depth-shades.ts';
import { rampBytes } from '../../../renderer/series/colour-map.ts';

/** One row of cells: a height each, and the leg it was met on (0: not measured). */
function rowOf(cells: readonly (readonly [percent: number, leg: number])[]) {
  return {
    grid: { across: { fromMm: 0, cellMm: 1, count: cells.length }, depth: { fromMm: 0, cellMm: 1, count: 1 } },
    percent: Float32Array.from(cells, ([percent]) => percent),
    leg: Uint8Array.from(cells, ([, leg]) => leg),
    capture: new Int32Array(cells.length),
    sample: new Int32Array(cells.length),
  };
}

const pixelsOf = (painted: Uint8ClampedArray) =>
  Array.from({ length: painted.length / 4 }, (_, i) => [...painted.subarray(4 * i, 4 * i + 4)]);
const shade = (tone: 'cold' | 'warm', index: number) => [
  ...rampBytes('light', tone).subarray(3 * index, 3 * index + 3),
];

describe('a picture by true depth as pixels', () => {
  it('what was not measured stays transparent, and nothing measured is not nothing', () => {
    const [gap, silence] = pixelsOf(
      paintedDepth(
        rowOf([
          [Number.NaN, 0],
          [0, 1],
        ]),
        2,
        1,
        'percent',
        'light',
      ),
    );
    expect(gap![3]).toBe(0);
    expect(silence).toEqual([...shade('cold', 0), 255]);
  });

  it('odd legs are cold, even ones warm, equally far up their ramps', () => {
    const painted = pixelsOf(
      paintedDepth(
        rowOf([
          [9, 9],
          [100, 1],
          [100, 2],
          [100, 3],
          [100, 4],
        ]),
        5,
        1,
        'percent',
        'light',
      ),
    );
    expect(painted.slice(1).map((pixel) => pixel.slice(0, 3))).toEqual([
      shade('cold', 255),
      shade('warm', 255),
      shade('cold', 255),
      shade('warm', 255),
    ]);
  });

  it('even legs have a hatch too, so that they are told apart without their colour; odd ones have none', () => {
    const of = (leg: number) =>
      new Set(pixelsOf(paintedDepth(rowOf([[80, leg]]), 10, 1, 'percent', 'light')).map((pixel) => pixel.join()));
    expect(of(1).size).toBe(1);
    expect(of(2).size).toBe(2);
  });

  it('in dB 1 % of full screen is as pale as nothing', () => {
    const [one, nothing] = pixelsOf(
      paintedDepth(
        rowOf([
          [1, 1],
          [0, 1],
        ]),
        2,
        1,
        'decibel',
        'light',
      ),
    );
    expect(one).toEqual(nothing);
  });
});
