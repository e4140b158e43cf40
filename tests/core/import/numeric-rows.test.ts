import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { emptyBlock, type RowFormat, scanRows } from '../../../core/import/numeric-rows.ts';
import { bytesOf } from './csv-bytes.ts';

const format: RowFormat = { fields: 2, delimiter: 0x2c, decimalMark: 0x2e, lineEnd: 0x0a, blankTail: false };

function scan(text: string, how: Partial<RowFormat> = {}) {
  const used = { ...format, ...how };
  const block = emptyBlock(used.fields);
  const bytes = bytesOf(text);
  const stoppedAt = scanRows(bytes, 0, bytes.length, used, block);
  return { values: [...block.values.subarray(0, block.rows * used.fields)], rest: text.slice(stoppedAt) };
}

describe('the quick tier stops at the start of the first row that is not plain', () => {
  it.each([
    ['an empty field', '3,\n'],
    ['an empty first field', ',4\n'],
    ['a field too few', '3\n'],
    ['a field too many', '3,4,5\n'],
    ['a delimiter behind the row', '3,4,\n'],
    ['text', '3,abc\n'],
    ['text behind a number', '3,4x\n'],
    ['a minus alone', '3,-\n'],
    ['two minuses', '3,--4\n'],
    ['a mark alone', '3,.\n'],
    ['two marks', '3,4.5.6\n'],
    ['an exponent without digits', '3,4e\n'],
    ['an exponent with a sign alone', '3,4e-\n'],
    ['a number beyond the largest double', '3,4e999\n'],
    ['a decimal comma', '3,4;5\n'],
    ['quotation marks', '3,"4"\n'],
    ['NaN', '3,NaN\n'],
    ['a blank line', '\n'],
    ['a comment', '# 3,4\n'],
    ['a blank before the delimiter', '3 ,4\n'],
    ['a carriage return in the middle', '3,4\r5,6\n'],
    ['a zero byte', '3,4\u0000\n'],
    ['a byte above ASCII', '3,4µ\n'],
  ])('%s', (_name, row) => {
    expect(scan(`1,2\n${row}7,8\n`)).toEqual({ values: [1, 2], rest: `${row}7,8\n` });
  });

  it('any mark, while none is settled', () => {
    expect(scan('1,2\n3,4.5\n', { decimalMark: 0 })).toEqual({ values: [1, 2], rest: '3,4.5\n' });
  });
});

describe('plain rows', () => {
  it.each([
    ['CRLF line ends', '1,2\r\n3,4\r\n', {}, [1, 2, 3, 4]],
    ['CR line ends', '1,2\r3,4\r', { lineEnd: 0x0d }, [1, 2, 3, 4]],
    ['semicolons and decimal commas', '0,5;-1,25\n', { delimiter: 0x3b, decimalMark: 0x2c }, [0.5, -1.25]],
    ['runs of spaces', '  1   2\n', { delimiter: 0x20 }, [1, 2]],
    ['blanks before numbers', '1, 2\n', {}, [1, 2]],
    ['a blank last field on each row', '1,2,\n3,4, \r\n', { blankTail: true }, [1, 2, 3, 4]],
    ['signs and exponents', '+1,-2.5e-3\n', {}, [1, -0.0025]],
    ['minus zero', '-0,-0.000\n', {}, [-0, -0]],
  ] as const)('%s', (_name, text, how, values) => {
    expect(scan(text, how as Partial<RowFormat>)).toEqual({ values: [...values], rest: '' });
  });

  it('a full block is handed back before the next row', () => {
    const block = { values: new Float64Array(2), capacity: 1, rows: 0 };
    expect(scanRows(bytesOf('1,2\n3,4\n'), 0, 8, format, block)).toBe(4);
    expect([...block.values]).toEqual([1, 2]);
  });
});

describe('the bits are those of Number()', () => {
  const sameBits = (text: string) => {
    const { values } = scan(`${text},0\n`);
    expect(values.length, text).toBe(2);
    expect(Object.is(values[0], Number(text)), `${text}: ${values[0]}`).toBe(true);
  };

  it.each([
    ['nine digits', '123456789'],
    ['ten digits', '1234567890'],
    ['a leading zero and nine decimals', '0.017578125'],
    ['15 digits', '0.123456789012345'],
    ['16 digits', '0.1234567890123456'],
    ['17 digits', '0.12345678901234567'],
    ['2^53', '9007199254740992'],
    ['2^53 + 1', '9007199254740993'],
    ['halfway between two doubles', '1.00000000000000011102230246251565404236316680908203125'],
    ['a power of ten beyond 22', '1e23'],
    ['a small power of ten', '1e-23'],
    ['the smallest double', '5e-324'],
    ['the largest double', '1.7976931348623157e308'],
    ['underflow', '1e-400'],
    ['many leading zeros', '0000000000000000000000001.5'],
    ['many zeros behind', '1.50000000000000000000000000000'],
    ['600 digits', `${'1'.repeat(300)}.${'7'.repeat(300)}`],
    ['no digit before the mark', '.000001'],
    ['no digit behind the mark', '12.'],
  ])('%s', (_name, text) => {
    sameBits(text);
    sameBits(`-${text}`);
  });

  it('for any double in its usual notations', () => {
    fc.assert(
      fc.property(
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.integer({ min: 0, max: 20 }),
        (value, digits) => {
          sameBits(String(value));
          // Rounding up near the largest double may go beyond it.
          for (const text of [value.toExponential(digits), value.toPrecision(digits + 1)]) {
            if (Number.isFinite(Number(text))) sameBits(text);
          }
          if (Math.abs(value) < 1e21) sameBits(value.toFixed(digits));
        },
      ),
      { numRuns: 3000 },
    );
  });

  it('for any run of digits with a mark and an exponent', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^-?\d{1,25}(\.\d{0,25})?(e[+-]?\d{1,2})?$/), (text) => {
        sameBits(text);
      }),
      { numRuns: 3000 },
    );
  });
});
