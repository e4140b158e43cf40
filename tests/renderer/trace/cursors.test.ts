import { describe, expect, it } from 'vitest';
import { areSet, cursorsIn, cursorTime, noCursors, nudgedCursor, withCursor } from '../../../renderer/trace/cursors.ts';

const limits = { fromUs: 0, toUs: 100, shortestUs: 1 };
const view = { fromUs: 40, toUs: 70 };

describe('cursors', () => {
  it('are set in the middle of what is shown', () => {
    expect(areSet(noCursors)).toBe(false);
    const set = cursorsIn(view);
    expect(areSet(set)).toBe(true);
    expect([cursorTime(set, 'first'), cursorTime(set, 'second')]).toEqual([50, 60]);
  });
  it('stay on the record, each moved alone', () => {
    expect(withCursor(cursorsIn(view), 'first', -5, limits)).toEqual({ firstUs: 0, secondUs: 60 });
    expect(withCursor(cursorsIn(view), 'second', 120, limits)).toEqual({ firstUs: 50, secondUs: 100 });
  });
  it.each([
    ['Right: one sample', 'ArrowRight', false, 50.01],
    ['Left: one sample', 'ArrowLeft', false, 49.99],
    ['Right with Shift: a fiftieth of what is shown', 'ArrowRight', true, 50.6],
    ['another key', 'a', false, null],
  ])('%s', (_name, key, shiftKey, expected) => {
    expect(nudgedCursor(50, { key, shiftKey }, 0.01, view)).toBe(expected);
  });
});
