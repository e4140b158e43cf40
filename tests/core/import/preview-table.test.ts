import { describe, expect, it } from 'vitest';
import { importBytes } from '../../../core/import/import-file.ts';
import { type ImportRecipe, inferEverything } from '../../../core/import/import-recipe.ts';
import { previewTable } from '../../../core/import/preview-table.ts';

/** As the import completes it. */
function understood(text: string, recipe: ImportRecipe = inferEverything): ImportRecipe {
  const imported = importBytes('a.csv', new TextEncoder().encode(text), recipe, null);
  if (!imported.ok) throw new Error(imported.problems.map((p) => p.sentence).join(' '));
  return imported.value.recipe;
}

const rows = (count: number, line: (i: number) => string) =>
  Array.from({ length: count }, (_, i) => line(i)).join('\n');

describe('previewTable', () => {
  it('of no lines has nothing in it', () => {
    expect(previewTable([], inferEverything, 5)).toEqual({ preamble: [], columns: [], rows: [] });
  });

  it('columns are labelled by what the import takes them for', () => {
    const text = `# gain_db: 42\ntime_us,note,amplitude_pct\n${rows(40, (i) => `${i * 0.01},x,${i % 7}`)}`;
    const table = previewTable(text.split('\n'), understood(text), 3);
    expect(table.preamble).toEqual([{ text: '# gain_db: 42', number: 1 }]);
    expect(table.columns).toEqual([
      { position: 1, name: 'time_us', meaning: 'time' },
      { position: 2, name: 'note', meaning: 'not-read' },
      { position: 3, name: 'amplitude_pct', meaning: 'amplitude' },
    ]);
    expect(table.rows.map(({ line, cells }) => [line, cells[0], cells[2]])).toEqual([
      [3, '0', '0'],
      [4, '0.01', '1'],
      [5, '0.02', '2'],
    ]);
  });

  it('a file without a header has columns without names', () => {
    const text = rows(40, (i) => `${i * 0.01};${i % 7}`);
    const recipe = understood(text, { ...inferEverything, timeUnit: 'us', amplitudeUnit: 'percent' });
    const table = previewTable(text.split('\n'), recipe, 2);
    expect(table.columns.map(({ name, meaning }) => [name, meaning])).toEqual([
      ['', 'time'],
      ['', 'amplitude'],
    ]);
    expect(table.rows[0]).toEqual({ line: 1, cells: ['0', '0'] });
  });

  it('a column asked for by its name, captures told apart by another', () => {
    const table = previewTable(
      ['shot;distance;signal', '1;0,5;12'],
      {
        ...inferEverything,
        delimiter: ';',
        headerLine: 1,
        axis: 'distance',
        columns: { axis: 'distance', amplitudes: ['signal'], captureId: 1 },
      },
      5,
    );
    expect(table.columns.map((column) => column.meaning)).toEqual(['capture', 'distance', 'amplitude']);
    expect(table.rows[0]?.cells).toEqual(['1', '0,5', '12']);
  });

  it('a line with an open quotation mark stands whole', () => {
    const table = previewTable(['a,b', '"1,2'], { ...inferEverything, delimiter: ',', headerLine: 1 }, 5);
    expect(table.rows[0]?.cells).toEqual(['"1,2']);
  });
});
