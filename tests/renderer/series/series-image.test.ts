import { describe, expect, it } from 'vitest';
import { pictureColumns, placesAcross } from '../../../renderer/series/places.ts';
import { cellAt, columnsUnder, type SeriesImage } from '../../../renderer/series/series-image.ts';

/** Captures at 0, 1, 2 … mm. */
const placesOf = (count: number) =>
  placesAcross(
    Array.from({ length: count }, (_, i) => ({
      captureId: `c${i}`,
      name: `c${i}`,
      positionMm: i,
      takenAt: null,
      gainDb: null,
    })),
    'position',
  );

/** An image as it was asked for at a width: in each cell the highest place of the captures that share it. */
function imageAt(count: number, widthPx: number): SeriesImage {
  const places = placesOf(count);
  const columns = pictureColumns(places, widthPx);
  const percent = columns.captures.map((ids) => Math.max(...ids.map((id) => Number(id.slice(1)))));
  return {
    asked: { ...columns, places, rows: 1 },
    fromUs: 0,
    toUs: 1,
    cells: { columns: percent.length, rows: 1, percent },
  };
}

describe('while the picture is made anew for another width', () => {
  it.each([
    ['narrower', 1000, 80, 50],
    ['wider', 1000, 80, 120],
    ['narrower, a column for each before', 100, 150, 60],
    ['wider, a column for each from now on', 100, 60, 150],
    ['wider, a column for each all along', 40, 60, 150],
    ['as many pixels as captures', 60, 60, 61],
  ])('each capture still stands in its place: %s', (_, count, before, now) => {
    const image = imageAt(count, before);
    const under = columnsUnder(image, pictureColumns(placesOf(count), now));
    for (const share of [0.03, 0.25, 0.5, 0.75, 0.97]) {
      const shown = cellAt(image, under[Math.floor(share * under.length)]!, 0.5)!;
      // Within a column of either width.
      expect(Math.abs(shown - (share * count - 0.5))).toBeLessThanOrEqual(2 + (2 * count) / Math.min(before, now));
    }
  });
});
