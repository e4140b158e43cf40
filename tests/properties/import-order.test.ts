import fc from 'fast-check';
import { expect, it } from 'vitest';
import { importBytes } from '../../core/import/import-file.ts';
import { inferEverything } from '../../core/import/import-recipe.ts';
import { bytesOf } from '../core/import/csv-bytes.ts';

const preambles = [
  '',
  '# gain_db: 42\n',
  '# capture 7\n# sample_rate_MHz: 100\n',
  'gain_db,42\n',
  '# rectification: full\n',
  '# time_us,a_pct\n',
  '# time unit: s\n# amplitude unit: V\n',
  '# µ\n',
];
const headers = [
  'time_us,a_pct\n',
  'time_us;a_pct\n',
  'time_us,a_pct,\n',
  'Time,Amplitude\nus,%\n',
  'x,y\n',
  '[us],[%]\n',
  '',
  'time_us,a_pct\n\n',
  'sample,time_us,a_pct\n',
  'a_pct\n',
  'time_us a_pct\n',
];
const bodies: readonly ((i: number) => string)[] = [
  (i) => `${i / 100},${(i % 7) - 3.5}`,
  (i) => `${i / 100};${(i % 7) - 3.5}`,
  (i) => `${i},${(i % 7) - 3}`,
  (i) => `${i / 100},${(i % 7) - 3.5},`,
  (i) => `${i},${i / 100},${(i % 7) - 3.5}`,
  (i) => `${i / 100}  ${(i % 7) - 3.5}`,
  (i) => `0,${10 + i};${(i % 7) - 3},5`,
  (i) => `${(i % 7) - 3.5}`,
  (i) => `${i / 100},${i === 3 ? 'NaN' : i % 5}`,
  (i) => `${7 - i},${(i % 5) - 2.5}`,
];

const file = fc
  .record({
    preamble: fc.constantFrom(...preambles),
    header: fc.constantFrom(...headers),
    body: fc.constantFrom(...bodies),
    rows: fc.integer({ min: 1, max: 14 }),
    end: fc.constantFrom('\n', '\r\n', '\r'),
  })
  .map(({ preamble, header, body, rows, end }) =>
    bytesOf(
      (preamble + header + Array.from({ length: rows }, (_, i) => `${body(i)}\n`).join('')).replaceAll('\n', end),
    ),
  );

const read = (bytes: Uint8Array) => importBytes('a.csv', bytes, inferEverything, null);

it('a file is read the same whatever file was read before it', () => {
  const without = bytesOf('1.5\n2.5\n');
  fc.assert(
    fc.property(file, file, (before, bytes) => {
      read(without);
      const alone = read(bytes);
      read(before);
      expect(read(bytes)).toEqual(alone);
      // And once more behind itself: now its own shape is the last one.
      expect(read(bytes)).toEqual(alone);
    }),
    { numRuns: 4000 },
  );
});
