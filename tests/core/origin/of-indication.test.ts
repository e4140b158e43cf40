import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { evaluateFiles } from '../../../core/evidence/evaluate-files.ts';
import { type FigureAsked, type IndicationFigure, originOf } from '../../../core/origin.ts';
import { openReview } from '../../../core/review/open-review.ts';
import type { Review } from '../../../core/review/review.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { filesBeside } from '../../../electron/cli/review-files.ts';
import { workOut } from '../../build/arithmetic.ts';

const folder = new URL('../../../sample-data/', import.meta.url).pathname;
function opened(): Review {
  const outcome = openReview('review.json', readFileSync(`${folder}review.json`, 'utf8'));
  if (!outcome.ok) throw new Error('the sample review does not open');
  return { ...outcome.value, drift: null };
}
const review = opened();
const outcome = evaluateFiles(review, filesBeside(`${folder}review.json`));
if (!outcome.ok) throw new Error('the sample review cannot be evaluated');
const { evaluation } = outcome.value;
const ask = (figure: IndicationFigure, name = 'root') =>
  originOf({ kind: 'indication', name, figure }, review, evaluation, metricStyle);

describe('where a figure of an indication comes from', () => {
  it.each(['length', 'low-end', 'high-end', 'sound-path', 'level', 'attenuation-factor', 'rating'] as const)(
    '%s: its formula, worked out as it stands, gives the figure as it stands',
    (figure) => {
      const origin = ask(figure)!;
      expect(origin.formula).not.toBeNull();
      const [formula, result] = origin.formula!.withNumbers.split(' = ');
      const stated = /^-?[\d.]+/.exec(result)![0];
      const decimals = stated.split('.')[1]?.length ?? 0;
      expect(Number(workOut(formula).toFixed(decimals)) + 0, origin.formula!.withNumbers).toBeCloseTo(
        Number(stated),
        9,
      );
      expect(origin.value).toContain(stated);
      expect(origin.title).toContain('root');
    },
  );

  it('each input can be asked in turn, down to the time of the echo and the calibration', () => {
    const walk = (asked: FigureAsked, seen = new Set<string>()): Set<string> => {
      const key = JSON.stringify(asked);
      if (seen.has(key)) return seen;
      seen.add(key);
      const origin = originOf(asked, review, evaluation, metricStyle);
      expect(origin, key).not.toBeNull();
      for (const input of origin!.inputs) if (input.asked !== null) walk(input.asked, seen);
      return seen;
    };
    const seen = walk({ kind: 'indication', name: 'root', figure: 'rating' });
    for (const step of ['"level"', '"attenuation-factor"', '"sound-path"', '"velocity"', '"amplitude"'])
      expect(
        [...seen].some((key) => key.includes(step)),
        step,
      ).toBe(true);
  });

  it('bounds say so: an end beyond the scan, and the length', () => {
    expect(ask('low-end', 'cap edge')!.value).toMatch(/^≤ 0/);
    expect(ask('high-end', 'cap edge')!.value).toMatch(/^≥ 200/);
    expect(ask('length', 'cap edge')!.value).toMatch(/^≥ 200/);
    expect(ask('high-end', 'cap edge')!.source).toMatch(/last position scanned/);
  });

  it('the rating bears its clause and its caution', () => {
    expect(ask('rating')!.source).toMatch(/AWS D1\.1.*Acceptance is by the table of the code in force/);
  });

  it('the capture and the samples are those of the highest echo', () => {
    expect(ask('amplitude')!.capture).toMatchObject({ captureId: 'plate-weld/first-leg.csv#capture_17_pct' });
  });

  it('what is not there (any more) has no origin', () => {
    expect(ask('length', 'nothing of the kind')).toBeNull();
    expect(
      originOf(
        { kind: 'indication', name: 'root', figure: 'length' },
        review,
        { ...evaluation, scan: null },
        metricStyle,
      ),
    ).toBeNull();
  });
});
