import { describe, expect, it } from 'vitest';
import { evaluate } from '../../../core/evaluate.ts';
import { probeFigureNames } from '../../../core/probe/figures.ts';
import { characteristicsTable } from '../../../core/report/characteristics-table.ts';
import { emptyReview } from '../../../core/review/review.ts';
import { trace } from '../../build/trace.ts';

const captures = ['a', 'b'].map((probe, i) => ({
  ...trace()
    .record(10, 2500)
    .burst({ timeUs: 20, amplitudePercent: i === 0 ? 70 : 0.1, frequencyMHz: 5, bandwidthPercent: 55 })
    .noise(0.2, i + 1)
    .named(`${probe}.csv`)
    .capture(),
  probe,
}));

const probes =
  evaluate(
    {
      ...emptyReview,
      probes: {
        captures: captures.map(({ id }) => id),
        gate: { fromUs: 18, toUs: 22 },
        spectrum: { window: { kind: 'tukey', taper: 0.2 }, padding: 8 },
        elementMm: 10,
        velocityMPerS: 5920,
        probes: [],
        reference: null,
        align: 'cross-correlation',
        normalised: true,
        significance: 0.05,
        decision: 'with-uncertainty',
        rule: null,
      },
    },
    captures,
  ).probes?.probes ?? [];

describe('the table of characteristics as it is copied', () => {
  const { head, rows } = characteristicsTable(probes, { units: 'metric', decimalMark: '.' });
  const rowOf = (title: string) => rows.find(([first]) => first !== null && 'words' in first && first.words === title);

  it('has a row for each figure, and for each probe its value, its uncertainty and what was not measurable', () => {
    expect(head).toEqual([
      'Figure',
      'Unit',
      'a',
      'u of a',
      'not measurable on a',
      'b',
      'u of b',
      'not measurable on b',
    ]);
    expect(rows).toHaveLength(probeFigureNames.length);
    for (const row of rows) expect(row).toHaveLength(head.length);
  });

  it('writes a figure with the digits that its uncertainty bears', () => {
    const [, unit, value, u, why] = rowOf('Centre frequency, ASTM E1065') ?? [];
    expect(unit).toEqual({ words: 'MHz' });
    expect(value).toEqual({ figure: expect.stringMatching(/^(4\.9|5\.0)\d+$/) });
    expect(u).toEqual({ figure: expect.stringMatching(/^0\.0\d+$/) });
    expect(why).toBeNull();
  });

  it('has no figure where the echo is buried, and says so', () => {
    const row = rowOf('Peak frequency') ?? [];
    expect(row.slice(5)).toEqual([null, null, { words: 'buried-in-noise (1)' }]);
  });

  it('follows the person’s units', () => {
    const inch = characteristicsTable(probes, { units: 'inch', decimalMark: ',' }).rows;
    const near =
      inch.find(([first]) => first !== null && 'words' in first && first.words === 'Near-field length') ?? [];
    expect(near[1]).toEqual({ words: 'in' });
    // 10² · 5 / (4 · 5.92) = 21.1 mm = 0.831 in
    expect(near[2]).toEqual({ figure: expect.stringMatching(/^0,83\d+$/) });
  });
});
