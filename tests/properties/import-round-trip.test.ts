import fc from 'fast-check';
import { expect, it } from 'vitest';
import { importBytes } from '../../core/import/import-file.ts';
import { inferEverything } from '../../core/import/import-recipe.ts';
import { bytesOf, ofGood } from '../core/import/csv-bytes.ts';

interface Written {
  readonly startUs: number;
  readonly rateMHz: number;
  readonly traces: readonly (readonly number[])[];
  readonly delimiter: ',' | ';' | '\t';
  readonly mark: '.' | ',';
  readonly gainDb: number;
}

/** A plain exporter: every number in the shortest notation that reads back to the same bits. */
function exportText({ startUs, rateMHz, traces, delimiter, mark, gainDb }: Written): string {
  const written = (value: number) => (mark === ',' ? String(value).replace('.', ',') : String(value));
  const stamps = traces[0].map((_, i) => startUs + i / rateMHz);
  const header = ['time_us', ...traces.map((_, k) => `ch${k + 1}_pct`)].join(delimiter);
  const rows = stamps.map((stamp, i) => [stamp, ...traces.map((trace) => trace[i])].map(written).join(delimiter));
  return [`# gain_db: ${written(gainDb)}`, header, ...rows, ''].join('\n');
}

/** Minus zero is written as 0, so it is left out. */
const sample = fc
  .oneof(fc.double({ min: -200, max: 200, noNaN: true }), fc.integer({ min: -100, max: 100 }))
  .map((value) => value + 0);

const written: fc.Arbitrary<Written> = fc
  .tuple(fc.integer({ min: 2, max: 60 }), fc.integer({ min: 1, max: 4 }))
  .chain(([samples, traces]) =>
    fc
      .record({
        startUs: fc.integer({ min: -5000, max: 5000 }).map((hundredths) => hundredths / 100),
        rateMHz: fc.constantFrom(12.5, 25, 40, 50, 60, 62.5, 80, 100, 125, 250),
        traces: fc.array(fc.array(sample, { minLength: samples, maxLength: samples }), {
          minLength: traces,
          maxLength: traces,
        }),
        dialect: fc.constantFrom([',', '.'], [';', '.'], [';', ','], ['\t', '.'], ['\t', ',']),
        gainDb: fc.integer({ min: 0, max: 1100 }).map((tenths) => tenths / 10),
      })
      .map(({ dialect, ...rest }) => ({
        ...rest,
        delimiter: dialect[0] as Written['delimiter'],
        mark: dialect[1] as Written['mark'],
      })),
  );

it('the import of what was exported is the identity: samples bit for bit, start, step, gain', () => {
  fc.assert(
    fc.property(written, (record) => {
      const file = ofGood(
        importBytes('a.csv', bytesOf(exportText(record)), { ...inferEverything, rectification: 'rf' }, 'abc'),
      );
      expect(file.asks).toEqual([]);
      expect(file.captures).toHaveLength(record.traces.length);
      for (const [k, capture] of file.captures.entries()) {
        expect(Array.from(capture.waveform.samples)).toEqual(record.traces[k]);
        expect(capture.waveform.startUs).toBe(record.startUs);
        expect(Math.abs(capture.waveform.stepUs * record.rateMHz - 1)).toBeLessThan(
          1e-12 * Math.max(1, Math.abs(record.startUs) * record.rateMHz),
        );
        expect(capture).toMatchObject({ trace: `ch${k + 1}_pct`, gainDb: record.gainDb, sha256: 'abc' });
      }
    }),
    { numRuns: 500 },
  );
});
