import { describe, expect, it } from 'vitest';
import {
  fitted,
  moved,
  pathThrough,
  pixelOf,
  pointAt,
  scaleBar,
  zoomed,
} from '../../../renderer/section/drawing-view.ts';

const area = { left: 60, top: 8, width: 600, height: 200 };
const whole = { from: { xMm: -30, yMm: -4 }, to: { xMm: 30, yMm: 20 } };
const metric = { units: 'metric', decimalMark: '.' } as const;

describe('a drawing to scale', () => {
  it('has one scale across and down, and holds all that is looked at', () => {
    const view = fitted(whole, area);
    expect(view.mmPerPx).toBeCloseTo(24 / 200, 9);
    const corner = pixelOf(whole.from, view, area);
    expect(corner.y).toBeCloseTo(area.top, 9);
    expect(corner.x).toBeGreaterThanOrEqual(area.left);
  });

  it('finds the point under a pixel again', () => {
    const view = fitted(whole, area);
    const { x, y } = pixelOf({ xMm: 7.5, yMm: 3 }, view, area);
    expect(pointAt(x, y, view, area).xMm).toBeCloseTo(7.5, 9);
    expect(pointAt(x, y, view, area).yMm).toBeCloseTo(3, 9);
  });

  it('zooms about a point that stays where it is', () => {
    const view = fitted(whole, area);
    const about = { xMm: 5, yMm: 10 };
    const larger = zoomed(view, about, 0.5, whole, area);
    expect(larger.mmPerPx).toBeCloseTo(view.mmPerPx / 2, 9);
    expect(pixelOf(about, larger, area).x).toBeCloseTo(pixelOf(about, view, area).x, 6);
  });

  it('cannot be moved out of sight', () => {
    expect(moved(fitted(whole, area), 1e6, -1e6, whole).middle).toEqual({ xMm: 30, yMm: -4 });
  });

  it.each([
    ['metric', 0.1, metric, '10 mm', 100],
    ['close by', 0.004, metric, '0.2 mm', 50],
    ['inch', 0.5, { units: 'inch', decimalMark: ',' } as const, '2 in', 101.6],
  ])('has a round scale bar, %s', (_, mmPerPx, style, words, px) => {
    const bar = scaleBar(mmPerPx, 110, style);
    expect(bar.words).toBe(words);
    expect(bar.px).toBeCloseTo(px, 6);
  });

  it('closes an outline, and leaves a line open', () => {
    const points = [
      { xMm: 0, yMm: 0 },
      { xMm: 10, yMm: 0 },
    ];
    expect(pathThrough(points, fitted(whole, area), area, true)).toMatch(/^M.*L.*Z$/);
    expect(pathThrough(points, fitted(whole, area), area, false)).not.toContain('Z');
    expect(pathThrough([], fitted(whole, area), area, true)).toBe('');
  });
});
