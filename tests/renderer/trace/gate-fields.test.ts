import { describe, expect, it } from 'vitest';
import type { Gate } from '../../../core/gate/gate.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import {
  alongAxis,
  fieldText,
  withEndRead,
  withNameRead,
  withThresholdRead,
} from '../../../renderer/trace/gate-fields.ts';
import { calibrated } from '../../build/calibration.ts';

/** 2 mm of path to the microsecond, from 5 µs on. */
const calibration = calibrated(2000, 5);
const inch = { units: 'inch', decimalMark: '.' } as const;
const comma = { units: 'metric', decimalMark: ',' } as const;

const inTime: Gate = { name: 'weld', span: { axis: 'time', fromUs: 10, toUs: 30 }, thresholdPercent: 20 };
const inPath: Gate = { name: 'weld', span: { axis: 'path', fromMm: 10, toMm: 20 }, thresholdPercent: 20 };

describe('fieldText', () => {
  it.each([
    ['no zeros at the end', 20, 'length', metricStyle, '20'],
    ['all the digits there are', 20.125, 'length', metricStyle, '20.125'],
    ['with the person’s decimal mark', 20.125, 'length', comma, '20,125'],
    ['in inches', 25.4, 'length', inch, '1'],
    ['a time stays a time', 25.4, 'time', inch, '25.4'],
  ] as const)('%s', (_name, value, measure, style, text) => {
    expect(fieldText(value, measure, style)).toBe(text);
  });
});

describe('withEndRead', () => {
  it.each([
    ['a bare number is in the unit shown', inPath, '12.5', metricStyle, { axis: 'path', fromMm: 12.5, toMm: 20 }],
    ['its own unit', inPath, '12mm', metricStyle, { axis: 'path', fromMm: 12, toMm: 20 }],
    ['another unit of length', inPath, '0.5in', metricStyle, { axis: 'path', fromMm: 12.7, toMm: 20 }],
    ['a bare number where inches are shown', inPath, '0.5', inch, { axis: 'path', fromMm: 12.7, toMm: 20 }],
    ['a decimal comma, where that is the mark', inPath, '12,5', comma, { axis: 'path', fromMm: 12.5, toMm: 20 }],
    [
      'a time in a gate of sound path: 18 µs is 13 mm',
      inPath,
      '18us',
      metricStyle,
      { axis: 'path', fromMm: 13, toMm: 20 },
    ],
    ['a length in a gate of time: 13 mm is 18 µs', inTime, '13mm', metricStyle, { axis: 'time', fromUs: 18, toUs: 30 }],
  ] as const)('%s', (_name, gate, words, style, span) => {
    const read = withEndRead(gate, 'from', words, calibration, style);
    expect(read.ok).toBe(true);
    if (!read.ok || read.value.span.axis !== span.axis) return expect.fail('another axis');
    const found = read.value.span as unknown as Record<string, number>;
    for (const [key, value] of Object.entries(span)) {
      if (typeof value === 'number') expect(found[key]).toBeCloseTo(value, 9);
    }
  });

  it.each([
    ['nothing', inPath, '', /not a length|not a number/],
    ['words', inPath, 'near', /not a length/],
    ['the wrong decimal mark', inPath, '12,5', /point/],
    ['on the end', inPath, '20', /begins where it ends/],
    ['a negative path', inPath, '-1', /negative/],
  ])('refused: %s', (_name, gate, words, sentence) => {
    const read = withEndRead(gate, 'from', words, calibration, metricStyle);
    expect(read.ok ? '' : read.sentence).toMatch(sentence);
  });

  it.each([
    ['from', '25', { axis: 'path', fromMm: 25, toMm: 35 }],
    ['to', '9', { axis: 'path', fromMm: 0, toMm: 9 }],
  ] as const)('an end that goes past the other pushes it along: %s %s', (end, words, span) => {
    expect(withEndRead(inPath, end, words, calibration, metricStyle)).toMatchObject({ ok: true, value: { span } });
  });

  it('a length in a gate of time without a calibration asks for one', () => {
    const read = withEndRead(inTime, 'from', '13mm', null, metricStyle);
    expect(read.ok ? '' : read.sentence).toMatch(/needs a calibration/);
  });
});

describe('withThresholdRead', () => {
  it.each([
    ['30', 30],
    ['30 %', 30],
    ['12.5%', 12.5],
  ])('%s', (words, percent) => {
    const read = withThresholdRead(inPath, words, metricStyle);
    expect(read.ok && read.value.thresholdPercent).toBe(percent);
  });
  it.each(['0', '-5', '101', 'half'])('refused: %s', (words) => {
    expect(withThresholdRead(inPath, words, metricStyle).ok).toBe(false);
  });
});

describe('withNameRead', () => {
  const gates = [inPath, { ...inPath, name: 'root' }];
  it.each([
    ['another name', ' back wall ', 'back wall'],
    ['its own name again', 'weld', 'weld'],
  ])('%s', (_name, words, name) => {
    const read = withNameRead(inPath, words, gates);
    expect(read.ok && read.value.name).toBe(name);
  });
  it.each([
    ['no name', '  ', /no name/],
    ['the name of another gate', 'root ', /another gate/],
  ])('refused: %s', (_name, words, sentence) => {
    const read = withNameRead(inPath, words, gates);
    expect(read.ok ? '' : read.sentence).toMatch(sentence);
  });
});

describe('alongAxis', () => {
  it.each([
    ['from time to path: 10 to 30 µs is 5 to 25 mm', inTime, 'path', { axis: 'path', fromMm: 5, toMm: 25 }],
    ['from path to time: 10 to 20 mm is 15 to 25 µs', inPath, 'time', { axis: 'time', fromUs: 15, toUs: 25 }],
    ['along the same axis', inPath, 'path', inPath.span],
    [
      'a time before the surface begins at 0 mm',
      { ...inTime, span: { ...inTime.span, fromUs: 2 } } as Gate,
      'path',
      { axis: 'path', fromMm: 0, toMm: 25 },
    ],
  ] as const)('%s', (_name, gate, axis, span) => {
    expect(alongAxis(gate, axis, calibration).span).toEqual(span);
  });
});
