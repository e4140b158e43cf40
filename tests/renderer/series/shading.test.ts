import { describe, expect, it } from 'vitest';
import { rampBytes, shadeCount } from '../../../renderer/series/colour-map.ts';
import { cellAt, type SeriesImage } from '../../../renderer/series/series-image.ts';
import { floorDb, paintedPixels, shadeIndexes } from '../../../renderer/series/shading.ts';

const last = shadeCount - 1;
const shadeOf = (scale: 'percent' | 'decibel', percent: number) => shadeIndexes(scale)[Math.round(percent * 40)];

describe('shadeIndexes', () => {
  it.each([
    ['nothing', 0, 0],
    ['half the screen', 50, 128],
    ['a quarter', 25, 64],
    ['full screen', 100, last],
  ])('per cent: %s', (_, percent, shade) => {
    expect(shadeOf('percent', percent)).toBe(shade);
  });

  it.each([
    ['nothing', 0, 0],
    ['the floor, −40 dB', 1, 0],
    ['−20 dB is half-way', 10, 128],
    ['−6.02 dB', 50, Math.round(last * (1 - 6.0206 / -floorDb))],
    ['full screen', 100, last],
  ])('dB: %s', (_, percent, shade) => {
    expect(shadeOf('decibel', percent)).toBe(shade);
  });

  it.each(['percent', 'decibel'] as const)('never falls as the amplitude rises: %s', (scale) => {
    const indexes = shadeIndexes(scale);
    for (let i = 1; i < indexes.length; i++) expect(indexes[i]).toBeGreaterThanOrEqual(indexes[i - 1]!);
  });
});

describe('paintedPixels', () => {
  const ramp = rampBytes('light');
  const rgb = (shade: number) => [...ramp.subarray(3 * shade, 3 * shade + 3), 255];
  const cells = { columns: 2, rows: 2, percent: Float32Array.of(0, 100, Number.NaN, 250) };

  it('lays columns over pixels, first row on top; no sample and no column stay transparent, beyond the screen is the last shade', () => {
    const painted = paintedPixels(cells, Int32Array.of(0, 0, -1, 1), 'percent', ramp);
    const pixel = (x: number, row: number) => [...painted.subarray(4 * (row * 4 + x), 4 * (row * 4 + x) + 4)];
    expect([pixel(0, 0), pixel(1, 0), pixel(2, 0), pixel(3, 0)]).toEqual([rgb(0), rgb(0), [0, 0, 0, 0], [0, 0, 0, 0]]);
    expect([pixel(0, 1), pixel(1, 1), pixel(2, 1), pixel(3, 1)]).toEqual([
      rgb(last),
      rgb(last),
      [0, 0, 0, 0],
      rgb(last),
    ]);
  });

  it('has the shade of a negative height at nothing', () => {
    const painted = paintedPixels({ columns: 1, rows: 1, percent: [-30] }, Int32Array.of(0), 'decibel', ramp);
    expect([...painted]).toEqual(rgb(0));
  });
});

describe('cellAt', () => {
  const image = {
    fromUs: 10,
    toUs: 20,
    cells: { columns: 2, rows: 5, percent: Float32Array.of(0, 1, 2, 3, 4, 5, 6, 7, 8, Number.NaN) },
  } as unknown as SeriesImage;

  it.each<[string, number, number, number | null]>([
    ['the first cell', 0, 10, 0],
    ['the end of the first cell', 0, 11.99, 0],
    ['the second column', 1, 15, 7],
    ['no sample', 1, 19, null],
    ['before the image', 0, 9.9, null],
    ['after it', 0, 20, null],
    ['no column', -1, 15, null],
    ['beyond the columns', 2, 15, null],
  ])('%s', (_, column, timeUs, percent) => {
    expect(cellAt(image, column, timeUs)).toBe(percent);
  });
});
