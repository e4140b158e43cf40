import { describe, expect, it } from 'vitest';
import { alongLine, lineWeights, slopeOf } from '../../../core/linearity/line-definition.ts';
import { fitLine } from '../../../core/statistics/line-fit.ts';

describe('lineWeights', () => {
  const places = [1, 2, 3, 5, 8];
  const times = [2, 4.5, 6, 9, 17];

  it('end points: the line goes through the first and the last', () => {
    const line = alongLine(lineWeights(places, { kind: 'end-points' }), times);
    expect(line[0]).toBeCloseTo(2, 12);
    expect(line[4]).toBeCloseTo(17, 12);
    expect(line[2]).toBeCloseTo(2 + (15 * 2) / 7, 12);
  });

  it('through two: the line goes through them and on beyond', () => {
    const line = alongLine(lineWeights(places, { kind: 'through', first: 1, second: 3 }), times);
    expect(line).toEqual([3, 4.5, 6, 9, 13.5].map((value) => expect.closeTo(value, 12)));
  });

  it('least squares: the line of the fit itself', () => {
    const line = alongLine(lineWeights(places, { kind: 'least-squares' }), times);
    const fit = fitLine(places, times);
    if (!fit.ok) throw new Error('no fit');
    line.forEach((value, i) => {
      expect(value).toBeCloseTo(times[i] - fit.value.residuals[i], 10);
    });
    expect(slopeOf(places, line)).toBeCloseTo(fit.value.slope, 10);
  });

  it('the weights of each place add up to 1: a shift of all times shifts the line', () => {
    for (const kind of ['end-points', 'least-squares'] as const)
      for (const row of lineWeights(places, { kind })) expect(row.reduce((sum, w) => sum + w, 0)).toBeCloseTo(1, 12);
  });
});
