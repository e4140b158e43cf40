import { describe, expect, it } from 'vitest';
import { type Dimension, parseNumber, parseQuantity, parseSpan } from '../../../core/units/parse-quantity.ts';

describe('parseQuantity refuses', () => {
  const rows: [string, string, Dimension, RegExp][] = [
    ['a bare number', '100', 'length', /no unit.*100mm or 4in/],
    ['nothing', '', 'length', /not a length/],
    ['a unit alone', 'mm', 'length', /not a length/],
    ['a decimal comma', '12,5mm', 'length', /decimal point/],
    ['a unit of another kind', '100us', 'length', /not a unit of length/],
    ['an unknown unit', '3 furlong', 'length', /furlong/],
    ['infinity', 'Infinitymm', 'length', /not a length/],
    ['more than a double holds', '1e999mm', 'length', /too large/],
    ['hexadecimal', '0x10mm', 'length', /not a unit/],
    ['a key of every object', '1constructor', 'length', /not a unit/],
  ];
  it.each(rows)('%s: %s', (_, text, dimension, sentence) => {
    const parsed = parseQuantity(text, dimension);
    expect(parsed.ok ? null : parsed.sentence).toMatch(sentence);
  });
});

describe('parseQuantity reads to the base unit', () => {
  const rows: [string, Dimension, number][] = [
    ['100mm', 'length', 100],
    ['4in', 'length', 101.6],
    ['4 IN', 'length', 101.6],
    ['0.5"', 'length', 12.7],
    ['2.5cm', 'length', 25],
    ['.1m', 'length', 100],
    ['31.5us', 'time', 31.5],
    ['31.5µs', 'time', 31.5],
    ['250ns', 'time', 0.25],
    ['1e-6s', 'time', 1],
    ['-3us', 'time', -3],
    ['100MHz', 'frequency', 100],
    ['60000kHz', 'frequency', 60],
    ['3.24mm/us', 'velocity', 3240],
    ['60deg', 'angle', 60],
    ['45°', 'angle', 45],
  ];
  it.each(rows)('%s is a %s of %f', (text, dimension, value) => {
    const parsed = parseQuantity(text, dimension);
    expect(parsed.ok ? parsed.value : parsed.sentence).toBeCloseTo(value, 12);
  });
});

describe('parseSpan', () => {
  it.each([
    ['55us..75us', { from: 55, to: 75 }],
    ['55 us .. 75 us', { from: 55, to: 75 }],
  ])('%s', (text, value) => expect(parseSpan(text, 'time')).toEqual({ ok: true, value }));

  it.each([
    ['one end only', '55us', /two ends/],
    ['three ends', '1us..2us..3us', /two ends/],
    ['a bare end', '55..75us', /no unit/],
    ['backward', '75us..55us', /ends before it begins/],
    ['of no width', '75us..75us', /ends before it begins/],
  ])('refuses a span with %s: %s', (_, text, sentence) => {
    const parsed = parseSpan(text, 'time');
    expect(parsed.ok ? null : parsed.sentence).toMatch(sentence);
  });
});

describe('parseNumber', () => {
  it.each(['', 'x', '1,5', 'NaN', 'Infinity', '0x1', '1e999'])('refuses %j', (text) =>
    expect(parseNumber(text).ok).toBe(false),
  );
  it.each([
    ['20', 20],
    ['-0.5', -0.5],
    ['1e2', 100],
  ])('reads %s', (text, value) => expect(parseNumber(text)).toEqual({ ok: true, value }));
});
