import { describe, expect, it } from 'vitest';
import { downOf, movedAlong, type PlanItem, wholeAlong, zoomedAlong } from '../../../renderer/section/plan-layout.ts';

const item = (id: string, span: readonly [number, number], acrossMm: number | null): PlanItem => ({
  id,
  name: id,
  sign: 'indication',
  ends: null,
  span,
  peakMm: null,
  acrossMm,
  words: id,
});

describe('the plan along the weld', () => {
  it('is nothing where nothing was scanned', () => {
    expect(wholeAlong([], [])).toBeNull();
  });

  it('covers the scan and what goes on beyond it', () => {
    const { fromMm, toMm } = wholeAlong([0, 200], [item('long', [-10, 205], 0)])!;
    expect(fromMm).toBeLessThan(-10);
    expect(toMm).toBeGreaterThan(205);
  });

  it('stands by the places across where all are known', () => {
    const down = downOf([item('a', [0, 5], -6), item('b', [0, 5], 9)], [-11, 11]);
    expect(down.kind).toBe('across');
  });

  it('else in lanes that keep overlapping ones apart, and no more of them', () => {
    const down = downOf([item('a', [0, 50], null), item('b', [20, 30], 1), item('c', [60, 70], null)], null);
    if (down.kind !== 'lanes') throw new Error('not in lanes');
    expect(down.count).toBe(2);
    expect(down.laneOf.get('a')).not.toBe(down.laneOf.get('b'));
    expect(down.laneOf.get('c')).toBe(0);
  });

  it('is zoomed and moved within the whole', () => {
    const whole = { fromMm: 0, toMm: 100 };
    expect(zoomedAlong(whole, 20, 0.5, whole)).toEqual({ fromMm: 10, toMm: 60 });
    expect(movedAlong({ fromMm: 10, toMm: 60 }, 500, whole)).toEqual({ fromMm: 50, toMm: 100 });
    expect(zoomedAlong({ fromMm: 50, toMm: 100 }, 75, 10, whole)).toEqual(whole);
  });
});
