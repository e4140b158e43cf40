import { describe, expect, it } from 'vitest';
import { linesTouched, windowsBeside } from '../../../core/scan/across-lines.ts';
import type { ScanLine } from '../../../core/scan/scan-lines.ts';

const line = (acrossMm: number): ScanLine => ({
  acrossMm,
  stations: [0, 1].map((positionMm) => ({ captureId: `${acrossMm}/${positionMm}`, positionMm, acrossMm })),
});
const lines = [0, 2, 4, 6, 8].map(line);
const window = (fromMm: number, toMm: number) => ({ fromMm, toMm });

describe('lines of a raster', () => {
  it('those that hold captures of an indication', () => {
    expect(linesTouched(lines, ['2/0', '6/1'])).toEqual({ first: 1, last: 3, count: 2 });
    expect(linesTouched(lines, ['elsewhere'])).toBeNull();
  });

  it('beside it the windows go on as the path changes, half of the change wider', () => {
    const windows = new Map([
      [1, window(30, 32)],
      [2, window(32, 34)],
    ]);
    const beside = windowsBeside(lines, windows);
    expect([...beside.keys()]).toEqual([0, 3]);
    expect(beside.get(3)).toEqual(window(33, 37));
    expect(beside.get(0)).toEqual(window(27, 31));
  });

  it('between lines that show it too', () => {
    const windows = new Map([
      [1, window(30, 32)],
      [3, window(30, 32)],
    ]);
    expect(windowsBeside(lines, windows).get(2)).toEqual(window(30, 32));
  });

  it('from one line no way can be told, and a line far off is no neighbour', () => {
    expect(windowsBeside(lines, new Map([[2, window(30, 32)]])).size).toBe(0);
    const apart = [0, 2, 4, 30].map(line);
    const windows = new Map([
      [1, window(30, 32)],
      [2, window(30, 32)],
    ]);
    expect([...windowsBeside(apart, windows).keys()]).toEqual([0]);
  });
});
