import { describe, expect, it } from 'vitest';
import { readingColumns } from '../../../core/report/readings-table.ts';
import { columnWidths } from '../../../renderer/procedures/column-widths.ts';
import { reading } from '../../build/series.ts';

const metric = { units: 'metric', decimalMark: '.' } as const;
const inch = { units: 'inch', decimalMark: '.' } as const;
const at = (value: number, standardUncertainty: number) => ({ value, standardUncertainty });

function widthInRem(
  id: string,
  rows: readonly ReturnType<typeof reading>[],
  style: typeof metric | typeof inch = metric,
) {
  const columns = readingColumns(rows, new Map(), style).filter((column) => column.id !== 'capture');
  const widths = columnWidths(columns, rows, new Map(), style, []).split(' ');
  return Number(/[\d.]+(?=rem)/.exec(widths[columns.findIndex((column) => column.id === id)]!)![0]);
}

describe('the width of a column', () => {
  const coarse = reading({ captureId: 'a#1', soundPathMm: at(30.01, 0.42) });
  const fine = reading({ captureId: 'a#2', soundPathMm: at(38.4987, 0.0068) });
  const long = reading({ captureId: 'a#3', soundPathMm: at(1238.4987, 0.0068) });
  it.each([
    // `38.4987 ± 0.0068` has 16 letters, of about 7.3 pixels each.
    ['holds its longest figure', [coarse, fine], 16],
    ['wherever that stands', [fine, coarse, coarse], 16],
    ['however long it is', [coarse, long], 18],
  ])('%s', (_name, rows, letters) => {
    expect(16 * widthInRem('sound-path', rows)).toBeGreaterThanOrEqual(letters * 7.3 + 16);
  });

  it('in inches, where figures have more decimals, is wider', () => {
    expect(widthInRem('sound-path', [fine], inch)).toBeGreaterThan(widthInRem('sound-path', [fine]));
  });

  it('has room for the mark of a doubt', () => {
    const walking = reading({ captureId: 'a#4', soundPathMm: at(38.4987, 0.0068), flags: ['walking'] });
    expect(16 * (widthInRem('sound-path', [walking]) - widthInRem('sound-path', [fine]))).toBeGreaterThanOrEqual(18);
  });
});
