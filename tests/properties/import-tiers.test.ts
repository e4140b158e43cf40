import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BodyReader } from '../../core/import/body.ts';
import type { BodyFormat, RowSink } from '../../core/import/body-format.ts';
import type { DecimalMark, Delimiter } from '../../core/import/import-recipe.ts';
import type { RowBlock } from '../../core/import/numeric-rows.ts';
import { bytesOf, importPieces } from '../core/import/csv-bytes.ts';

/** Everything a body gives: its values in order, each row's line, its problems. */
function readBody(bytes: Uint8Array, format: BodyFormat, tier: 'quick' | 'careful', edges: readonly number[] = []) {
  const values: number[] = [];
  const codes = new Map<string, number>();
  const sink: RowSink = {
    take: (block: RowBlock) => {
      for (let i = 0; i < block.rows * format.fields; i++) values.push(block.values[i]);
    },
    fullAtRow: null,
    labelCode: (text) => codes.get(text) ?? codes.set(text, -1e15 - codes.size).get(text) ?? 0,
  };
  const reader = new BodyReader('a.csv', format, 3, sink, tier);
  const places = [0, ...[...edges].map((edge) => edge % (bytes.length + 1)).sort((a, b) => a - b), bytes.length];
  for (let i = 1; i < places.length; i++) reader.push(bytes.slice(places[i - 1], places[i]));
  reader.finish();
  const rows = values.length / format.fields;
  return {
    values,
    lines: Array.from({ length: rows }, (_, row) => reader.lineOfRow(row)),
    problems: reader.problems,
    warnings: reader.warnings,
    notes: reader.notes,
    decimalMark: reader.decimalMark,
  };
}

interface Style {
  readonly delimiter: Delimiter;
  readonly mark: DecimalMark;
  readonly end: '\n' | '\r\n' | '\r';
}

const style: fc.Arbitrary<Style> = fc.record({
  delimiter: fc.constantFrom<Delimiter>(',', ';', '\t', ' '),
  mark: fc.constantFrom<DecimalMark>('.', ','),
  end: fc.constantFrom('\n', '\r\n', '\r'),
});

/** A finite number in one of the notations that exporters use. */
const numberText = fc
  .tuple(
    fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e15, max: 1e15 }),
      fc.integer({ min: -4096, max: 4096 }),
      fc.double({ noNaN: true, min: -1, max: 1 }),
    ),
    fc.constantFrom('short', 'fixed', 'exponent', 'digits', 'plus'),
  )
  .map(([value, notation]) => {
    if (notation === 'fixed') return value.toFixed(6);
    if (notation === 'exponent') return value.toExponential(9);
    if (notation === 'digits') return value.toPrecision(17);
    return notation === 'plus' && value >= 0 ? `+${value}` : String(value);
  });

/** Now and then a cell that is odd: some can be read all the same, some cannot. */
const cell = fc.oneof(
  { weight: 20, arbitrary: numberText },
  {
    weight: 1,
    arbitrary: fc.constantFrom('', 'NaN', 'inf', 'abc', '"1.5"', ' 7 ', '−3', '1e999', '"', '#', '1.234.567,8', 'µ'),
  },
);
const oddLine = fc.constantFrom('', '# a comment', '1', ';;', ',', 'x,y,z', '\u0000');

function bodyText(
  rows: readonly (readonly string[])[],
  odd: readonly (readonly [number, string])[],
  { delimiter, mark, end }: Style,
  isEnded: boolean,
): string {
  const lines = rows.map((row) =>
    row
      .map((text) => (mark === ',' ? text.replace('.', ',') : text))
      .map((text) => (text.includes(delimiter) && !text.includes('"') ? `"${text}"` : text))
      .join(delimiter),
  );
  for (const [at, text] of odd) lines.splice(at % (lines.length + 1), 0, text);
  return lines.join(end) + (isEnded ? end : '');
}

function formatOf(fields: number, { delimiter, mark, end }: Style, isSettled: boolean): BodyFormat {
  return {
    fields,
    delimiter,
    decimalMark: isSettled ? mark : null,
    lineEnd: end === '\r' ? 0x0d : 0x0a,
    blankTail: false,
    latin1: false,
    roles: Array.from({ length: fields }, () => 'number' as const),
    names: [],
    isMarkStated: false,
    isMarkDoubtful: false,
    expectedBytes: null,
  };
}

const table = fc.integer({ min: 1, max: 4 }).chain((fields) =>
  fc.record({
    fields: fc.constant(fields),
    rows: fc.array(fc.array(cell, { minLength: fields, maxLength: fields }), { maxLength: 30 }),
    odd: fc.array(fc.tuple(fc.nat(), oddLine), { maxLength: 2 }),
    style,
    isEnded: fc.boolean(),
    isSettled: fc.boolean(),
    edges: fc.array(fc.nat(), { maxLength: 6 }),
  }),
);

describe('the two tiers of the import', () => {
  it('agree on tables of any numbers, with odd cells and lines among them', () => {
    fc.assert(
      fc.property(table, ({ fields, rows, odd, style: used, isEnded, isSettled }) => {
        const bytes = bytesOf(bodyText(rows, odd, used, isEnded));
        const format = formatOf(fields, used, isSettled);
        expect(readBody(bytes, format, 'quick')).toEqual(readBody(bytes, format, 'careful'));
      }),
      { numRuns: 2000 },
    );
  });

  it('give for pieces what they give for the whole', () => {
    fc.assert(
      fc.property(table, ({ fields, rows, odd, style: used, isEnded, isSettled, edges }) => {
        const bytes = bytesOf(bodyText(rows, odd, used, isEnded));
        const format = formatOf(fields, used, isSettled);
        expect(readBody(bytes, format, 'quick', edges)).toEqual(readBody(bytes, format, 'quick'));
      }),
      { numRuns: 2000 },
    );
  });

  it('read plain numbers to the bits of Number()', () => {
    const plain = fc
      .integer({ min: 1, max: 4 })
      .chain((fields) =>
        fc.tuple(
          fc.constant(fields),
          fc.array(fc.array(numberText, { minLength: fields, maxLength: fields }), { minLength: 1, maxLength: 40 }),
          style,
        ),
      );
    fc.assert(
      fc.property(plain, ([fields, rows, used]) => {
        const bytes = bytesOf(bodyText(rows, [], used, true));
        for (const tier of ['quick', 'careful'] as const) {
          const read = readBody(bytes, formatOf(fields, used, true), tier);
          expect(read.problems).toEqual([]);
          expect(read.values).toEqual(rows.flat().map(Number));
        }
      }),
      { numRuns: 1000 },
    );
  });
});

it('a whole file gives the same in pieces as at once, whatever its first bytes', () => {
  const file = fc.tuple(
    fc.constantFrom('', '\ufeff', '# gain_db: 42\n'),
    fc.constantFrom('time_us,a_pct\n', 'time_us;a_pct\n', ''),
    fc.array(fc.tuple(numberText, numberText), { minLength: 1, maxLength: 20 }),
    fc.array(fc.nat(), { maxLength: 5 }),
    fc.constantFrom('utf-8' as const, 'utf-16le' as const),
  );
  fc.assert(
    fc.property(file, ([start, header, rows, edges, encoding]) => {
      const delimiter = header.includes(';') ? ';' : ',';
      const bytes = bytesOf(start + header + rows.map((row) => row.join(delimiter)).join('\n'), encoding);
      expect(
        importPieces(
          bytes,
          edges.map((edge) => edge % bytes.length),
        ),
      ).toEqual(importPieces(bytes, []));
    }),
    { numRuns: 500 },
  );
});
