import { describe, expect, it } from 'vitest';
import { draggedWindow, nudgedWindow, windowAbout, windowOnStrip } from '../../../renderer/trace/overview.ts';

const limits = { fromUs: 0, toUs: 100, shortestUs: 2 };
const view = { fromUs: 40, toUs: 60 };

describe('windowOnStrip', () => {
  it.each([
    ['a fifth of the record', view, { left: 200, width: 100 }],
    ['all of it', { fromUs: 0, toUs: 100 }, { left: 0, width: 500 }],
    [
      'too narrow to be seen: as wide as can be taken hold of, about its middle',
      { fromUs: 50, toUs: 50.01 },
      { left: 247.025, width: 6 },
    ],
    ['the same at the start: inside the strip', { fromUs: 0, toUs: 0.01 }, { left: 0, width: 6 }],
  ])('%s', (_name, shown, expected) => {
    const found = windowOnStrip(shown, limits, 500);
    expect(found.left).toBeCloseTo(expected.left, 9);
    expect(found.width).toBeCloseTo(expected.width, 9);
  });
});

describe('draggedWindow', () => {
  it.each([
    ['all of it', 'whole', 10, { fromUs: 50, toUs: 70 }],
    ['all of it, as far as the end', 'whole', 500, { fromUs: 80, toUs: 100 }],
    ['its start', 'from', -10, { fromUs: 30, toUs: 60 }],
    ['its start, as far as the record', 'from', -500, { fromUs: 0, toUs: 60 }],
    ['its start, not nearer to the end than allowed', 'from', 500, { fromUs: 58, toUs: 60 }],
    ['its end', 'to', 10, { fromUs: 40, toUs: 70 }],
    ['its end, as far as the record', 'to', 500, { fromUs: 40, toUs: 100 }],
    ['its end, not nearer to the start than allowed', 'to', -500, { fromUs: 40, toUs: 42 }],
  ] as const)('%s', (_name, part, byUs, expected) => {
    expect(draggedWindow(view, part, byUs, limits)).toEqual(expected);
  });
});

describe('windowAbout', () => {
  it.each([
    ['in the middle of the record', 30, { fromUs: 20, toUs: 40 }],
    ['at its end', 99, { fromUs: 80, toUs: 100 }],
  ])('%s', (_name, middleUs, expected) => expect(windowAbout(view, middleUs, limits)).toEqual(expected));
});

describe('nudgedWindow', () => {
  it.each([
    ['Right: a tenth of the window', 'whole', 'ArrowRight', { fromUs: 42, toUs: 62 }],
    ['PageUp: the next window', 'whole', 'PageUp', { fromUs: 60, toUs: 80 }],
    ['PageDown: the one before', 'whole', 'PageDown', { fromUs: 20, toUs: 40 }],
    ['Home', 'whole', 'Home', { fromUs: 0, toUs: 20 }],
    ['End', 'whole', 'End', { fromUs: 80, toUs: 100 }],
    ['an end: a hundredth of the record', 'to', 'ArrowRight', { fromUs: 40, toUs: 61 }],
    ['an end, PageDown: a tenth of it', 'from', 'PageDown', { fromUs: 30, toUs: 60 }],
    ['another key', 'whole', 'a', null],
  ] as const)('%s', (_name, part, key, expected) => {
    expect(nudgedWindow(view, part, key, limits)).toEqual(expected);
  });
});
