import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type FigureStyle,
  figureText,
  figureWithUnit,
  fromShown,
  type Measure,
  metricStyle,
  quantityText,
  readFigure,
  toShown,
  unitSign,
} from '../../../core/units/figure-style.ts';

const inch: FigureStyle = { units: 'inch', decimalMark: '.' };
const comma: FigureStyle = { units: 'metric', decimalMark: ',' };
const inchComma: FigureStyle = { units: 'inch', decimalMark: ',' };

describe('figures in words', () => {
  const rows: [string, number | null, Measure, number, FigureStyle, string][] = [
    ['nothing known', null, 'length', 2, metricStyle, '–'],
    ['a length', 30.014, 'length', 2, metricStyle, '30.01 mm'],
    ['a length with a comma', 30.014, 'length', 2, comma, '30,01 mm'],
    // 1 in = 25.4 mm exactly (international yard and pound agreement of 1959)
    ['one inch', 25.4, 'length', 2, inch, '1.0000 in'],
    ['a length in inches, with as many decimals as tell the same lengths apart', 30.01, 'length', 2, inch, '1.1815 in'],
    ['a length in inches with a comma', 30.01, 'length', 2, inchComma, '1,1815 in'],
    ['a velocity', 5920, 'velocity', 0, metricStyle, '5920 m/s'],
    // 5,920 m/s = 5.92 mm/µs = 0.233071 in/µs
    ['a velocity in inches per microsecond', 5920, 'velocity', 0, inch, '0.23307 in/µs'],
    ['a time, the same in both', 61.523, 'time', 2, inch, '61.52 µs'],
    ['an amplitude', 65.66, 'percent', 1, comma, '65,7 %'],
    ['a level', -1.25, 'level', 1, metricStyle, '-1.3 dB'],
    ['an angle without a space', 60, 'angle', 0, inch, '60°'],
    ['no minus before a zero', -0.001, 'length', 1, metricStyle, '0.0 mm'],
  ];
  it.each(rows)('%s', (_, value, measure, decimals, style, words) => {
    expect(figureWithUnit(value, measure, decimals, style)).toBe(words);
  });

  it('stand without their unit where the table’s head has it', () => {
    expect(figureText(30.01, 'length', 2, inch)).toBe('1.1815');
    expect(unitSign('length', inch)).toBe('in');
  });

  // Two significant digits of the standard uncertainty: JCGM 100:2008, 7.2.6
  const quantities: [string, number, number | null, FigureStyle, string][] = [
    ['to the digits of its uncertainty', 51.0234, 0.123, metricStyle, '51.02 ± 0.12 mm'],
    ['in inches to the digits of its uncertainty in inches', 51.0234, 0.123, inch, '2.0088 ± 0.0048 in'],
    ['without an uncertainty to the least decimals', 51.0234, null, comma, '51,0 mm'],
    ['with a large uncertainty in inches to the least decimals', 508, 50.8, inch, '20.000 ± 2.000 in'],
  ];
  it.each(quantities)('a quantity %s', (_, value, standardUncertainty, style, words) => {
    expect(quantityText({ value, standardUncertainty }, 'length', 1, style)).toBe(words);
  });
});

describe('figures that are typed', () => {
  const read: [string, string, Measure, FigureStyle, number][] = [
    ['a bare number is in the unit beside the field', '20', 'length', metricStyle, 20],
    ['a bare number in inches', '2', 'length', inch, 50.8],
    ['another unit stands above it', '20mm', 'length', inch, 20],
    ['inches where millimetres are shown', '0.8 in', 'length', metricStyle, 20.32],
    ['a comma', '0,8', 'length', inchComma, 20.32],
    ['a comma with a unit', '12,5 mm', 'length', comma, 12.5],
    ['a time', '4us', 'time', metricStyle, 4],
    ['a per cent sign', '20 %', 'percent', metricStyle, 20],
    ['a level in dB', '-6 dB', 'level', metricStyle, -6],
    ['a minus of mathematics', '−6', 'level', metricStyle, -6],
    ['a velocity in inches per microsecond', '0.2', 'velocity', inch, 5080],
  ];
  it.each(read)('%s', (_, text, measure, style, value) => {
    const figure = readFigure(text, measure, style);
    expect(figure.ok ? figure.value : figure.sentence).toBeCloseTo(value, 9);
  });

  const refused: [string, string, Measure, FigureStyle, string][] = [
    ['nothing', '', 'length', metricStyle, 'not a'],
    ['words', 'long', 'length', metricStyle, 'not a'],
    ['a time for a length', '4us', 'length', metricStyle, 'not a unit of length'],
    [
      'a point where decimals have a comma: it may group thousands',
      '1.234',
      'length',
      comma,
      'write decimals with a comma',
    ],
    ['a comma where decimals have a point', '1,234', 'length', metricStyle, 'write decimals with a point'],
    ['two commas', '1,2,3', 'length', comma, 'not a'],
  ];
  it.each(refused)('%s is refused', (_, text, measure, style, words) => {
    const figure = readFigure(text, measure, style);
    expect(figure.ok ? figure.value : figure.sentence).toContain(words);
  });

  it('come back as they were shown, in either system and with either mark', () => {
    const styles = [metricStyle, inch, comma, inchComma];
    fc.assert(
      fc.property(fc.double({ min: -1e4, max: 1e4, noNaN: true }), fc.constantFrom(...styles), (mm, style) => {
        const shown = figureWithUnit(mm, 'length', 3, style);
        const back = readFigure(shown, 'length', style);
        expect(back.ok && figureWithUnit(back.value, 'length', 3, style)).toBe(shown);
        expect(back.ok && Math.abs(back.value - mm)).toBeLessThanOrEqual(0.0005 + 1e-9);
      }),
    );
  });

  it('go to the unit shown and back without loss', () => {
    expect(toShown(25.4, 'length', inch)).toBe(1);
    expect(fromShown(1, 'length', inch)).toBe(25.4);
    expect(fromShown(toShown(101.6, 'length', inch), 'length', inch)).toBe(101.6);
  });
});
