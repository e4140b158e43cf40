import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pathFromTime } from '../../../core/calibration/distance.ts';
import { type Gate, gateProblems } from '../../../core/gate/gate.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import {
  draggedGate,
  drawnGate,
  type GatePart,
  gateBar,
  gateGrid,
  nudgedGate,
  placedGate,
  readingMarks,
  sideBeyond,
} from '../../../renderer/trace/gate-overlay.ts';
import type { Plane } from '../../../renderer/trace/plane.ts';
import { calibrated } from '../../build/calibration.ts';
import { reading } from '../../build/series.ts';

/** 100 µs on 1000 px, ±100 % on 400 px: one pixel is 0.1 µs, half a per cent. */
const plane: Plane = {
  widthPx: 1000,
  heightPx: 400,
  view: { fromUs: 0, toUs: 100 },
  lowPercent: -100,
  highPercent: 100,
};
/** 2 mm of path to the microsecond, from 5 µs on: 10 mm at 15 µs. */
const calibration = calibrated(2000, 5);
const inch = { units: 'inch', decimalMark: '.' } as const;

const inTime = (fromUs: number, toUs: number, thresholdPercent = 20): Gate => ({
  name: 'weld',
  span: { axis: 'time', fromUs, toUs },
  thresholdPercent,
});
const inPath = (fromMm: number, toMm: number, thresholdPercent = 20): Gate => ({
  name: 'weld',
  span: { axis: 'path', fromMm, toMm },
  thresholdPercent,
});

describe('gateBar', () => {
  it('no place for a gate in sound path without a calibration', () => {
    expect(gateBar(inPath(10, 20), plane, null)).toBeNull();
  });
  it.each([
    ['in time', inTime(10, 30), null, { left: 100, right: 300, y: 160, mirroredY: 240 }],
    ['in time, with a calibration', inTime(10, 30), calibration, { left: 100, right: 300, y: 160, mirroredY: 240 }],
    [
      'in sound path: 10 mm at 15 µs, 20 mm at 25 µs',
      inPath(10, 20),
      calibration,
      { left: 150, right: 250, y: 160, mirroredY: 240 },
    ],
  ])('%s', (_name, gate, by, expected) => {
    const bar = gateBar(gate, plane, by)!;
    for (const key of ['left', 'right', 'y', 'mirroredY'] as const) expect(bar[key]).toBeCloseTo(expected[key], 9);
  });
  it('nothing mirrored where no negative half waves are shown', () => {
    expect(gateBar(inTime(10, 30), { ...plane, lowPercent: 0 }, null)!.mirroredY).toBeNull();
  });
});

describe('sideBeyond', () => {
  it.each([
    ['before the window', inTime(-20, -10), 'left'],
    ['half in it', inTime(-20, 10), null],
    ['all over it', inTime(-20, 120), null],
    ['after it', inTime(101, 120), 'right'],
  ])('%s', (_name, gate, side) => {
    expect(sideBeyond(gateBar(gate, plane, null)!, plane)).toBe(side);
  });
});

describe('readingMarks', () => {
  it('nothing read, nothing marked', () => {
    const none = reading({ peakUs: null, crossingUs: null, amplitudePercent: null });
    expect(readingMarks(none, inTime(10, 30), plane)).toEqual({ crossing: null, peak: null });
  });
  it('between samples, where crossing and peak truly are', () => {
    const read = reading({ peakUs: 20.1234, crossingUs: 19.8765, amplitudePercent: 65.7 });
    const { crossing, peak } = readingMarks(read, inTime(10, 30), plane);
    expect(crossing!.x).toBeCloseTo(198.765, 9);
    expect(crossing!.y).toBeCloseTo(160, 9);
    expect(peak!.x).toBeCloseTo(201.234, 9);
    expect(peak!.y).toBeCloseTo(68.6, 9);
  });
  it('a peak beyond the plot is marked at its edge', () => {
    const read = reading({ peakUs: 20, amplitudePercent: 130 });
    expect(readingMarks(read, inTime(10, 30), plane).peak!.y).toBe(0);
  });
});

