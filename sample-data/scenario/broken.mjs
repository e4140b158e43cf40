import { decimal, lines } from './text.mjs';

export function broken() {
  const head = ['# gain_db: 40', 'time_us,amplitude_pct'];
  const rows = Array.from({ length: 60 }, (_, i) => `${decimal(1000 + i, 2, 2)},${decimal((i * 7) % 13, 5, 2)}`);
  /** The file with row `index` (counted from 0) put otherwise; it stands on line `index + 3`. */
  const withRow = (index, row) => lines([...head, ...rows.with(index, row)]);
  const random = Uint8Array.from({ length: 600 }, (_, i) => (i * 197 + (i >> 3) * 31) & 255);
  return {
    files: {
      'broken/missing-field.csv': withRow(20, '20.40'),
      'broken/field-too-many.csv': withRow(31, '20.62,0.25,7'),
      'broken/not-a-number.csv': withRow(12, '20.24,NaN'),
      'broken/over-range-sign.csv': withRow(44, '20.88,∞'),
      'broken/time-goes-back.csv': withRow(35, '20.10,0.30'),
      'broken/gap-in-time.csv': lines([...head, ...rows.slice(0, 30), ...rows.slice(38)]),
      'broken/last-line-cut-off.csv': lines([...head, ...rows]).slice(0, -6),
      'broken/no-units.csv': lines(['time,amplitude', ...rows]),
      'broken/empty.csv': '',
      'broken/not-text.csv': random,
    },
    truth: {
      'broken/missing-field.csv': { line: 23 },
      'broken/field-too-many.csv': { line: 34 },
      'broken/not-a-number.csv': { line: 15 },
      'broken/over-range-sign.csv': { line: 47 },
      'broken/time-goes-back.csv': { line: 38 },
      'broken/gap-in-time.csv': { line: 33 },
      'broken/last-line-cut-off.csv': { line: 62 },
      'broken/no-units.csv': { line: 1 },
      'broken/empty.csv': { line: null },
      'broken/not-text.csv': { line: null },
    },
  };
}
