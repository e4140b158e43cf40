import { describe, expect, it } from 'vitest';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { amplitudeRange } from '../../../renderer/trace/amplitude-range.ts';
import { extremaOf, isFull, shownAt } from '../../../renderer/trace/drawing.ts';
import { percentText, timeText } from '../../../renderer/trace/readout.ts';

describe('shownAt', () => {
  const spans = {
    kind: 'spans',
    startUs: 10,
    columnUs: 0.5,
    minima: Float64Array.of(-1, -2),
    maxima: Float64Array.of(1, 9),
  } as const;
  const samples = { kind: 'samples', startUs: 10, stepUs: 0.1, heights: Float64Array.of(5, 7) } as const;

  it.each([
    ['before the first column', spans, 9.99, null],
    ['in the first column', spans, 10.49, { minimum: -1, maximum: 1 }],
    ['in the last column', spans, 10.5, { minimum: -2, maximum: 9 }],
    ['after the last column', spans, 11, null],
    ['before the first sample', samples, 9.9, null],
    ['the nearest sample, below', samples, 10.04, { minimum: 5, maximum: 5 }],
    ['the nearest sample, above', samples, 10.06, { minimum: 7, maximum: 7 }],
    ['after the last sample', samples, 10.3, null],
  ])('%s', (_name, drawing, timeUs, expected) => {
    expect(shownAt(drawing, timeUs)).toEqual(expected);
  });
});

describe('amplitudeRange', () => {
  it.each([
    ['silence, rectified', 0, 0, 0, 104],
    ['a rectified trace within the screen', 0, 80, 0, 104],
    ['both half waves within the screen', -30, 80, -104, 104],
    ['beyond the screen upwards', 0, 150, 0, 156],
    ['beyond the screen both ways', -200, 150, -208, 156],
  ])('%s', (_name, minimum, maximum, low, high) => {
    const [from, to] = amplitudeRange([{ minimum, maximum }], 'rf');
    expect(from).toBeCloseTo(low, 9);
    expect(to).toBeCloseTo(high, 9);
  });
});

describe('amplitudeRange: of several traces, rectified', () => {
  it.each([
    [
      'the lowest trough of all stands upright',
      [
        { minimum: -130, maximum: 20 },
        { minimum: -5, maximum: 90 },
      ],
      [0, 135.2],
    ],
    ['within the screen', [{ minimum: -30, maximum: 20 }], [0, 104]],
  ] as const)('%s', (_name, traces, [low, high]) => {
    const [from, to] = amplitudeRange(traces, 'rectified');
    expect(from).toBe(low);
    expect(to).toBeCloseTo(high, 9);
  });
});

describe('extremaOf', () => {
  it.each([
    ['nothing', { kind: 'samples', startUs: 0, stepUs: 1, heights: Float64Array.of() }, { minimum: 0, maximum: 0 }],
    [
      'samples',
      { kind: 'samples', startUs: 0, stepUs: 1, heights: Float64Array.of(3, -4, 1) },
      { minimum: -4, maximum: 3 },
    ],
    [
      'spans',
      { kind: 'spans', startUs: 0, columnUs: 1, minima: Float64Array.of(-1, -2), maxima: Float64Array.of(7, 5) },
      { minimum: -2, maximum: 7 },
    ],
  ] as const)('%s', (_name, drawing, expected) => {
    expect(extremaOf(drawing)).toEqual(expected);
  });
});

describe('isFull: a pattern of strokes, from x = 0 on', () => {
  const row = (pattern: readonly number[], from: number) =>
    Array.from({ length: 12 }, (_, i) => (isFull(pattern, from + i) ? '#' : '.')).join('');
  it.each([
    ['no pattern is a full line', [], 0, '############'],
    ['dashes', [3, 2], 0, '###..###..##'],
    ['the same in the middle of it: the pattern stands still while the trace moves', [3, 2], 4, '.###..###..#'],
    ['before the edge', [3, 2], -5, '###..###..##'],
    ['dash and dot', [4, 1, 1, 1], 0, '####.#.####.'],
  ])('%s', (_name, pattern, from, expected) => {
    expect(row(pattern, from)).toBe(expected);
  });
});

describe('timeText', () => {
  it.each([
    ['a long window, tenths', 61.523, 0, 250, '61.5 µs'],
    ['a short window, thousandths', 61.5234, 60, 62, '61.523 µs'],
    ['a very long record, whole µs', 61523.4, 0, 100_000, '61523 µs'],
    ['before the trigger', -1.25, -2, 3, '-1.250 µs'],
    ['no minus before a zero', -0.0001, 0, 250, '0.0 µs'],
  ])('%s', (_name, timeUs, fromUs, toUs, text) => {
    expect(timeText(timeUs, { fromUs, toUs }, metricStyle)).toBe(text);
  });
});

describe('percentText', () => {
  it.each([
    ['one amplitude', 41.23, 41.23, '41.2 %'],
    ['a span', -38, 41.23, '-38.0 to 41.2 %'],
  ])('%s', (_name, minimum, maximum, text) => {
    expect(percentText({ minimum, maximum }, metricStyle)).toBe(text);
  });
});
