import { describe, expect, it } from 'vitest';
import { figures } from '../../../core/origin/figure.ts';
import {
  type Bound,
  figureColumn,
  figureTableText,
  filledColumns,
  wordsColumn,
} from '../../../core/report/figure-table.ts';
import { locationColumns, standingOf } from '../../../core/report/location-table.ts';
import { csvText, tabbedText } from '../../../core/report/table-text.ts';
import type { LocatedReading } from '../../../core/steps/locate.ts';
import type { FigureStyle } from '../../../core/units/figure-style.ts';
import type { Quantity } from '../../../core/units/quantity.ts';

const metric: FigureStyle = { units: 'metric', decimalMark: '.' };
const comma: FigureStyle = { units: 'metric', decimalMark: ',' };

interface Row {
  readonly name: string;
  readonly length: Quantity | null;
  readonly bound: Bound;
}
const columns = (style: FigureStyle) => [
  wordsColumn<Row>('name', 'Name', ({ name }) => name),
  figureColumn<Row>(
    'length',
    'Length',
    'mm',
    ({ length }) => (length === null ? null : figures.lengthMm(length, style)),
    {
      bound: ({ bound }) => bound,
      words: ({ length }) => (length === null ? 'no length' : null),
    },
  ),
];
const rows: readonly Row[] = [
  { name: 'root', length: { value: 44.82, standardUncertainty: 0.31 }, bound: null },
  { name: '=end', length: { value: 20, standardUncertainty: null }, bound: 'at-least' },
  { name: 'silent', length: null, bound: null },
];

describe('a table of figures as text', () => {
  it('parts uncertainty and bound from the figure, and leaves what is missing empty', () => {
    expect(tabbedText(figureTableText(rows, columns(metric), metric))).toBe(
      [
        'Name\tLength (mm)\tu of Length (mm)\tLength, bound',
        'root\t44.82\t0.31\t',
        "'=end\t20.00\t\tat least",
        'silent\t\t\t',
        '',
      ].join('\n'),
    );
  });

  it('has semicolons where the decimal mark is a comma', () => {
    expect(csvText(figureTableText(rows.slice(0, 1), columns(comma), comma), ',')).toContain('root;44,82;0,31');
  });

  it('leaves out columns that no row has anything for, but those that always stand', () => {
    const named = (some: readonly Row[]) => filledColumns(columns(metric), some, new Set(['name'])).map(({ id }) => id);
    expect(named([])).toEqual(['name']);
    expect(named(rows.slice(2))).toEqual(['name', 'length']);
  });
});

const located: LocatedReading = {
  captureId: 'weld.csv#12',
  gate: 'root',
  soundPathMm: { value: 30.01, standardUncertainty: 0.12 },
  amplitudePercent: 66,
  place: null,
  without: 'no step of the block is named for this capture',
  probe: null,
  alongWeldMm: null,
  geometry: [],
  taken: null,
  flags: [],
};

describe('what a located reading is', () => {
  it.each([
    ['has no place: the reason', {}, 'no step of the block is named for this capture'],
    ['was taken for geometry', { taken: 'geometry' }, 'geometry'],
    ['was taken for a reflector', { taken: 'reflector' }, 'reflector'],
  ] as const)('%s', (_, given, words) => {
    expect(standingOf({ ...located, ...given })).toBe(words);
  });

  it('each figure asks for its own origin', () => {
    const asked = locationColumns([located], metric).flatMap((column) => column.asked(located) ?? []);
    expect(asked).toContainEqual({ kind: 'location', captureId: 'weld.csv#12', gate: 'root', figure: 'depth' });
    expect(asked).toContainEqual({ kind: 'reading', captureId: 'weld.csv#12', gate: 'root', figure: 'sound-path' });
  });
});