describe('gateGrid: what one pixel can tell apart, as a power of ten of the unit shown', () => {
  it.each([
    ['0.1 µs a pixel, 0.1 mm', plane, metricStyle, 0.1, 0.1],
    ['0.05 µs a pixel', { ...plane, widthPx: 2000 }, metricStyle, 0.01, 0.01],
    ['in inches: 0.0039 in a pixel', plane, inch, 0.1, 0.0254],
  ])('%s', (_name, on, style, us, mm) => {
    const grid = gateGrid(on, calibration, style);
    expect(grid.us).toBeCloseTo(us, 12);
    expect(grid.mm).toBeCloseTo(mm, 12);
  });
});

describe('draggedGate', () => {
  const grid = { us: 0.1, mm: 0.1 };
  const drag = (gate: Gate, part: GatePart, us: number, percent = 0) =>
    draggedGate(gate, part, { us, percent }, grid, calibration);
  it.each([
    ['not moved', inTime(10.05, 30), 'whole', 0, 0, inTime(10.05, 30)],
    ['all of it, on the grid, as wide as before', inTime(10, 30), 'whole', 4.23, 0, inTime(14.2, 34.2)],
    ['all of it, a width beside the grid stays', inTime(10, 30.05), 'whole', 1, 0, inTime(11, 31.05)],
    ['the start', inTime(10, 30), 'from', 4.23, 0, inTime(14.2, 30)],
    ['the start, not beyond the end', inTime(10, 30), 'from', 99, 0, inTime(29.9, 30)],
    ['the end', inTime(10, 30), 'to', -4.23, 0, inTime(10, 25.8)],
    ['the end, not before the start', inTime(10, 30), 'to', -99, 0, inTime(10, 10.1)],
    ['before the trigger, in time', inTime(1, 2), 'whole', -3, 0, inTime(-2, -1)],
    ['the threshold, in whole per cents', inTime(10, 30), 'threshold', 9, 12.4, inTime(10, 30, 32)],
    ['the threshold, not beyond the screen', inTime(10, 30), 'threshold', 0, 500, inTime(10, 30, 100)],
    ['the threshold, not down to nothing', inTime(10, 30), 'threshold', 0, -500, inTime(10, 30, 1)],
    ['in sound path: 1 µs is 1 mm', inPath(10, 20), 'whole', 3, 0, inPath(13, 23)],
    ['in sound path, not below 0', inPath(10, 20), 'whole', -30, 0, inPath(0, 10)],
    ['the start in sound path, not below 0', inPath(10, 20), 'from', -30, 0, inPath(0, 20)],
  ] as const)('%s', (_name, gate, part, us, percent, expected) => {
    expect(drag(gate, part, us, percent)).toEqual(expected);
  });
  it('a gate in sound path without a calibration stays where it is', () => {
    expect(draggedGate(inPath(10, 20), 'whole', { us: 5, percent: 0 }, grid, null)).toEqual(inPath(10, 20));
  });
  it('whatever is done with the pointer, the core finds nothing wrong with the gate', () => {
    const time = fc.double({ min: -1000, max: 1000, noNaN: true });
    fc.assert(
      fc.property(
        fc.constantFrom<GatePart>('whole', 'from', 'to', 'threshold'),
        time,
        time,
        fc.constantFrom(inTime(10, 30), inPath(10, 20), inPath(0, 0.1)),
        (part, us, percent, gate) => {
          expect(gateProblems([drag(gate, part, us, percent)], 'gate')).toEqual([]);
        },
      ),
    );
  });
});

