import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { IndicationDecision } from '../../core/review/scan-decision.ts';
import { type Extent, merge, mergeIndications, split, splitIndication } from '../../core/scan/extent.ts';

const order = Array.from({ length: 40 }, (_, i) => `c${i}`);
const positionOf = (captureId: string) => 5 * Number(captureId.slice(1));
const extents = fc
  .tuple(
    fc.subarray(order, { minLength: 1 }),
    fc.double({ min: 0, max: 100, noNaN: true }),
    fc.double({ min: 0.1, max: 50, noNaN: true }),
  )
  .map(([captures, fromMm, widthMm]): Extent => ({ captures, fromMm, toMm: fromMm + widthMm }));

describe('merge and split', () => {
  it('what is split along the scan is merged to what it was', () => {
    fc.assert(
      fc.property(extents, fc.integer({ min: -10, max: 210 }), (extent, positionMm) => {
        const parts = split(extent, { positionMm }, positionOf);
        if (parts === null) return;
        expect(merge(parts[0], parts[1], order)).toEqual(extent);
        expect(merge(parts[1], parts[0], order)).toEqual(extent);
      }),
    );
  });

  it('what is split at a path is merged to what it was', () => {
    fc.assert(
      fc.property(extents, fc.double({ min: 0, max: 1, noNaN: true }), (extent, part) => {
        const parts = split(extent, { pathMm: extent.fromMm + part * (extent.toMm - extent.fromMm) }, positionOf);
        if (parts !== null) expect(merge(parts[0], parts[1], order)).toEqual(extent);
      }),
    );
  });

  it('two that lie apart along the scan, with one window, are split to what they were', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 37 }), fc.integer({ min: 0, max: 37 }), (cut, gap) => {
        const a = { captures: order.slice(0, cut + 1), fromMm: 20, toMm: 30 };
        const b = { captures: order.slice(Math.min(39, cut + 1 + gap)), fromMm: 20, toMm: 30 };
        const whole = merge(a, b, order);
        expect(split(whole, { positionMm: positionOf(order[cut]) }, positionOf)).toEqual([a, b]);
      }),
    );
  });

  it('merging is the same in any order, and with itself changes nothing', () => {
    fc.assert(
      fc.property(extents, extents, extents, (a, b, c) => {
        expect(merge(a, b, order)).toEqual(merge(b, a, order));
        expect(merge(merge(a, b, order), c, order)).toEqual(merge(a, merge(b, c, order), order));
        expect(merge(a, a, order)).toEqual(a);
      }),
    );
  });

  it('a split that leaves one part empty is none', () => {
    const extent = { captures: ['c2', 'c3'], fromMm: 20, toMm: 30 };
    for (const at of [{ positionMm: 9 }, { positionMm: 15 }, { pathMm: 20 }, { pathMm: 30 }, { pathMm: 45 }])
      expect(split(extent, at, positionOf)).toBeNull();
  });
});

describe('indications with names and notes', () => {
  const pore: IndicationDecision = {
    name: 'pores',
    captures: ['c1', 'c2'],
    fromMm: 20,
    toMm: 22,
    taken: 'reflector',
    notes: 'one',
  };
  it('merged: the first one’s name, both notes, what was decided where they agree', () => {
    const other: IndicationDecision = { ...pore, name: 'more', captures: ['c4'], toMm: 25, notes: 'two' };
    expect(mergeIndications(pore, other, order)).toEqual({
      name: 'pores',
      captures: ['c1', 'c2', 'c4'],
      fromMm: 20,
      toMm: 25,
      taken: 'reflector',
      notes: 'one\ntwo',
    });
    expect(mergeIndications(pore, { ...other, taken: 'geometry' }, order).taken).toBeNull();
  });
  it('split: the second gets a name of its own', () => {
    expect(splitIndication(pore, { positionMm: 5 }, positionOf, 'rest')).toEqual([
      { ...pore, captures: ['c1'] },
      { ...pore, name: 'rest', captures: ['c2'], notes: '' },
    ]);
  });
});
