import { describe, expect, it } from 'vitest';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { conditioningWords, firstBandPass } from '../../../renderer/trace/conditioning-words.ts';
import { gateWords } from '../../../renderer/trace/gate-words.ts';
import { pathText, readingFigures, readingWords } from '../../../renderer/trace/readout.ts';
import { calibrated } from '../../build/calibration.ts';
import { reading } from '../../build/series.ts';

const inchComma = { units: 'inch', decimalMark: ',' } as const;
const view = { fromUs: 0, toUs: 90 };

describe('pathText', () => {
  it.each([
    ['no calibration, no path', null, metricStyle, null],
    ['4 figures of what is shown', calibrated(2000, 5), metricStyle, '15.12 mm'],
    ['in inches, with a comma', calibrated(2000, 5), inchComma, '0,5954 in'],
  ])('%s', (_name, calibration, style, text) => {
    expect(pathText(20.123, view, calibration, style)).toBe(text);
  });
});

describe('readingFigures', () => {
  const path = { soundPathMm: { value: 30.012, standardUncertainty: 0.04 }, amplitudePercent: 65.71 };
  it.each([
    ['nothing read', { timeUs: null, amplitudePercent: null }, []],
    ['without a calibration', { amplitudePercent: 65.71 }, ['20.00 µs', '65.7 %']],
    ['with one', path, ['30.01 mm', '65.7 %']],
    ['in a series', { ...path, belowPeakDb: 1.234 }, ['30.01 mm', '65.7 %', '1.2 dB below peak']],
    ['a crest cut off', { ...path, flags: ['saturated'] }, ['30.01 mm', 'at least 65.7 %']],
    ['a peak outside the gate', { ...path, flags: ['cut-by-gate'] }, ['30.01 mm', 'at least 65.7 %']],
  ] as const)('%s', (_name, given, texts) => {
    expect(readingFigures(reading(given), metricStyle).map(({ text }) => text)).toEqual(texts);
  });
});

describe('readingWords', () => {
  it.each([
    ['not read', null, 'not read yet'],
    ['nothing there', reading({ timeUs: null, amplitudePercent: null, flags: ['no-echo'] }), 'no echo'],
    [
      'doubts are said with the figures',
      reading({ flags: ['off-peak', 'walking'] }),
      '20.00 µs, 50.0 %, off peak, walking',
    ],
  ])('%s', (_name, read, words) => expect(readingWords(read, metricStyle)).toBe(words));
});

it('a gate says where it lies and what it reads', () => {
  const gate = { name: 'weld', span: { axis: 'path', fromMm: 20, toMm: 80 }, thresholdPercent: 30 } as const;
  expect(gateWords(gate, reading(), metricStyle)).toBe('20.00 mm to 80.00 mm, threshold 30 %; 20.00 µs, 50.0 %');
});

describe('conditioningWords', () => {
  const recipe = { baseline: 'linear', bandPass: null, padding: 'extend', peak: 'log-parabola' } as const;
  it.each([
    ['no filter', recipe, 'Straight base line taken out, no filter'],
    [
      'a band-pass',
      { ...recipe, baseline: 'mean', bandPass: { lowMHz: 2.5, highMHz: 8, order: 3 } } as const,
      'Mean taken out, band-pass 2.5 to 8 MHz, order 3',
    ],
  ])('%s', (_name, given, words) => expect(conditioningWords(given, metricStyle)).toBe(words));

  it.each([
    ['a fast record', 100, { lowMHz: 1, highMHz: 10, order: 3 }],
    ['a slow one: within what it holds', 10, { lowMHz: 0.4, highMHz: 4, order: 3 }],
    ['unknown', null, { lowMHz: 1, highMHz: 10, order: 3 }],
  ])('the band to begin with, %s', (_name, rate, band) => expect(firstBandPass(rate)).toEqual(band));
});
