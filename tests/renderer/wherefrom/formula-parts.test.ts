import { describe, expect, it } from 'vitest';
import { formulaParts } from '../../../renderer/wherefrom/formula-parts.ts';

const found = (line: string, ...values: readonly string[]) =>
  formulaParts(
    line,
    values.map((value) => ({ value })),
  );

/** The numbers that lead to an input, in the order they stand. */
const led = (line: string, ...values: readonly string[]) =>
  found(line, ...values).flatMap(({ text, input }) => (input === null ? [] : [[text, input]]));

describe('the inputs in a formula’s line', () => {
  it('each number leads to its input, and the pieces together are the line', () => {
    const line = '(25.8183 µs − 7.309 µs) · 3.2410 mm/µs / 2 = 29.994 mm';
    const values = ['25.8183 ± 0.0053 µs', '7.309 ± 0.030 µs', '3241.0 ± 2.1 m/s'];
    expect(led(line, ...values)).toEqual([
      ['25.8183 µs', 0],
      ['7.309 µs', 1],
      ['3.2410 mm/µs', 2],
    ]);
    expect(
      found(line, ...values)
        .map(({ text }) => text)
        .join(''),
    ).toBe(line);
  });

  it.each<[string, string, readonly string[], readonly (readonly [string, number])[]]>([
    [
      'further decimals in the formula',
      '30.0058 mm · cos 60° = 15.00 mm',
      ['30.006 ± 0.042 mm', '60° ± 0.5°'],
      [
        ['30.0058 mm', 0],
        ['60°', 1],
      ],
    ],
    ['the result is no input', '30.006 mm − 30 mm = 0.006 mm', ['0.006 mm'], []],
    ['another number of that size', '31.006 mm − 30 mm = 1.006 mm', ['30.006 mm'], []],
    ['another unit', '20 · log10(60.7 % / 30.0 %) = 6.1 dB', ['60.7 dB'], []],
    ['two inputs of one value: neither', '5.0 dB − 5.0 dB = 0.0 dB', ['5.0 dB', '5.0 dB'], []],
    [
      'a negative number, in its brackets',
      '12 µs − (-0.500 µs) = 12.500 µs',
      ['-0.500 ± 0.002 µs'],
      [['(-0.500 µs)', 0]],
    ],
    ['a decimal comma', '30,006 mm · cos 60° = 15,00 mm', ['30,006 ± 0,042 mm'], [['30,006 mm', 0]]],
    [
      'inches',
      '(25.8183 µs − 7.309 µs) · 0.127598 in/µs / 2 = 1.1809 in',
      ['0.127598 ± 0.000083 in/µs'],
      [['0.127598 in/µs', 0]],
    ],
    ['a sum of squares is no length', '2 · 31250.00 mm² / 19284.426 mm µs = 3.2410 mm/µs', ['31250.00 mm'], []],
    ['a verdict’s bounds', '0.178 mm − 2 · 0.058 mm = 0.062 mm', ['0.178 ± 0.058 mm'], [['0.178 mm', 0]]],
  ])('%s', (_, line, values, expected) => {
    expect(led(line, ...values)).toEqual(expected);
  });

  it('a line without an equation is words', () => {
    expect(found('the worst of pass, fail: fail', 'fail')).toEqual([
      { text: 'the worst of pass, fail: fail', input: null },
    ]);
  });
});
