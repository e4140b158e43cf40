import { describe, expect, it } from 'vitest';
import { readCell } from '../../../core/import/number.ts';

describe('a cell that is no number says what it is', () => {
  it.each([
    ['', 'empty'],
    ['   ', 'empty'],
    ['NaN', 'nan'],
    ['nan', 'nan'],
    ['n/a', 'nan'],
    ['#N/A', 'nan'],
    ['--', 'nan'],
    ['1.#QNAN', 'nan'],
    ['inf', 'infinite'],
    ['-Infinity', 'infinite'],
    ['∞', 'infinite'],
    ['1e999', 'infinite'],
    ['abc', 'text'],
    ['-', 'text'],
    ['.', 'text'],
    ['1e', 'text'],
    ['0x10', 'text'],
    ['1 2', 'text'],
    ['1_000', 'text'],
    ['12V', 'text'],
    ['--1', 'text'],
    ['1.2.3', 'text'],
    ['__proto__', 'text'],
  ])('‘%s’: %s', (cell, kind) => {
    expect(readCell(cell, '.').kind).toBe(kind);
  });
});

describe('a number is read with the decimal mark of its file', () => {
  it.each([
    ['1.5', '.', 1.5],
    ['1,5', ',', 1.5],
    ['-0,25', ',', -0.25],
    ['+3', '.', 3],
    ['.5', '.', 0.5],
    ['5.', '.', 5],
    ['−2.5', '.', -2.5],
    ['-5.24e-08', '.', -5.24e-8],
    ['1,5E3', ',', 1500],
    [' 7 ', '.', 7],
    ['007', '.', 7],
  ] as const)('‘%s’ with ‘%s’', (cell, mark, value) => {
    expect(readCell(cell, mark)).toMatchObject({ kind: 'number', value, grouped: false });
  });
});

describe('thousands separators are taken out only where they can be nothing else', () => {
  it.each([
    ['1.234,56', ',', 1234.56],
    ['1,234.56', '.', 1234.56],
    ['-12.345.678,9', ',', -12345678.9],
    ['1.234.567', ',', 1234567],
    ['1’234.5', '.', 1234.5],
    ['1\u202f234,5', ',', 1234.5],
  ] as const)('‘%s’ with ‘%s’', (cell, mark, value) => {
    expect(readCell(cell, mark)).toMatchObject({ kind: 'number', value, grouped: true });
  });

  it.each([
    ['1.234', ',', 'ambiguous'],
    ['12,500', '.', 'ambiguous'],
    ['0.234', ',', 'other-mark'],
    ['0,5', '.', 'other-mark'],
    ['1.234,56', '.', 'other-mark'],
    ['1.234.567', '.', 'text'],
  ] as const)('‘%s’ with ‘%s’ is %s', (cell, mark, kind) => {
    expect(readCell(cell, mark).kind).toBe(kind);
  });
});

it('names the mark it found where none is settled', () => {
  expect(readCell('0,5', null)).toMatchObject({ value: 0.5, mark: ',' });
  expect(readCell('0.5', null)).toMatchObject({ value: 0.5, mark: '.' });
  expect(readCell('5', null)).toMatchObject({ value: 5, mark: null });
});
