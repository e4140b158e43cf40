import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { evaluateFiles } from '../../../core/evidence/evaluate-files.ts';
import { figureTableText } from '../../../core/report/figure-table.ts';
import { indicationColumns } from '../../../core/report/indications-table.ts';
import { csvText } from '../../../core/report/table-text.ts';
import { openReview } from '../../../core/review/open-review.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { filesBeside } from '../../../electron/cli/review-files.ts';

const folder = new URL('../../../sample-data/', import.meta.url).pathname;

function indications() {
  const opened = openReview('review.json', readFileSync(`${folder}review.json`, 'utf8'));
  if (!opened.ok || opened.value.scan === null) throw new Error('the sample review does not open');
  const [first, ...others] = opened.value.scan.indications;
  const hostile = { ...first, name: '=HYPERLINK("http://a.invalid")', notes: '@SUM(A1)' };
  const scan = { ...opened.value.scan, indications: [hostile, ...others] };
  const outcome = evaluateFiles(
    { ...opened.value, drift: null, readings: null, scan },
    filesBeside(`${folder}review.json`),
  );
  if (!outcome.ok) throw new Error('the sample review cannot be evaluated');
  return outcome.value.evaluation.scan!.indications;
}

describe('the table of indications as CSV', () => {
  const rows = indications();
  const columns = indicationColumns(rows, metricStyle);
  const { head, rows: cells } = figureTableText(rows, columns, metricStyle);
  const csv = csvText({ head, rows: cells }, '.');

  it('names and notes that a spreadsheet would run as a formula are guarded', () => {
    expect(csv).toContain(`"'=HYPERLINK(""http://a.invalid"")"`);
    expect(csv).toContain(`'@SUM(A1)`);
    expect(csv).not.toMatch(/(^|,)"?[=@]/m);
  });

  it('a bound says so in a column of its own, so that it is not reckoned with as a figure', () => {
    const at = (name: string) => cells[3][head.indexOf(name)];
    expect(at('Length, bound')).toEqual({ words: 'at least' });
    expect(at('From, bound')).toEqual({ words: 'at most' });
    expect(at('To, bound')).toEqual({ words: 'at least' });
  });

  it('every figure can be asked where it comes from', () => {
    for (const id of [
      'from',
      'to',
      'length',
      'depth',
      'sound-path',
      'amplitude',
      'level',
      'attenuation-factor',
      'rating',
    ])
      expect(columns.find((column) => column.id === id)?.asked(rows[0]), id).toMatchObject({
        kind: 'indication',
        name: rows[0].name,
      });
  });
});