describe('nudgedGate', () => {
  const grid = { us: 0.1, mm: 0.5 };
  const key = (name: string, modifiers: Partial<{ shiftKey: boolean; altKey: boolean }> = {}) => ({
    key: name,
    shiftKey: false,
    altKey: false,
    ...modifiers,
  });
  it.each([
    ['Right', key('ArrowRight'), inTime(10, 30), inTime(10.1, 30.1)],
    ['Left', key('ArrowLeft'), inTime(10, 30), inTime(9.9, 29.9)],
    ['Right, coarse', key('ArrowRight', { shiftKey: true }), inTime(10, 30), inTime(11, 31)],
    ['Right with Alt moves the end', key('ArrowRight', { altKey: true }), inTime(10, 30), inTime(10, 30.1)],
    ['Left with Alt and Shift', key('ArrowLeft', { altKey: true, shiftKey: true }), inTime(10, 30), inTime(10, 29)],
    ['Right in sound path', key('ArrowRight'), inPath(10, 20), inPath(10.5, 20.5)],
    ['Up', key('ArrowUp'), inTime(10, 30), inTime(10, 30, 21)],
    ['Down, coarse', key('ArrowDown', { shiftKey: true }), inTime(10, 30), inTime(10, 30, 15)],
    ['Down at the bottom', key('ArrowDown'), inTime(10, 30, 1), inTime(10, 30, 1)],
  ])('%s', (_name, pressed, gate, expected) => {
    expect(nudgedGate(gate, pressed, grid, calibration)).toEqual(expected);
  });
  it('another key is not for the gate', () => {
    expect(nudgedGate(inTime(10, 30), key('a'), grid, calibration)).toBeNull();
  });
});

describe('drawnGate', () => {
  const draw = (x1: number, x2: number, y: number, by: typeof calibration | null, others: readonly Gate[] = []) =>
    drawnGate({ x: x1, y: 0 }, { x: x2, y }, plane, others, by, metricStyle);
  it('a slip of the hand draws nothing', () => {
    expect(draw(100, 103, 160, null)).toBeNull();
  });
  it.each([
    ['in time without a calibration', 100, 300, null, { axis: 'time', fromUs: 10, toUs: 30 }],
    ['drawn backwards', 300, 100, null, { axis: 'time', fromUs: 10, toUs: 30 }],
    ['in sound path with one', 150, 250, calibration, { axis: 'path', fromMm: 10, toMm: 20 }],
    ['from before the surface: from 0 mm on', 0, 250, calibration, { axis: 'path', fromMm: 0, toMm: 20 }],
    ['wholly before the surface: it still has a width', 0, 30, calibration, { axis: 'path', fromMm: 0, toMm: 0.1 }],
  ])('%s', (_name, x1, x2, by, span) => {
    expect(draw(x1, x2, 160, by)).toEqual({ name: 'new gate', span, thresholdPercent: 20 });
  });
  it.each([
    ['above the middle', 100, 50],
    ['below it: on the negative half waves', 300, 50],
    ['on the base line', 200, 1],
    ['above the plot', -50, 100],
  ])('the threshold is where the drag ended: %s', (_name, y, percent) => {
    expect(draw(100, 300, y, null)!.thresholdPercent).toBe(percent);
  });
  it('the name is free', () => {
    const others = [inTime(0, 1), { ...inTime(0, 1), name: 'new gate' }, { ...inTime(0, 1), name: 'new gate 2' }];
    expect(draw(100, 300, 160, null, others)!.name).toBe('new gate 3');
  });
});

describe('placedGate', () => {
  it('an eighth of what is shown, in its middle, at 20 %', () => {
    expect(placedGate(plane, [], null, metricStyle)).toEqual({
      name: 'new gate',
      span: { axis: 'time', fromUs: 43.8, toUs: 56.3 },
      thresholdPercent: 20,
    });
  });
  it('in sound path with a calibration: there where the time is', () => {
    const { span } = placedGate(plane, [], calibration, metricStyle);
    expect(span).toEqual({ axis: 'path', fromMm: 38.8, toMm: 51.3 });
    expect(pathFromTime(calibration, 43.75, null).value).toBeCloseTo(38.75, 9);
  });
});
